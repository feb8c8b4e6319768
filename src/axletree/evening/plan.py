"""How does one kit and one date become the whole evening?

The one way through: night, session, candidates, openings of room on each tube side, order,
stops, set-up answers, document. Nothing below reads a clock; `made_at` is given.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from axletree.evening import order as ordering
from axletree.evening import setup
from axletree.evening.choosing import Chosen, choose_candidates
from axletree.evening.document import Evening, GivenUp, OrderFacts, Place, Rig, Stop
from axletree.evening.moving import Side, handling_of
from axletree.evening.night import FIRST_STARS_DEG, night_of
from axletree.evening.openings import OpenTable, open_spans
from axletree.evening.order import Opening, Order, Wish
from axletree.evening.order_reasons import left_out_words
from axletree.evening.ring_advice import ring_advice
from axletree.evening.sky_state import SkyState, sky_state
from axletree.evening.stages import Session, at_clock, seconds_between, session_of, stages_of
from axletree.evening.stops import StopPlan, stops_of
from axletree.ground.magnetism import magnetic_field
from axletree.ground.skyline import Horizon
from axletree.ground.skyline_file import horizon_of
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.eyepiece import eye_place
from axletree.mount.kinematics import align, axis_angles
from axletree.mount.rig import build_rig
from axletree.mount.room import CONTACT, STOP, RoomTable, room_table
from axletree.pole.target import pole_target
from axletree.sky.catalogue import SkyObject
from axletree.sky.events import darkness
from axletree.sky.nights import Night
from axletree.sky.object_positions import object_positions
from axletree.sky.observer import Observer
from axletree.sky.positions import Positions
from axletree.sky.time import Instants

Floats = NDArray[np.float64]

COARSE_STEP_S = 1200.0
FINE_STEP_S = 240.0
# A stop that begins with the weights above the tube has to be worth this much more (ours).
WEIGHTS_UP_POINTS = 6.0
LEAST_STOP_MIN = 4.0
USUAL_STOP_MIN = 12.0


@dataclass(frozen=True)
class Ground:
    """What the spot gives: the skyline and the rig's room under it."""

    horizon: Horizon
    table: RoomTable


def ground_of(kit: Kit, observer: Observer, at: datetime, folder: Path | None = None) -> Ground:
    """Skyline and room table of a kit, with the axis on the refracted pole."""
    declination: float | None = None
    if kit.site.skyline.bearings == "magnetic":
        site = kit.site
        field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
        declination = field.declination_deg
    horizon = horizon_of(kit.site.skyline, folder, declination)
    target = pole_target(observer)
    axes = align(kit.site.latitude_deg, pole_altitude_deg=target.altitude_deg)
    table = room_table(
        kit, rig=build_rig(kit), axes=axes, skyline=horizon.altitude_at, observer=observer
    )
    return Ground(horizon, table)


@dataclass(frozen=True)
class Planned:
    """An evening with what it was made from; `session` and `chosen` are None without a session."""

    evening: Evening
    ground: Ground
    session: Session | None
    chosen: Chosen | None


def plan_evening(
    kit: Kit,
    observer: Observer,
    day: date,
    *,
    made_at: datetime,
    minutes_per_stop: float | None = None,
    folder: Path | None = None,
    own: Sequence[SkyObject] = (),
    seen_ids: frozenset[str] = frozenset(),
    effort: ordering.Effort = "auto",
) -> Evening:
    """The evening of `day` at the kit's site.

    `minutes_per_stop` is the time at the eyepiece; otherwise visitors times seconds each, or
    twelve minutes. Dates outside 2020-2049 are refused.
    """
    return plan_whole(
        kit, observer, day, made_at=made_at, minutes_per_stop=minutes_per_stop, folder=folder,
        own=own, seen_ids=seen_ids, effort=effort,
    ).evening  # fmt: skip


