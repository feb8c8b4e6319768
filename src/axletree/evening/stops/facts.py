"""How do an order's decisions become stops with every figure that hands and eye need?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

import numpy as np

from axletree.axis.circles_read import StopPlace
from axletree.axis.marks import hour_reading_h
from axletree.evening.night.set_up_times import seconds_between
from axletree.evening.stops.stop import (
    CutOff,
    EyepieceView,
    Nudge,
    NudgeDirection,
    SideChoice,
    Stop,
    StopPlan,
)
from axletree.find.instruments import eyepieces_of
from axletree.kit.kit import Kit
from axletree.mount.clearance.paths import TurnPath, best_paths
from axletree.mount.follow.gearing import hour_knob
from axletree.mount.follow.nudge import EyepieceFollow, eyepiece_follow
from axletree.mount.follow.rates import refracted_hour_angle
from axletree.mount.rig.field_orientation import picture_kind
from axletree.mount.rig.kinematics import SIDES, axis_angles
from axletree.mount.room.along import track_of
from axletree.mount.room.choice import REST, Choice, Following, RoomAndTurns, choose
from axletree.mount.room.side_answer import SideAnswer, SideCaution, SideWarning
from axletree.mount.room.table import RoomTable, room
from axletree.pole.aim.target import pole_target
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.constellations import constellation_name
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import wrap_24h, wrap_h
from axletree.sky.observer import Observer
from axletree.sky.orbits.orbit import OrbitDoubt, doubts_of
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import moves, stars_of
from axletree.sky.positions.stars import Positions, places_at_j2000
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import later


def stops_of(
    kit: Kit,
    observer: Observer,
    table: RoomTable,
    plans: Sequence[StopPlan],
    begins: Positions,
    ends: Positions,
) -> tuple[Stop, ...]:
    """The stops in order; `begins` and `ends` hold each plan's place at its begin and end.

    Row k and column k of both belong to plan k.
    """
    made: list[Stop] = []
    each = np.arange(len(plans))
    rooms = room(table, begins.hour_angle_h[each, each], begins.declination_deg[each, each])
    turns = _turns(
        table,
        plans,
        (begins.hour_angle_h[each, each], begins.declination_deg[each, each]),
        (ends.hour_angle_h[each, each], ends.declination_deg[each, each]),
    )
    for k, plan in enumerate(plans):
        start = _place(kit, plan.begin, begins, k, observer)
        finish = _place(kit, plan.end, ends, k, observer)
        need_h = float(wrap_h(finish.hour_angle_h - start.hour_angle_h))
        following = Following(
            need_h, need_h / seconds_between(plan.begin, plan.end),
            track_of(plan.thing, Instants.from_datetime(plan.begin), observer),
        )  # fmt: skip
        choice = choose(
            kit, table, start.hour_angle_h, start.declination_deg, following,
            RoomAndTurns(rooms.of(k), turns[k]),
        )  # fmt: skip
        chosen = choice.east if plan.side == "east" else choice.west
        other = choice.west if plan.side == "east" else choice.east
        if plan.thing.kind == "moon":
            tonight = replace(plan.candidate, thing=_moon_tonight(plan, observer))
            plan = replace(plan, candidate=tonight)
        made.append(
            _stop(kit, k + 1, plan, float(begins.right_ascension_h[k, k]), (start, finish),
                  (chosen, other), choice)
        )  # fmt: skip
    return tuple(made)


def _moon_tonight(plan: StopPlan, observer: Observer) -> SkyObject:
    """The Moon with the size that it has at the stop's begin."""
    seen = body_positions("moon", Instants.from_datetime(plan.begin), observer)
    return replace(plan.thing, size_major_arcmin=float(seen.diameter_arcsec[0, 0]) / 60.0)


def _turns(
    table: RoomTable, plans: Sequence[StopPlan], begins: tuple[Floats, Floats],
    ends: tuple[Floats, Floats],
) -> list[tuple[TurnPath, TurnPath]]:  # fmt: skip
    """The turns to each stop on side east and on side west, from where the one before it ended.

    `begins` and `ends` are hour angles and declinations of the plans' objects.
    """
    starts, finishes = (
        [list(zip(*map(np.ndarray.tolist, axis_angles(table.axes, side, *places)), strict=True))
         for side in SIDES]
        for places in (begins, ends)
    )  # fmt: skip
    turns, before = [], REST
    for k, plan in enumerate(plans):
        turns += [(before, starts[i][k]) for i in range(2)]
        before = finishes[0 if plan.side == "east" else 1][k]
    found = best_paths(table.rig, table.axes, table.bodies, turns, table.margin_m)
    return list(zip(found[::2], found[1::2], strict=True))


def _place(kit: Kit, at: datetime, places: Positions, k: int, observer: Observer) -> StopPlace:
    hour, declination = places.hour_angle_h[k, k], places.declination_deg[k, k]
    seen_h, seen_d = refracted_hour_angle(
        hour, declination, observer, pole_target(observer).altitude_deg
    )
    sidereal_h = float(wrap_24h(places.right_ascension_h[k, k] + hour))
    return StopPlace(
        at=at,
        hour_angle_h=float(hour),
        declination_deg=float(declination),
        azimuth_deg=float(places.azimuth_deg[k, k]),
        altitude_deg=float(places.altitude_deg[k, k]),
        airmass=float(places.airmass[k, k]),
        hour_circle_h=float(seen_h),
        declination_circle_deg=float(seen_d),
        sidereal_h=sidereal_h,
        hour_reading_h=hour_reading_h(kit.mount.circles.hour_marks, float(seen_h), sidereal_h),
    )


