"""What does an evening on the desk look like after a step, and how is its night planned?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from typing import TYPE_CHECKING

from axletree.app.state import Desk

if TYPE_CHECKING:
    from axletree.evening.given_up import GivenUp
    from axletree.evening.order.moving import Side
    from axletree.evening.sheet.going_on import ClosedSky
    from axletree.evening.sheet.plan import Planned
    from axletree.evening.stops.findings import FromHere
    from axletree.evening.stops.outcome import OrderQuality
    from axletree.evening.stops.stop import Stop


@dataclass(frozen=True)
class Course:
    """How the evening goes on: the stops to come with their facts, and what was asked for.

    `ticked` are keys shown or skipped here or in the logbook. `stood`: the stop on which the rig
    was last. `own`: the order is the person's; `stay_cut_s`: how much of a longer stay it lacks.
    `tick`: the logbook's row that this step wrote. `here`: what the ways to the stops are reckoned
    with.
    `planned` is the evening as planned, with the hours of this step.
    """

    planned: Planned
    stops: tuple[Stop, ...]
    ticked: frozenset[str] = frozenset()
    stood: tuple[str, Side, datetime] | None = None
    promised: frozenset[str] = frozenset()
    closed: tuple[ClosedSky, ...] = ()
    own: bool = False
    lost: tuple[GivenUp, ...] = ()
    broken: tuple[str, ...] = ()
    stay_cut_s: float = 0.0
    quality: OrderQuality | None = None
    step: str = ""
    tick: str = ""
    here: FromHere | None = None

    def known(self) -> frozenset[str]:
        """Every object that could be shown this night."""
        task = self.planned.task
        return frozenset(w.key for w in task.targets) if task else frozenset()


def plan_night(
    desk: Desk, day: date, now: datetime, session: tuple[time, float] | None = None
) -> Planned:
    """The night with the kit's hours; or with a `session` from a local time on, for hours.

    A session that is asked for knows no stop and no bedtime of the kit. The ways to the stops are
    reckoned with what the log taught of who finds, and with a mount that nobody measured: what was
    measured of it comes in where the evening is told.
    """
    from axletree.evening.sheet.plan import EveningRequest, plan_whole
    from axletree.logbook.found import learned_finding
    from axletree.logbook.own import logbook_to_learn_from, seen_lately
    from axletree.sky.observer import observer_of
    from axletree.stages.night.evening import pointing_of_evening

    kit = desk.kit
    if session is not None:
        asked = {"start": session[0], "hours": session[1], "stop": None, "bedtime": None}
        kit = kit.model_copy(update={"habits": kit.habits.model_copy(update=asked)})
    book = logbook_to_learn_from(demo=desk.demo)
    return plan_whole(
        kit,
        observer_of(kit.site),
        EveningRequest(
            day,
            made_at=now,
            kit_folder=desk.folder,
            seen=seen_lately(book, day, kit.site),
            pointing=pointing_of_evening(kit, None, day, desk.folder),
            learned=learned_finding(kit, book),
        ),
    )
