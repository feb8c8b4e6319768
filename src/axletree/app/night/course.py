"""What does an evening on the desk look like after a step, and how is its night planned?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time
from typing import TYPE_CHECKING

from axletree.app.mount_notes import left_out, state_of_night
from axletree.app.night.ticks import Row, ticks
from axletree.app.state import Desk
from axletree.kit.frozen import dataclass
from axletree.sky.time.nights import later

if TYPE_CHECKING:
    from axletree.evening.given_up import GivenUp
    from axletree.evening.order.moving import Side
    from axletree.evening.sheet.answer import Prepared
    from axletree.evening.sheet.going_on import ClosedSky
    from axletree.evening.sheet.plan import Planned
    from axletree.evening.stops.findings import FromHere
    from axletree.evening.stops.outcome import OrderQuality
    from axletree.evening.stops.stop import Stop


# Ours: so long after the last planned minute somebody may still be at the last stop.
OVER_AFTER_S = 1800.0


@dataclass(frozen=True)
class Course:
    """How the evening goes on: the stops to come with their facts, and what was asked for.

    `ticked` are keys shown or skipped here or in the logbook. `stood`: the stop on which the rig
    was last. `own`: the order is the person's; `stay_cut_s`: how much of a longer stay it lacks.
    `tick`: the logbook's row that this step wrote. `here`: what the ways to the stops are reckoned
    with.
    `planned` is the evening as planned, with the `hours` of this step (None: the kit's) and the
    room of the axis as it was known. `as_kit`: what was learned is left out of it. `axis_anew`: the
    axis was noted anew since, and the plan was made again with it. `best_from`: from when on the
    rest was planned in the best order with this step; a wait from then on can't be filled.
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
    hours: tuple[time, float] | None = None
    as_kit: bool = False
    axis_anew: bool = False
    best_from: datetime | None = None

    def known(self) -> frozenset[str]:
        """Every object that could be shown this night."""
        task = self.planned.task
        return frozenset(w.key for w in task.targets) if task else frozenset()

    def over_from(self) -> datetime | None:
        """From when on the evening is over, ticked or not; None without a session."""
        session = self.planned.session
        if session is None:
            return None
        ends = (session.end, *(s.end for s in self.stops))
        return later(max(ends, key=datetime.timestamp), OVER_AFTER_S)

    def onto(self, planned: Planned) -> Course:
        """The same with another plan, without what that doesn't know."""
        there = replace(self, planned=planned)
        known = there.known()
        return replace(
            there,
            stops=tuple(s for s in self.stops if s.catalogue_id in known),
            promised=self.promised & known,
            stood=self.stood if self.stood and self.stood[0] in known else None,
        )

    def promises_gone(self, planned: Planned) -> tuple[str, ...]:
        """The names of what was promised and is not known to another plan."""
        known = replace(self, planned=planned).known()
        gone = self.promised - known
        return tuple(s.name for s in self.stops if s.catalogue_id in gone)


def first_course(desk: Desk, day: date, now: datetime) -> Course:
    """The course of a night that nobody changed yet, but for what the logbook says was shown."""
    return course_of(desk, plan_night(desk, day, now), day)


def course_of(desk: Desk, planned: Planned, day: date) -> Course:
    """The course of a planned night that nobody changed yet."""
    ticked = ticked_keys(ticks(day, desk.kit.site))
    return begun_course(planned, ticked, as_kit=left_out(desk))


def ticked_keys(listed: Sequence[Row]) -> frozenset[str]:
    """What the logbook says was shown or skipped."""
    return frozenset(row["catalogue_id"] for row in listed)


def begun_course(planned: Planned, ticked: frozenset[str], *, as_kit: bool) -> Course:
    """The course of a planned night with nothing but these ticks."""
    stops = planned.evening.stops
    promised = frozenset(s.catalogue_id for s in stops if s.promised)
    stood = next(
        (
            (s.catalogue_id, s.chosen.side, s.begin) for s in reversed(stops)
            if s.catalogue_id in ticked
        ),
        None,
    )  # fmt: skip
    return Course(
        planned,
        stops=tuple(s for s in stops if s.catalogue_id not in ticked),
        ticked=ticked, stood=stood, promised=promised - ticked,
        quality=planned.evening.order,
        here=None if planned.task is None else planned.task.here,
        as_kit=as_kit,
    )  # fmt: skip


def plan_night(
    desk: Desk, day: date, now: datetime, session: tuple[time, float] | None = None
) -> Planned:
    """The night with the kit's hours; or with a `session` from a local time on, for hours.

    A session that is asked for knows no stop and no bedtime of the kit. Room is that of the axis
    as the notes have it by `now`; the ways to the stops are reckoned with it too, and with what
    the log taught of who finds.
    """
    from axletree.evening.sheet.plan import plan_prepared

    return plan_prepared(prepare_night(desk, day, now, session))


def prepare_night(
    desk: Desk, day: date, now: datetime, session: tuple[time, float] | None = None
) -> Prepared:
    """The same night before its stops are ordered."""
    from axletree.evening.sheet.plan import EveningRequest, prepare
    from axletree.logbook.found import learned_finding
    from axletree.logbook.own import logbook_to_learn_from, seen_lately
    from axletree.sky.observer import observer_of
    from axletree.stages.night.evening import pointing_of_evening

    kit = desk.kit
    if session is not None:
        asked = {"start": session[0], "hours": session[1], "stop": None, "bedtime": None}
        kit = kit.model_copy(update={"habits": kit.habits.model_copy(update=asked)})
    book = logbook_to_learn_from(demo=desk.demo)
    state = state_of_night(desk, day, now)
    # One kit is planned for many nights: what a night doesn't change is made once.
    ground = desk.cached("ground", dict)
    prepared = prepare(
        kit,
        observer_of(kit.site),
        EveningRequest(
            day,
            made_at=now,
            kit_folder=desk.folder,
            seen=seen_lately(book, day, kit.site, kit.habits),
            state=state,
            pointing=pointing_of_evening(kit, state, day, desk.folder),
            learned=None if left_out(desk) else learned_finding(kit, book),
            ground=ground.get("last"),
        ),
    )
    ground["last"] = prepared.ground
    return prepared