def plan_whole(
    kit: Kit,
    observer: Observer,
    day: date,
    *,
    made_at: datetime,
    minutes_per_stop: float | None = None,
    folder: Path | None = None,
    own: Sequence[SkyObject] = (),
    seen_ids: frozenset[str] = frozenset(),
    effort: ordering.Effort = "auto",
    progress: Callable[[str], None] = lambda words: None,
) -> Planned:
    """The evening as `plan_evening` gives it, with its ground, session and candidates.

    `progress` is told, in words, what begins.
    """
    refuse_unknown_day(day)
    progress("the night")
    night = Night.of(day, kit.site.time_zone)
    dark = night_of(night, observer)
    intervals = darkness(night, observer, FIRST_STARS_DEG).intervals
    session = session_of(dark, intervals, kit.habits, kit.tube.cool_down_min)
    around = session.first_stop if session else night.start + timedelta(hours=12)
    progress("room on both tube sides")
    ground = ground_of(kit, observer, around, folder)
    progress("north, pole, balance")
    north = setup.north_answer(kit, around)
    pole_at = session.aligned - timedelta(minutes=15) if session else around
    pole = setup.pole_answer(kit, observer, pole_at, ground.horizon)
    balance = setup.balance_answer(kit)
    words = setup.words_of(kit, north, pole, balance, ground.horizon)
    show_s = show_seconds(kit, minutes_per_stop)
    stops: tuple[Stop, ...] = ()
    given_up: list[GivenUp] = []
    facts = OrderFacts(method="none", proven_best=True, gap_percent=0.0, words=_no_session(kit))
    assumed = [f"{show_s / 60:.0f} minutes at each stop"]
    chosen: Chosen | None = None
    if session is not None:
        progress("objects worth a stop")
        chosen, sky = _candidates(kit, observer, session, ground, own, seen_ids)
        assumed += sky.assumed
        progress("the order of the stops")
        stops, facts, given_up = _stops(
            kit, observer, session, ground, chosen, show_s, effort=effort
        )
    turn = ring_advice(kit, ground.table, stops)
    if turn is not None:
        answer, details, cautions = words["balance"]
        words["balance"] = (answer, (*details, turn.words), cautions)
    evening = Evening(
        date=day,
        made_at=made_at,
        place=_place(kit, observer),
        rig=_rig(kit),
        units=kit.habits.units,
        visitors=kit.habits.visitors,
        darkness=dark,
        north=north,
        pole=pole,
        balance=balance,
        follow=setup.follow_answer(kit),
        ring_turn=turn,
        stages=stages_of(session, dark, words, kit.tube.cool_down_min) if session else (),
        stops=stops,
        order=facts,
        given_up=tuple(given_up),
        assumptions=tuple(assumed),
        cautions=_cautions(kit, session is not None),
        notes=_notes(observer, around, ground.horizon, session),
    )
    return Planned(evening, ground, session, chosen)


def show_seconds(kit: Kit, minutes_per_stop: float | None = None) -> float:
    """Time at the eyepiece of one stop: as asked, or visitors times seconds, or the usual."""
    habits = kit.habits
    if minutes_per_stop is not None:
        return minutes_per_stop * 60.0
    if habits.minutes_per_stop is not None:
        return habits.minutes_per_stop * 60.0
    if habits.visitors:
        return max(habits.visitors * habits.seconds_per_visitor, LEAST_STOP_MIN * 60.0)
    return USUAL_STOP_MIN * 60.0


def _no_session(kit: Kit) -> str:
    return (
        f"no stops: the Sun does not sink {FIRST_STARS_DEG:.0f}° below the horizon within the "
        "hours you chose."
    )


def _candidates(
    kit: Kit, observer: Observer, session: Session, ground: Ground, own: Sequence[SkyObject],
    seen_ids: frozenset[str],
) -> tuple[Chosen, SkyState]:  # fmt: skip
    coarse = _grid(session, COARSE_STEP_S)
    sky = sky_state(kit, observer, coarse)
    chosen = choose_candidates(
        kit, observer, coarse, sky, own=own, seen_ids=seen_ids, skyline=ground.horizon.altitude_at
    )
    return chosen, sky


def _grid(session: Session, step_s: float) -> Instants:
    length = seconds_between(session.first_stop, session.end)
    count = max(2, int(np.ceil(length / step_s)) + 1)
    return Instants.grid(session.first_stop, count=count, step_s=length / (count - 1))


