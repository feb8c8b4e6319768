"""What is an evening, in figures? One frozen answer from which everything is told."""

from __future__ import annotations

from datetime import date, datetime
from enum import Enum

from axletree.axis.model import PointingModel
from axletree.axis.state import State
from axletree.evening.brought.own_objects import BrokenRow
from axletree.evening.given_up import GivenUp
from axletree.evening.ground_here import Ground
from axletree.evening.hosting.pace import people_at
from axletree.evening.night.darkness import ClockChange, NightLight, clock_change
from axletree.evening.night.set_up_pace import OwnMinutes
from axletree.evening.night.set_up_times import (
    BY_STARS,
    FINDER,
    Session,
    StageTime,
    stage_times,
)
from axletree.evening.objects.choosing import Chosen
from axletree.evening.order.candidates import Order
from axletree.evening.people.children import (
    ChildrensPart,
    children_leave,
    needs_patience,
)
from axletree.evening.people.seen_lately import SeenLately
from axletree.evening.seeing.sky_brightness import AssumedSky
from axletree.evening.sheet.brought_back import BroughtBack, brought_back
from axletree.evening.sheet.set_up import SetUpAnswer
from axletree.evening.sheet.sure_rooms import with_sure_rooms
from axletree.evening.special.crossings import CrossingsTonight
from axletree.evening.stops.outcome import NO_SESSION, OrderQuality, given_up, order_quality
from axletree.evening.stops.placing import stops_from
from axletree.evening.stops.ring_advice import RingTurnAdvice, ring_advice
from axletree.evening.stops.stop import Stop
from axletree.evening.stops.tonight import told_of
from axletree.evening.stops.windows import OrderTask
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Habits
from axletree.mount.learned.learn import LearnedRig
from axletree.mount.sure.measure_first import MeasureFirst, measure_first
from axletree.sky.happenings.kinds import Happening
from axletree.sky.observer import Observer
from axletree.sky.special.kinds import SpecialNight
from axletree.sky.time.earth_rotation import RotationDoubt
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night


class EveningCaution(Enum):
    """What the person has to keep in mind all evening."""

    SUN = "sun"
    WEIGHTS_AND_TUBE = "weights_and_tube"
    FEET_AND_CORDS = "feet_and_cords"
    VISITORS = "visitors"
    LASERS = "lasers"


MEASURE_TONIGHT = 2  # dimensions named on the run sheet


@dataclass(frozen=True)
class EveningAnswer:
    """The whole evening of `day` for a kit at its site.

    `stages` and `stops` are () and `session` is None where it does not get dark within the hours.
    Assumed were `stop_min` minutes at each stop, what `assumed_sky` says, and that what was `seen`
    lately counts less. To be noted: `rotation_doubts`, `clocks` put forward or back in this night,
    and rows of the person's own list that could not be used. `state`: what is known of the mount
    by notes. `pointing`: by which the circles at the stops are told; None: as on a perfect mount.
    `measure_first`: which dimensions would make the stops' rooms surer.
    `brings_back`: which would let in what lost its stop since something may touch, None for none.
    `happenings`: what begins or ends in the session on the Moon and planets that have a stop.
    `special`: what the sky has on this evening. `crossings`: of the satellites that the kit names
    in a file; None without one, or without a session. `children`: None where the kit names no end
    of their evening. `rig_learned`: what notes of gaps taught of the rig, None without any.
    `own_minutes`: how long setting up and taking down take by notes of earlier evenings.
    """

    kit: Kit
    observer: Observer
    day: date
    made_at: datetime
    darkness: NightLight
    session: Session | None
    set_up: SetUpAnswer
    horizon: Horizon
    stages: tuple[StageTime, ...]
    stops: tuple[Stop, ...]
    ring_turn: RingTurnAdvice | None
    order: OrderQuality
    given_up: tuple[GivenUp, ...]
    cautions: tuple[EveningCaution, ...]
    stop_min: float
    assumed_sky: tuple[AssumedSky, ...]
    seen: SeenLately | None
    rotation_doubts: tuple[RotationDoubt, ...]
    clocks: ClockChange | None
    broken_rows: tuple[BrokenRow, ...]
    state: State | None = None
    pointing: PointingModel | None = None
    happenings: tuple[Happening, ...] = ()
    measure_first: tuple[MeasureFirst, ...] = ()
    brings_back: BroughtBack | None = None
    special: tuple[SpecialNight, ...] = ()
    crossings: CrossingsTonight | None = None
    children: ChildrensPart | None = None
    rig_learned: LearnedRig | None = None
    own_minutes: tuple[OwnMinutes, ...] = ()