def _side(answer: SideAnswer, at: datetime) -> SideChoice:
    return SideChoice(
        side="east" if answer.side == "east" else "west",
        weights_up=answer.weights_up,
        room_s=answer.room_s,
        room_deg=answer.room_h * 15.0,
        room_ends=None if answer.endless else later(at, round(answer.room_s)),
        ends=answer.ends,
    )


def _stop(
    kit: Kit,
    number: int,
    plan: StopPlan,
    right_ascension_h: float,
    places: tuple[StopPlace, StopPlace],
    sides: tuple[SideAnswer, SideAnswer],
    choice: Choice,
) -> Stop:
    thing, (start, finish), (chosen, other) = plan.thing, places, sides
    need_h = float(wrap_h(finish.hour_angle_h - start.hour_angle_h))
    fixed = _at_j2000(thing)
    follow = _follow(kit, plan, start)
    return Stop(
        number=number,
        name=thing.name,
        also_called=thing.common_names[:2],
        kind=thing.kind,
        constellation=constellation_name(thing.constellation),
        catalogue_id=thing.catalogue_id,
        right_ascension_of_date_h=right_ascension_h,
        declination_of_date_deg=start.declination_deg,
        right_ascension_j2000_h=fixed[0],
        declination_j2000_deg=fixed[1],
        magnitude_v=thing.magnitude_v,
        size_arcmin=thing.size_major_arcmin,
        begin=plan.begin,
        end=plan.end,
        queue_s=plan.queue_s,
        start=start,
        finish=finish,
        chosen=_side(chosen, plan.begin),
        other=_side(other, plan.begin) if other.usable else None,
        choice=choice,
        view=_view(kit, follow, chosen),
        nudge=_nudge(kit, follow),
        candidate=plan.candidate,
        visibility=plan.candidate.visibility,
        margin_mag=plan.candidate.margin_mag if math.isfinite(plan.candidate.margin_mag) else None,
        turn_cautions=tuple(c for c in chosen.cautions if c.warning.on_the_turn),
        cautions=(*_cautions(chosen, need_h), *_cut_off(kit, thing, follow), *_of_orbit(thing)),
        promised=plan.promised,
    )


def _cautions(side: SideAnswer, need_h: float) -> tuple[SideCaution, ...]:
    """The side's warnings; that the weights will rise only if they do so within this stop."""
    rises = SideWarning.WEIGHTS_WILL_RISE
    said = [c for c in side.cautions if c.warning is not rises and not c.warning.on_the_turn]
    if not side.weights_up and side.weights_down_h < need_h:
        said.append(SideCaution(rises))
    return tuple(said)


def _of_orbit(thing: SkyObject) -> tuple[OrbitDoubt, ...]:
    """What is doubtful about the place of a comet or a minor planet."""
    return () if thing.orbit is None else doubts_of(thing.orbit)


def _cut_off(kit: Kit, thing: SkyObject, follow: EyepieceFollow) -> tuple[CutOff, ...]:
    """That the object is larger than the field, and whether another eyepiece holds all of it."""
    size, field = thing.size_major_arcmin or 0.0, follow.true_field_deg * 60.0
    if size <= field:
        return ()
    widest = max(eyepieces_of(kit), key=lambda e: e.true_field_deg)
    held = widest.label if widest.true_field_deg * 60.0 >= size else ""
    return (CutOff(size, field, thing.kind == "moon", held),)


def _at_j2000(thing: SkyObject) -> tuple[float, float] | tuple[None, None]:
    """Right ascension (hours) and declination (degrees), ICRS at J2000.0; none of what moves."""
    if moves(thing):
        return None, None
    ra, dec = places_at_j2000(stars_of([thing]))[:2]
    return float(np.degrees(ra[0])) % 360.0 / 15.0, float(np.degrees(dec[0]))


def _follow(kit: Kit, plan: StopPlan, start: StopPlace) -> EyepieceFollow:
    size = (plan.thing.size_major_arcmin or 0.0) / 60.0
    rows = eyepiece_follow(kit, start.declination_deg, object_deg=size)
    named = [row for row in rows if row.label == plan.candidate.eyepiece]
    return (named or rows)[0]


def _view(kit: Kit, follow: EyepieceFollow, side: SideAnswer) -> EyepieceView:
    eye = side.eye
    face = float(eye.face_azimuth_deg)
    steep = math.isnan(face)
    return EyepieceView(
        eyepiece=follow.label,
        magnification=follow.magnification,
        true_field_deg=follow.true_field_deg,
        exit_pupil_mm=follow.exit_pupil_mm,
        height_mm=float(eye.height_m) * 1000.0,
        face_azimuth_deg=None if steep else face,
        barrel_tilt_deg=float(eye.barrel_altitude_deg),
        posture=side.posture,
        picture=picture_kind(kit.tube),
        north_deg=float(side.picture.north_deg),
        drift_deg=float(side.picture.drift_deg),
    )


def _nudge(kit: Kit, follow: EyepieceFollow) -> Nudge:
    if kit.mount.motor is not None:
        return Nudge(
            every_s=follow.motor_nudge_s, knob_turns=0.0, times_per_visitor=0.0,
            direction=NudgeDirection.MOTOR,
        )  # fmt: skip
    knob = hour_knob(kit.mount.gears, kit.site.north)
    if knob is None or follow.knob_turn_deg is None:
        return Nudge(
            every_s=follow.nudge_s, knob_turns=0.0, times_per_visitor=follow.nudges_per_visitor,
            direction=NudgeDirection.PUSH_WEST,
        )  # fmt: skip
    return Nudge(
        every_s=follow.nudge_s,
        knob_turns=follow.knob_turn_deg / 360.0,
        direction=NudgeDirection.CLOCKWISE if knob.clockwise else NudgeDirection.ANTICLOCKWISE,
        times_per_visitor=follow.nudges_per_visitor,
    )
