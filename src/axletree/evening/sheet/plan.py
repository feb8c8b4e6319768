"""How does one kit and one date become the whole evening?

The one way through: night, session, candidates, openings of room on each tube side, order,
stops, set-up answers, the whole answer. Nothing below reads a clock; `made_at` is given.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from enum import Enum
from pathlib import Path

from axletree.axis.model import PointingModel
from axletree.axis.state import State
from axletree.evening.brought.brought import brought_of
from axletree.evening.ground_here import Ground, ground_of
from axletree.evening.hosting.pace import show_seconds
from axletree.evening.night.darkness import NightLight, night_of
from axletree.evening.night.first_light import pole_star_serves, showing_time
from axletree.evening.night.session_grid import coarse_grid
from axletree.evening.night.set_up_pace import (
    own_minutes,
    set_up_minutes,
    unloading_min,
    with_own_minutes,
)
from axletree.evening.night.set_up_times import Hands, Session, finder_begin, session_of
from axletree.evening.objects.choosing import (
    MOST_CANDIDATES,
    Chosen,
    Selection,
    choose_candidates,
    most_candidates,
)
from axletree.evening.objects.tonight import tonight_among
from axletree.evening.order.candidates import Order, OrderedStop, Target
from axletree.evening.order.moving import Handling
from axletree.evening.people.seen_lately import SeenLately
from axletree.evening.seeing.sky_brightness import AssumedSky, sky_state
from axletree.evening.sequence.best import Effort, order_stops
from axletree.evening.sequence.for_people import for_people
from axletree.evening.sheet.answer import EveningAnswer, Prepared, answer_of
from axletree.evening.sheet.set_up import SetUpTimes, set_up_answer
from axletree.evening.sheet.sure_order import surely_ordered
from axletree.evening.special.crossings import crossings_tonight
from axletree.evening.special.of_kit import special_tonight
from axletree.evening.stops.findings import FromHere
from axletree.evening.stops.placing import task_of
from axletree.evening.stops.windows import OrderTask
from axletree.find.practice.learned import LearnedFinding
from axletree.ground.skyline.of_site import site_horizon
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.learned.learn import learned_rig
from axletree.pole.aim.visible import sun_depression_for
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR
from axletree.sky.time.nights import Night, later


@dataclass(frozen=True)
class Planned:
    """An evening with what it was made from; the last three are None without a session."""

    evening: EveningAnswer
    ground: Ground
    session: Session | None
    chosen: Chosen | None
    task: OrderTask | None


@dataclass(frozen=True)
class EveningRequest:
    """The evening of `day`, a date in the years of the planets, as it is asked for at `made_at`.

    `minutes_per_stop` is the time at the eyepiece; otherwise what `hosting.pace` says.
    `promised` are names that must be seen besides the kit's.
    `own` are objects to think of besides the kit's list, `own_file` is a list to
    read instead of it, `seen` was shown lately. At most `most` objects are
    thought of, more in a long night.
    `state`: what is known of the mount; room is that of its axes. `pointing`: with which errors of
    it the circles are told and the ways to the stops are reckoned; None: circles by the state, and
    no ways. `learned`: what a log taught of how this person finds and sets up. `ground`: of
    another night of this kit, for what a night doesn't change.
    """

    day: date
    made_at: datetime
    minutes_per_stop: float | None = None
    kit_folder: Path | None = None
    own: Sequence[SkyObject] = ()
    own_file: Path | None = None
    seen: SeenLately | None = None
    effort: Effort = "auto"
    most: int = MOST_CANDIDATES
    state: State | None = None
    pointing: PointingModel | None = None
    learned: LearnedFinding | None = None
    promised: Sequence[str] = ()
    ground: Ground | None = None

    @property
    def model(self) -> PointingModel | None:
        """By what the circles are told."""
        return self.pointing or (None if self.state is None else self.state.pointing)


class PlanStep(Enum):
    """What of a plan begins."""

    NIGHT = "night"
    ROOM = "room"
    SET_UP = "set_up"
    OBJECTS = "objects"
    ORDER = "order"


def _silent(step: PlanStep) -> None:
    """Nobody is told what begins."""


def plan_evening(kit: Kit, observer: Observer, request: EveningRequest) -> EveningAnswer:
    """The evening at the kit's site. Dates outside the years of the planets are refused."""
    return plan_whole(kit, observer, request).evening


def plan_whole(
    kit: Kit,
    observer: Observer,
    request: EveningRequest,
    progress: Callable[[PlanStep], None] = _silent,
) -> Planned:
    """The evening as `plan_evening` gives it, with its ground, session and candidates.

    `progress` is told what begins.
    """
    prepared = prepare(kit, observer, request, progress)
    if prepared.task is not None:
        progress(PlanStep.ORDER)
    return plan_prepared(prepared, request.effort)


def first_order(prepared: Prepared) -> tuple[OrderedStop, ...]:
    """A first order of a night, in some hundredths of a second, while the better one is sought; how
    sure it is that nothing touches isn't asked yet."""
    task = prepared.task
    if task is None:
        return ()
    return order_stops(task.targets, task.span, task.handling, effort="rough", reasons=False).stops


