"""The night in which clocks are put back: a rehearsal's steps follow each other as time passes.

Portugal's clocks go back from 2:00 to 1:00 on 25 October 2026 (directive 2000/84/EC: at 1:00 UTC on
the last Sunday of October).
"""

from __future__ import annotations

import itertools
from datetime import UTC, date, datetime, time, timedelta

import pytest

from axletree.app.answers.night.first import _minute
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.kit.kit import demo_kit
from axletree.sky.observer import observer_of
from axletree.stages.night.rehearsal import RehearsalRequest, rehearsal


@pytest.fixture(scope="module")
def night() -> Planned:
    kit = demo_kit("courtyard")
    habits = {"start": time(0, 40), "hours": 2.0, "stop": None, "bedtime": None, "breaks": ()}
    kit = kit.model_copy(update={"habits": kit.habits.model_copy(update=habits)})
    request = EveningRequest(
        date(2026, 10, 24), made_at=datetime(2026, 10, 1, tzinfo=UTC), effort="quick"
    )
    return plan_whole(kit, observer_of(kit.site), request)


def test_no_step_begins_before_the_one_before_it(night: Planned) -> None:
    evening = night.evening
    whole = rehearsal(RehearsalRequest(evening, evening.stops, night.ground.table))
    offsets = {step.begin.utcoffset() for step in whole.steps}
    assert offsets == {timedelta(0), timedelta(hours=1)}
    spans = [(step.begin.timestamp(), step.end.timestamp()) for step in whole.steps]
    assert all(begin <= end < begin + 7200.0 for begin, end in spans)
    # From stop to stop: the way there ends when the stop begins.
    of_stops = [s for s, step in zip(spans, whole.steps, strict=True) if step.stop is not None]
    assert all(after[0] >= before[0] for before, after in itertools.pairwise(of_stops))


def test_a_first_order_counts_whole_minutes_in_the_hour_that_comes_twice(night: Planned) -> None:
    task = night.task
    assert task is not None
    for seconds in range(0, 7200, 50):
        told = datetime.fromisoformat(_minute(task, float(seconds)))
        away = task.at(float(seconds)).timestamp() - told.timestamp()
        assert 0.0 <= away < 60.0