def _stops(
    kit: Kit, observer: Observer, session: Session, ground: Ground, chosen: Chosen,
    show_s: float, *, effort: ordering.Effort,
) -> tuple[tuple[Stop, ...], OrderFacts, list[GivenUp]]:  # fmt: skip
    fine = _grid(session, FINE_STEP_S)
    seconds = fine.seconds_since(fine[0])
    coarse = _grid(session, COARSE_STEP_S)
    things = [c.thing for c in chosen.candidates]
    tracks = object_positions(things, fine, observer)
    shows = _shows_between(chosen.shows, coarse.seconds_since(coarse[0]), seconds)
    open_table = open_spans(
        ground.table, seconds, tracks.hour_angle_h, tracks.declination_deg, shows
    )
    wishes = [
        _wish(kit, ground, chosen, k, tracks, seconds, open_table, show_s)
        for k in range(len(things))
    ]
    breaks = tuple(
        (start, start + b.minutes * 60.0)
        for b in kit.habits.breaks
        if (start := seconds_between(session.first_stop, at_clock(session.first_stop, b.at))) >= 0
    )
    order = ordering.order_stops(
        wishes,
        ordering.Session(0.0, float(seconds[-1]), breaks, north=kit.site.north),
        handling_of(kit),
        effort=effort,
    )
    plans = _plans(chosen, order, session, show_s)
    begins = object_positions(
        [p.thing for p in plans], Instants.from_datetimes([p.begin for p in plans]), observer
    ) if plans else None  # fmt: skip
    ends = object_positions(
        [p.thing for p in plans], Instants.from_datetimes([p.end for p in plans]), observer
    ) if plans else None  # fmt: skip
    stops = stops_of(kit, observer, ground.table, plans, begins, ends) if begins and ends else ()
    given = [GivenUp(name=name, reason=reason) for name, reason in chosen.left_out]
    names = {c.thing.catalogue_id: c.thing.name for c in chosen.candidates}
    given += [
        GivenUp(name=names[left.key], reason=_left_words(left, names, open_table, chosen))
        for left in order.left_out
    ]
    return stops, _facts(order, session), given


def _shows_between(
    shows: NDArray[np.bool_], coarse_s: Floats, fine_s: Floats
) -> NDArray[np.bool_]:
    """Coarse marks carried to a finer grid: a span counts where both its ends do."""
    right = np.clip(np.searchsorted(coarse_s, fine_s, side="left"), 0, len(coarse_s) - 1)
    left = np.clip(np.searchsorted(coarse_s, fine_s, side="right") - 1, 0, len(coarse_s) - 1)
    return np.asarray(shows[:, left] & shows[:, right])


def _wish(
    kit: Kit, ground: Ground, chosen: Chosen, k: int, tracks: Positions, seconds: Floats,
    open_table: OpenTable, show_s: float,
) -> Wish:  # fmt: skip
    candidate = chosen.candidates[k]
    openings: list[Opening] = []
    soonest_end = np.inf
    for span in open_table.of(k):
        side: Side = "east" if span.side == "east" else "west"
        if span.level_s > span.begin_s:
            end = min(span.end_s, span.level_s + show_s)
            openings.append(Opening(side, span.begin_s, end))
        if span.level_s < span.end_s:
            up_from = max(span.begin_s, span.level_s)
            openings.append(Opening(side, up_from, span.end_s, -WEIGHTS_UP_POINTS))
        soonest_end = min(soonest_end, span.end_s)
    last = max((o.end_s for o in openings), default=0.0)
    sets_soon = last < seconds[-1] - 60.0
    middle = len(seconds) // 2
    heights = _heights(kit, ground, float(tracks.hour_angle_h[k, middle]),
                       float(tracks.declination_deg[k, middle]))  # fmt: skip
    return Wish(
        key=candidate.thing.catalogue_id,
        value=candidate.value,
        show_s=show_s,
        openings=tuple(openings),
        right_ascension_h=float(tracks.right_ascension_h[k, middle]),
        declination_deg=float(tracks.declination_deg[k, middle]),
        eyepiece=candidate.eyepiece,
        eye_height_mm=heights,
        urgency_points_per_h=2.0 if sets_soon else 0.0,
        must=candidate.must,
    )


def _heights(
    kit: Kit, ground: Ground, hour_angle_h: float, declination_deg: float
) -> tuple[float | None, float | None]:
    """Eyepiece heights (mm) with the tube east and west, for the order's stool."""
    table, habits = ground.table, kit.habits
    angles = axis_angles(table.axes, np.array([1, -1]), hour_angle_h, declination_deg)
    eye = eye_place(
        table.rig, table.axes, *angles, (habits.eye_height_min_mm, habits.eye_height_max_mm)
    )
    return float(eye.height_m[0]) * 1000.0, float(eye.height_m[1]) * 1000.0