@dataclass(frozen=True)
class Prepared:
    """All of an evening but its order; `around` is the moment that its set-up answers are for.

    Without a session there are no candidates and nothing to show.
    """

    kit: Kit
    observer: Observer
    day: date
    made_at: datetime
    darkness: NightLight
    around: datetime
    ground: Ground
    set_up: SetUpAnswer
    session: Session | None
    chosen: Chosen | None
    task: OrderTask | None
    stop_min: float
    assumed_sky: tuple[AssumedSky, ...]
    seen: SeenLately | None
    broken_rows: tuple[BrokenRow, ...]
    special: tuple[SpecialNight, ...]
    state: State | None = None
    pointing: PointingModel | None = None
    crossings: CrossingsTonight | None = None
    rig_learned: LearnedRig | None = None
    own_minutes: tuple[OwnMinutes, ...] = ()


def answer_of(prepared: Prepared, order: Order | None) -> EveningAnswer:
    """The answer with the stops of this order; None where there is no session."""
    p, kit, observer = prepared, prepared.kit, prepared.observer
    stops: tuple[Stop, ...] = ()
    left: list[GivenUp] = []
    quality, back = NO_SESSION, None
    if p.task is not None and order is not None:
        stops = stops_from(kit, observer, p.ground.table, p.task, order.stops)
        stops = with_sure_rooms(p.ground, observer, stops)
        quality, left = order_quality(p.task, order), given_up(p.task, order)
        back = brought_back(kit, observer, p.ground, p.task, order)
    stages: tuple[StageTime, ...] = ()
    if p.session is not None:
        without = (*(() if p.set_up.finder else (FINDER,)), *_for_nothing(p.session, stops))
        stages = stage_times(p.session, p.darkness, kit.tube.cool_down_min, without)
    return EveningAnswer(
        kit=kit,
        observer=observer,
        day=p.day,
        made_at=p.made_at,
        darkness=p.darkness,
        session=p.session,
        set_up=p.set_up,
        horizon=p.ground.horizon,
        stages=stages,
        stops=stops,
        ring_turn=ring_advice(kit, p.ground.table, stops),
        order=quality,
        given_up=tuple(left),
        cautions=_cautions(kit),
        stop_min=p.stop_min,
        assumed_sky=p.assumed_sky,
        seen=p.seen,
        rotation_doubts=tuple(Instants.from_datetime(p.around).doubts),
        clocks=clock_change(Night.of(p.day, kit.site.time_zone)),
        broken_rows=p.broken_rows,
        state=p.state,
        pointing=p.pointing,
        happenings=() if p.task is None else _at_stops(p.task, stops),
        measure_first=_measured_first(p.ground, stops),
        brings_back=back,
        crossings=p.crossings,
        children=None if p.session is None else childrens_part(kit.habits, p.session, stops),
        special=p.special,
        rig_learned=p.rig_learned,
        own_minutes=p.own_minutes,
    )


def _for_nothing(session: Session, stops: tuple[Stop, ...]) -> tuple[str, ...]:
    """The axis is not set between two stops where none comes after it."""
    between = session.set_between
    if between is None or not stops or stops[-1].begin.timestamp() >= between[0].timestamp():
        return ()
    return BY_STARS


def childrens_part(
    habits: Habits, session: Session, stops: tuple[Stop, ...]
) -> ChildrensPart | None:  # fmt: skip
    """The children's part of these stops; None where the kit names no end of their evening."""
    leave = children_leave(habits, session)
    if leave is None:
        return None
    before = [stop for stop in stops if stop.end.timestamp() <= leave.timestamp()]
    later = tuple(s.name for s in stops if s not in before and needs_patience(s.candidate))
    return ChildrensPart(leave, len(before), later)


def _measured_first(ground: Ground, stops: tuple[Stop, ...]) -> tuple[MeasureFirst, ...]:
    doubts = [stop.chosen.doubt for stop in stops if stop.chosen.doubt is not None]
    return measure_first(ground.spread, doubts, most=MEASURE_TONIGHT)


def _at_stops(task: OrderTask, stops: tuple[Stop, ...]) -> tuple[Happening, ...]:
    shown = {stop.catalogue_id for stop in stops}
    return told_of(task.tonight, shown)


def _cautions(kit: Kit) -> tuple[EveningCaution, ...]:
    """The cautions that apply to this kit and audience."""
    visitors = (EveningCaution.VISITORS,) if people_at(kit.habits) else ()
    return (
        EveningCaution.SUN,
        EveningCaution.WEIGHTS_AND_TUBE,
        EveningCaution.FEET_AND_CORDS,
        *visitors,
        EveningCaution.LASERS,
    )
