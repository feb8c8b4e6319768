"""What do the hands and the eye need at one stop: side, room, circles, eyepiece, nudge?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from axletree.evening.document import EyepieceView, Nudge, Pose, SideChoice, Stop
from axletree.evening.stops.side_words import (
    end_words,
    posture_words,
    side_caution_words,
    side_reason_words,
)
from axletree.kit.kit import Kit
from axletree.mount.clearance.paths import TurnPath, best_paths
from axletree.mount.follow.gearing import hour_knob
from axletree.mount.follow.nudge import EyepieceFollow, eyepiece_follow
from axletree.mount.follow.rates import refracted_hour_angle
from axletree.mount.rig.field_orientation import view_words
from axletree.mount.rig.kinematics import SIDES, axis_angles
from axletree.mount.room.along import track_of
from axletree.mount.room.choice import REST, Choice, choose
from axletree.mount.room.side_answer import SideAnswer, SideCaution, SideWarning
from axletree.mount.room.table import RoomTable, room
from axletree.sky.arrays import Floats
from axletree.sky.catalogue.constellations import constellation_name
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.objects import MOVING, stars_of
from axletree.sky.positions.stars import Positions, places_at_j2000
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import later

POINTS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip


@dataclass(frozen=True)
class StopPlan:
    """What the order decided about one stop, and what is known of how it will look."""

    thing: SkyObject
    side: str
    begin: datetime
    end: datetime
    queue_s: float
    eyepiece: str
    visibility: str
    margin_mag: float | None
    why: str
    promised: bool


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
    ways = _ways(table, plans, begins.hour_angle_h[each, each], begins.declination_deg[each, each])
    for k, plan in enumerate(plans):
        start = _pose(plan.begin, begins, k, observer, table)
        finish = _pose(plan.end, ends, k, observer, table)
        need_h = float(wrap_h(finish.hour_angle_h - start.hour_angle_h))
        choice = choose(
            kit, table, start.hour_angle_h, start.declination_deg, need_h=need_h,
            hours_per_s=need_h / (plan.end - plan.begin).total_seconds(),
            now=rooms.of(k), with_waits=False, ways=ways[k],
            track=track_of(plan.thing, Instants.from_datetime(plan.begin), observer),
        )  # fmt: skip
        chosen = choice.east if plan.side == "east" else choice.west
        other = choice.west if plan.side == "east" else choice.east
        if plan.thing.kind == "moon":
            plan = replace(plan, thing=_moon_tonight(plan, observer))
        made.append(
            _stop(kit, k + 1, plan, float(begins.right_ascension_h[k, k]), (start, finish),
                  (chosen, other), _why(choice, plan, kit.habits.units))
        )  # fmt: skip
    return tuple(made)


def _moon_tonight(plan: StopPlan, observer: Observer) -> SkyObject:
    """The Moon with the size that it has at the stop's begin."""
    seen = body_positions("moon", Instants.from_datetime(plan.begin), observer)
    return replace(plan.thing, size_major_arcmin=float(seen.diameter_arcsec[0, 0]) / 60.0)


def _ways(
    table: RoomTable, plans: Sequence[StopPlan], hour_angle_h: Floats, declination_deg: Floats
) -> list[tuple[TurnPath, TurnPath]]:
    """The turns to each stop on side east and on side west, from where the one before it ended."""
    poses = [
        [(float(h), float(w)) for h, w in zip(*axis_angles(table.axes, side, hour_angle_h,
                                                           declination_deg), strict=True)]
        for side in SIDES
    ]  # fmt: skip
    turns, before = [], REST
    for k, plan in enumerate(plans):
        turns += [(before, poses[i][k]) for i in range(2)]
        before = poses[0 if plan.side == "east" else 1][k]
    found = best_paths(table.rig, table.axes, table.bodies, turns, table.margin_m)
    return list(zip(found[::2], found[1::2], strict=True))


def _pose(at: datetime, places: Positions, k: int, observer: Observer, table: RoomTable) -> Pose:
    hour, declination = places.hour_angle_h[k, k], places.declination_deg[k, k]
    seen_h, seen_d = refracted_hour_angle(hour, declination, observer, table.axes.altitude_deg)
    return Pose(
        at=at,
        hour_angle_h=float(hour),
        declination_deg=float(declination),
        azimuth_deg=float(places.azimuth_deg[k, k]),
        altitude_deg=float(places.altitude_deg[k, k]),
        airmass=float(places.airmass[k, k]),
        hour_circle_h=float(seen_h),
        declination_circle_deg=float(seen_d),
    )


def _why(choice: Choice, plan: StopPlan, units: str) -> str:
    if choice.better in (plan.side, ""):
        return side_reason_words(choice, units)
    return (
        f"Side {plan.side} suits the order of the stops; alone, side {choice.better} would be "
        "the better one."
    )