def _plans(
    chosen: Chosen, order: Order, session: Session, show_s: float
) -> list[StopPlan]:
    by_key = {c.thing.catalogue_id: c for c in chosen.candidates}
    plans = []
    for stop in order.stops:
        candidate = by_key[stop.key]
        plans.append(
            StopPlan(
                thing=candidate.thing,
                side=stop.side,
                begin=_at(session, stop.start_s),
                end=_at(session, stop.end_s),
                queue_s=show_s,
                eyepiece=candidate.eyepiece,
                visibility=candidate.sight,
                margin_mag=candidate.margin_mag if np.isfinite(candidate.margin_mag) else None,
                why=candidate.why,
                promised=candidate.must,
            )
        )
    return plans


def _at(session: Session, seconds: float) -> datetime:
    """A moment of the session, counted as time passes, not as the wall clock shows it."""
    start = session.first_stop
    passed = start.timestamp() + round(seconds)
    return datetime.fromtimestamp(passed, start.tzinfo)


def _left_words(
    left: object, names: dict[str, str], open_table: OpenTable, chosen: Chosen
) -> str:
    from axletree.evening.order_reasons import LeftOut

    assert isinstance(left, LeftOut)
    keys = [c.thing.catalogue_id for c in chosen.candidates]
    code = int(open_table.closed_by[keys.index(left.key)])
    if code == CONTACT:
        return "the tube would meet the mount on both sides"
    if code == STOP:
        return "the mount's travel stop is in the way"
    return left_out_words(left, lambda key: names.get(key, key))


def _facts(order: Order, session: Session) -> OrderFacts:
    if order.proven_best:
        words = "no other order of these objects is worth more (proven)."
    else:
        words = f"at most {order.gap * 100:.1f} % below the best possible order."
    if not order.stops:
        words = "nothing could be ordered."
    return OrderFacts(
        method=order.method,
        proven_best=order.proven_best,
        gap_percent=round(order.gap * 100.0, 2),
        words=f"{words} The session ends with {session.ended_by}.",
    )


def _place(kit: Kit, observer: Observer) -> Place:
    site = kit.site
    return Place(
        name=site.name,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
        time_zone=site.time_zone,
        elevated_pole="north" if site.north else "south",
        pressure_hpa=observer.air_pressure_hpa,
        temperature_c=observer.air_temperature_c,
    )


def _rig(kit: Kit) -> Rig:
    return Rig(
        kit_name=kit.name,
        mount=kit.mount.name,
        motion=kit.mount.motion,
        tube=kit.tube.name,
        tube_kind=kit.tube.kind,
        aperture_mm=kit.tube.aperture_mm,
        focal_length_mm=kit.tube.focal_length_mm,
        guessed=kit.guessed,
    )


def _cautions(kit: Kit, any_stops: bool) -> tuple[str, ...]:
    """The cautions that apply to this kit and audience."""
    said = [
        "The Sun: caps on until it has set. No stop comes within "
        f"{kit.habits.sun_distance_deg:.0f}° of it while it is up.",
        "Weights on before the tube, tube off before the weights. Hold the tube while a lock is "
        "open.",
        "Mark the tripod's feet and keep cords off the ground where people walk in the dark.",
    ]
    if kit.habits.visitors:
        said.append(
            "Visitors: the organiser's safety rules, permits and local codes come first. Nobody "
            "leans on the tube or the tripod."
        )
    said.append("Pointing lasers: only where local law allows, and never near aircraft.")
    return tuple(said)


def _notes(
    observer: Observer, around: datetime, horizon: Horizon, session: Session | None
) -> tuple[str, ...]:
    notes = [note for note in (Instants.from_datetime(around).note, *horizon.notes) if note]
    if session is None:
        notes.append("There is no darkness for stars in this session: choose another night.")
    return tuple(notes)


def refuse_unknown_day(day: date) -> None:
    """Refuse dates that the planets' kernel does not hold."""
    if not 2020 <= day.year <= 2049:
        raise AxletreeError(f"--date {day}: the planets are known from 2020 to 2049 only")
