"""Which nights does somebody look at, and how does each of them begin?

A night is planned when it is first asked for. The run of each stays with the kit that lies on the
desk, the last few of them.
"""

from __future__ import annotations

import threading
from datetime import date, datetime

from axletree.app.night.course import course_of
from axletree.app.night.evening_run import EveningRun
from axletree.app.night.first_look import planned_from_look, refuse_foreign_year
from axletree.app.state import Desk

MOST_RUNS = 8

_PLANNING = threading.Lock()


def run_of(desk: Desk, day: date, now: datetime) -> EveningRun:
    """The run of a night, planned when it is first asked for (one at a time)."""
    refuse_foreign_year(day)
    runs: dict[date, EveningRun] = desk.cached("evening runs", dict)
    run = runs.get(day)
    if run is None:
        with _PLANNING:
            run = runs.get(day)
            if run is None:
                planned = planned_from_look(desk, day, now)
                run = EveningRun(desk, day, (course_of(desk, planned, day),))
                for old in _spare(runs)[: max(0, len(runs) + 1 - MOST_RUNS)]:
                    del runs[old]
                runs[day] = run
    return run


def _spare(runs: dict[date, EveningRun]) -> list[date]:
    """The nights in the order in which they may be forgotten: last those with a step taken, which
    nobody who only looks at other nights may push out."""
    return sorted(runs, key=lambda day: len(runs[day].steps) > 1)