def plan_prepared(prepared: Prepared, asked: Effort = "auto") -> Planned:
    """The evening of what was prepared, its stops in the best order that this effort finds."""
    order: Order | None = None
    if prepared.task is not None:
        task = prepared.task

        def ordered(targets: tuple[Target, ...], effort: Effort) -> Order:
            # Rough ones are made only to find what is to be barred.
            last = effort == asked
            made = order_stops(targets, task.span, task.handling, effort=effort, reasons=last)
            return for_people(made, targets, task.span, task.handling) if last else made

        order, sure = surely_ordered(
            prepared.kit, prepared.observer, prepared.ground, task, ordered, asked
        )
        prepared = replace(prepared, task=sure)
    return planned_of(prepared, order)


def planned_of(prepared: Prepared, order: Order | None) -> Planned:
    """The evening with its stops in this order; None where there is no session."""
    return Planned(
        answer_of(prepared, order), prepared.ground, prepared.session, prepared.chosen,
        prepared.task,
    )  # fmt: skip


def prepare(
    kit: Kit,
    observer: Observer,
    request: EveningRequest,
    progress: Callable[[PlanStep], None] = _silent,
) -> Prepared:
    """Everything of an evening but the order of its stops."""
    day, folder = request.day, request.kit_folder
    learned = learned_rig(kit, request.state)
    kit = kit if learned is None else learned.kit
    noted = own_minutes(kit, request.learned)
    kit = with_own_minutes(kit, noted)
    refuse_unknown_day(day)
    progress(PlanStep.NIGHT)
    night = Night.of(day, kit.site.time_zone)
    dark = night_of(night, observer, sun_depression_for(kit.site.north, kit.mount.polar_scope.kind))
    horizon = site_horizon(kit.site, folder, later(night.start, timedelta(hours=12)))
    serves = pole_star_serves(kit, observer, horizon)
    if not serves:
        dark = replace(dark, pole_star_visible=None)
    session = _session(kit, observer, night, dark, horizon, serves)
    around = session.first_stop if session else later(night.start, timedelta(hours=12))
    mine = brought_of(kit, folder, around, file=request.own_file)
    progress(PlanStep.ROOM)
    known = None if request.state is None else request.state.pointing
    ground = ground_of(kit, observer, around, folder, horizon, known, request.ground)
    progress(PlanStep.SET_UP)
    pole_at = (
        later(session.aligned, -timedelta(minutes=session.by_stars_min)) if session else around
    )
    times = SetUpTimes(around, finder_begin(session) if session else around, pole_at)
    set_up = set_up_answer(kit, observer, times, horizon=ground.horizon, table=ground.table)
    crossings = None
    if session is not None:
        crossings = crossings_tonight(kit, observer, session, horizon, folder)
    show_s = show_seconds(kit, request.minutes_per_stop)
    assumed_sky: tuple[AssumedSky, ...] = ()
    chosen, task = None, None
    special = special_tonight(kit, observer, day)
    if session is not None:
        progress(PlanStep.OBJECTS)
        coarse = coarse_grid(session)
        sky = sky_state(kit, observer, coarse)
        tonight = tonight_among(observer, session.first_stop, session.end, special)
        chosen = choose_candidates(
            kit, observer, coarse, sky,
            Selection(
                [*request.own, *mine.objects],
                frozenset() if request.seen is None else request.seen.keys,
                most_candidates(session.hours, request.most),
                tonight, request.promised,
            ),
            ground.horizon.altitude_at,
        )  # fmt: skip
        assumed_sky = tuple(sky.assumed)
        task = task_of(kit, observer, session, ground.table, chosen, show_s, tonight)
        chosen = task.chosen
        here = None
        if request.pointing is not None:
            here = FromHere(request.pointing, ground.horizon, request.learned)
        handling = _handling(task.handling, request.learned)
        task = replace(
            task, model=request.model, here=here, handling=handling, sunrise=dark.sunrise
        )
    return Prepared(
        kit=kit,
        observer=observer,
        day=day,
        made_at=request.made_at,
        darkness=dark,
        around=around,
        ground=ground,
        set_up=set_up,
        session=session,
        chosen=chosen,
        task=task,
        stop_min=show_s / 60.0,
        assumed_sky=assumed_sky,
        seen=request.seen,
        broken_rows=(*mine.broken, *(() if crossings is None else crossings.broken)),
        special=special,
        state=request.state,
        pointing=request.model,
        crossings=crossings,
        rig_learned=learned,
        own_minutes=noted,
    )


def _session(
    kit: Kit, observer: Observer, night: Night, dark: NightLight, horizon: Horizon, serves: bool
) -> Session | None:
    """The pole star is waited for where it `serves`, unless the hours are over before."""
    hands = Hands(set_up_minutes(kit), unloading_min(kit))
    for by_star in dict.fromkeys((serves, False)):
        showing = showing_time(kit, observer, night, horizon, star_serves=by_star)
        session = session_of(
            dark, showing.intervals, kit.habits, kit.tube.cool_down_min,
            by_star=showing.by_star, star_at=showing.star_at, hands=hands,
        )  # fmt: skip
        if session is not None:
            return session
    return None


def _handling(handling: Handling, learned: LearnedFinding | None) -> Handling:
    """The handling with the time that finding takes this person."""
    took = None if learned is None else learned.seconds_to_find(handling.find_s)
    return handling if took is None else replace(handling, find_factor=took[0] / handling.find_s)


def refuse_unknown_day(day: date, where: str = "--date") -> None:
    """Refuse dates that the planets' kernel does not hold; `where` the date was written."""
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise AxletreeError(
            f"{where} {day}: the planets are known from {FIRST_YEAR} to {LAST_YEAR} only"
        )
