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

from axletree.evening import setup
from axletree.evening.choosing import Chosen, choose_candidates
from axletree.evening.document import Evening, GivenUp, OrderFacts, Place, Rig, Stop
from axletree.evening.night import FIRST_STARS_DEG, night_of
from axletree.evening.order import Effort, order_stops
from axletree.evening.own_objects import own_objects_of
from axletree.evening.ring_advice import ring_advice
from axletree.evening.showing import (
    COARSE_STEP_S,
    Showing,
    given_up,
    order_facts,
    session_grid,
    showing_of,
    stops_from,
)
from axletree.evening.sky_state import SkyState, sky_state
from axletree.evening.stages import Session, session_of, stages_of
from axletree.ground.magnetism import magnetic_field
from axletree.ground.skyline import Horizon
from axletree.ground.skyline_file import horizon_of
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.kinematics import align
from axletree.mount.rig import build_rig
from axletree.mount.room import RoomTable, room_table
from axletree.pole.target import pole_target
from axletree.sky.catalogue import SkyObject
from axletree.sky.events import darkness
from axletree.sky.nights import Night
from axletree.sky.observer import Observer
from axletree.sky.time import Instants

Floats = NDArray[np.float64]

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
    """An evening with what it was made from; the last three are None without a session."""

    evening: Evening
    ground: Ground
    session: Session | None
    chosen: Chosen | None
    showing: Showing | None


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
    effort: Effort = "auto",
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
    effort: Effort = "auto",
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
    mine = own_objects_of(kit, folder, around)
    own = [*own, *mine.objects]
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
    left: list[GivenUp] = []
    showing: Showing | None = None
    facts = OrderFacts(method="none", proven_best=True, gap_percent=0.0, words=_no_session(kit))
    assumed = [f"{show_s / 60:.0f} minutes at each stop"]
    chosen: Chosen | None = None
    if session is not None:
        progress("objects worth a stop")
        chosen, sky = _candidates(kit, observer, session, ground, own, seen_ids)
        assumed += sky.assumed
        progress("the order of the stops")
        showing = showing_of(kit, observer, session, ground.table, chosen, show_s)
        order = order_stops(showing.wishes, showing.span, showing.handling, effort=effort)
        stops = stops_from(kit, observer, ground.table, showing, order.stops)
        facts, left = order_facts(showing, order), given_up(showing, order)
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
        given_up=tuple(left),
        assumptions=tuple(assumed),
        cautions=_cautions(kit, session is not None),
        notes=(
            *_notes(observer, around, ground.horizon, session),
            *(f"Left out of your own list: {row.words}." for row in mine.broken),
        ),
    )
    return Planned(evening, ground, session, chosen, showing)


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
    coarse = session_grid(session, COARSE_STEP_S)
    sky = sky_state(kit, observer, coarse)
    chosen = choose_candidates(
        kit, observer, coarse, sky, own=own, seen_ids=seen_ids, skyline=ground.horizon.altitude_at
    )
    return chosen, sky


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