def _side(answer: SideAnswer, at: datetime) -> SideChoice:
    return SideChoice(
        side="east" if answer.side == "east" else "west",
        weights_up=answer.weights_up,
        room_s=answer.room_s,
        room_deg=answer.room_h * 15.0,
        room_ends=None if answer.endless else later(at, round(answer.room_s)),
        ends_by=end_words(answer.ends),
    )


def _stop(
    kit: Kit,
    number: int,
    plan: StopPlan,
    right_ascension_h: float,
    poses: tuple[Pose, Pose],
    sides: tuple[SideAnswer, SideAnswer],
    why_side: str,
) -> Stop:
    thing, (start, finish), (chosen, other) = plan.thing, poses, sides
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
        why_side=why_side,
        view=_view(kit, follow, chosen),
        nudge=_nudge(kit, follow),
        visibility=plan.visibility,
        margin_mag=plan.margin_mag,
        why=plan.why,
        turn_warnings=_sentences(c for c in chosen.cautions if c.warning.on_the_turn),
        cautions=(*_cautions(chosen, need_h), *_cut_off(thing, follow)),
        promised=plan.promised,
    )


def _cautions(side: SideAnswer, need_h: float) -> tuple[str, ...]:
    """The side's warnings; that the weights will rise only if they do so within this stop."""
    rises = SideWarning.WEIGHTS_WILL_RISE
    said = [c for c in side.cautions if c.warning is not rises and not c.warning.on_the_turn]
    if not side.weights_up and side.weights_down_h < need_h:
        said.append(SideCaution(rises))
    return _sentences(said)


def _cut_off(thing: SkyObject, follow: EyepieceFollow) -> tuple[str, ...]:
    """That the Moon is larger than the field: no eyepiece of the kit holds it then."""
    size, field = thing.size_major_arcmin or 0.0, follow.true_field_deg * 60.0
    if thing.kind != "moon" or size <= field:
        return ()
    return (
        f"No eyepiece of yours holds the whole Moon: its {size:.0f}′ stand in a field of "
        f"{field:.0f}′; move over it.",
    )


def _sentences(cautions: Iterable[SideCaution]) -> tuple[str, ...]:
    words = map(side_caution_words, cautions)
    return tuple(w[:1].upper() + w[1:] + "." for w in words)


def _at_j2000(thing: SkyObject) -> tuple[float, float] | tuple[None, None]:
    """Right ascension (hours) and declination (degrees), ICRS at J2000.0; none of what moves."""
    if thing.kind in MOVING:
        return None, None
    ra, dec = places_at_j2000(stars_of([thing]))[:2]
    return float(np.degrees(ra[0])) % 360.0 / 15.0, float(np.degrees(dec[0]))


def _follow(kit: Kit, plan: StopPlan, start: Pose) -> EyepieceFollow:
    size = (plan.thing.size_major_arcmin or 0.0) / 60.0
    rows = eyepiece_follow(kit, start.declination_deg, object_deg=size)
    named = [row for row in rows if row.label == plan.eyepiece]
    return (named or rows)[0]


def _view(kit: Kit, follow: EyepieceFollow, side: SideAnswer) -> EyepieceView:
    eye = side.eye
    face = float(eye.face_azimuth_deg)
    steep = math.isnan(face)
    north, drift = float(side.picture.north_deg), float(side.picture.drift_deg)
    return EyepieceView(
        eyepiece=follow.label,
        magnification=follow.magnification,
        true_field_deg=follow.true_field_deg,
        exit_pupil_mm=follow.exit_pupil_mm,
        height_mm=float(eye.height_m) * 1000.0,
        face_azimuth_deg=None if steep else face,
        face_words="any way, looking down" if steep else POINTS[round(face / 45.0) % 8],
        barrel_tilt_deg=float(eye.barrel_altitude_deg),
        reach=posture_words(side.posture, kit.habits.units),
        orientation=f"The picture is {view_words(kit.tube)}; north is at {_dial(north)}.",
        drift_clock=_dial(drift),
    )


def _dial(angle_deg: float) -> str:
    return f"{round((angle_deg % 360.0) / 30.0) % 12 or 12} o'clock"


def _nudge(kit: Kit, follow: EyepieceFollow) -> Nudge:
    if kit.mount.motor is not None:
        return Nudge(
            every_s=follow.motor_nudge_s, knob_turns=0.0, times_per_visitor=0.0,
            direction="The motor follows; correct with its keys when the object strays.",
        )  # fmt: skip
    knob = hour_knob(kit.mount.gears, kit.site.north)
    if knob is None or follow.knob_turn_deg is None:
        return Nudge(
            every_s=follow.nudge_s, knob_turns=0.0, times_per_visitor=follow.nudges_per_visitor,
            direction="There is no knob: push the tube gently towards the west.",
        )  # fmt: skip
    return Nudge(
        every_s=follow.nudge_s,
        knob_turns=follow.knob_turn_deg / 360.0,
        direction="clockwise" if knob.clockwise else "anticlockwise",
        times_per_visitor=follow.nudges_per_visitor,
    )
