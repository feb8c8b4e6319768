"""What does a program get to know about both tube sides of one object? Keys carry units."""

from __future__ import annotations

import math
from datetime import datetime
from typing import Literal, NotRequired

from typing_extensions import TypedDict

from axletree.mount.rig.field_orientation import picture_kind
from axletree.mount.room.choice import Choice
from axletree.mount.room.side_answer import SideAnswer
from axletree.sky.sun_rule import SunRefusal
from axletree.stages.target.point import PointAnswer, PointCaution
from axletree.tell.eyepiece.forms import AtEyepieceData
from axletree.tell.learned.data import RigLearnedData, learned_data
from axletree.tell.orbit.data import OrbitData, orbit_data
from axletree.tell.point.cautions_text import NEVER_AT_THE_SUN, caution_words
from axletree.tell.point.circles_data import CirclesData, circles_data, state_data
from axletree.tell.point.text import eye_turn, order_words
from axletree.tell.shared.guessed import guessed_of_rig
from axletree.tell.shared.skyline_data import UnknownSkyline, unknown_skyline
from axletree.tell.side.doubt_data import RoomDoubtData, room_doubt_data
from axletree.tell.side.text import end_words, picture_words, side_caution_words, side_reason_words


class SideData(TypedDict):
    """One tube side; the warnings as sentences and, in the same order, as codes."""

    side: str
    usable: bool
    room_deg: float
    room_s: float
    endless: bool
    ends: str
    ends_code: str
    weights_down_s: float
    in_reach_since_s: float
    opens_in_s: float | None
    hour_circle_h: float
    declination_circle_deg: float
    tube_end_h: float
    swing_deg: float
    weights_up: bool
    weights_clock_deg: float
    clearance_mm: float
    nearest: str
    nearest_parts: list[str]
    end_parts: list[str]
    eyepiece_height_mm: float
    face_azimuth_deg: float | None
    barrel_altitude_deg: float | None
    eyepiece_can_fall: bool
    step_up_mm: float
    stoop_mm: float
    posture_code: str
    stool_mm: float
    view_north_clock_deg: float | None
    view_drift_clock_deg: float | None
    view_mirrored: bool
    way_order: str
    way_order_code: str
    way_clearance_mm: float
    way_eyepiece_can_fall: bool
    warnings: list[str]
    warning_codes: list[str]


class RingTurnData(TypedDict):
    """The focuser's angle around the tube: the kit's, and the one that suits the better side."""

    present: float
    best_for_this: float | None


class PointData(TypedDict):
    """The answer of `axletree point` for an object that may be pointed at."""

    version: Literal[1]
    object: str
    at: str
    hour_angle_h: float
    hour_angle_growth_h_per_s: float
    right_ascension_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    better_side: str | None
    reason: str
    reason_code: str
    sides: list[SideData]
    view: str
    ring_turn_deg: RingTurnData
    guessed: list[str]
    caution_codes: list[str]
    cautions: list[str]
    skyline_unknown: list[UnknownSkyline]
    circles: CirclesData
    eyepiece: AtEyepieceData | None
    orbit: OrbitData | None
    room_errors: list[RoomDoubtData | None]
    eyepiece_height_errors_mm: list[float | None]
    other_side_chance: float
    rig_learned: NotRequired[RigLearnedData]


class TooNearTheSun(TypedDict):
    """The answer for what stands too near the Sun: no side. `sun_distance_deg` is how near."""

    version: Literal[1]
    object: str
    at: str
    better_side: None
    sun_code: str
    sun_distance_deg: float
    sun_distance_kept_deg: float
    caution_codes: list[str]
    cautions: list[str]


def point_data(answer: PointAnswer) -> PointData | TooNearTheSun:
    """The answer for programs."""
    if answer.choice is None or answer.place is None:
        return _too_near(answer)
    choice, place, kit = answer.choice, answer.place, answer.kit
    assert answer.pointing is not None
    assert answer.circles is not None
    here = answer.at.astimezone(kit.site.zone)
    told: PointData = {
        "version": 1,
        "object": answer.thing.name,
        "at": answer.at.isoformat(),
        "hour_angle_h": round(choice.hour_angle_h, 6),
        "hour_angle_growth_h_per_s": place.growth_h_per_s,
        "right_ascension_h": round(place.right_ascension_h, 6),
        "declination_deg": round(choice.declination_deg, 6),
        "azimuth_deg": place.azimuth_deg,
        "altitude_deg": place.altitude_deg,
        "better_side": choice.better or None,
        "reason": side_reason_words(choice, kit.habits.units),
        "reason_code": choice.reason.value,
        "sides": [side_data(a) for a in choice.sides],
        "view": picture_words(picture_kind(kit.tube)),
        "ring_turn_deg": {
            "present": kit.tube.ring_turn_deg % 360,
            "best_for_this": None if answer.turn is None else answer.turn.turn_deg,
        },
        "guessed": guessed_of_rig(kit),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "skyline_unknown": unknown_skyline(answer.horizon),
        "circles": circles_data(
            answer.pointing, answer.circles, kit.mount.circles.hour_marks, answer.set_on
        ),
        "eyepiece": _eyepiece(answer, choice),
        "orbit": orbit_data(answer.thing),
        "room_errors": [
            None if doubt is None else room_doubt_data(doubt, here, doubt.touch_chance)
            for doubt in answer.doubts_of_room
        ],
        "eyepiece_height_errors_mm": [
            None if doubt is None else round(doubt.eye_sigma_m * 1000.0, 1)
            for doubt in answer.doubts_of_room
        ],
        "other_side_chance": round(answer.other_side_chance, 3),
    }
    if answer.state is not None:
        told["circles"]["state"] = state_data(answer.state)
    if answer.learned is not None:
        told["rig_learned"] = learned_data(answer.learned, kit.site.zone, kit.habits.units)
    return told


def _eyepiece(answer: PointAnswer, choice: Choice) -> AtEyepieceData | None:
    if answer.body is None:
        return None
    from axletree.tell.eyepiece.data import eyepiece_data  # most objects need none of it

    return eyepiece_data(answer.body, eye_turn(choice), None, answer.kit.site.zone)


def _too_near(answer: PointAnswer) -> TooNearTheSun:
    assert answer.refusal is not None
    codes = [caution.value for caution in answer.cautions]
    return {
        **too_near_the_sun(answer.thing.name, answer.at, answer.refusal),
        "caution_codes": codes,
        "cautions": caution_words(answer),
    }


def too_near_the_sun(name: str, at: datetime, refusal: SunRefusal) -> TooNearTheSun:
    """Why something gets no direction."""
    return {
        "version": 1,
        "object": name,
        "at": at.isoformat(),
        "better_side": None,
        "sun_code": refusal.code,
        "sun_distance_deg": round(refusal.separation_deg, 2),
        "sun_distance_kept_deg": refusal.distance_deg,
        "caution_codes": [PointCaution.NEVER_AT_THE_SUN.value],
        "cautions": [NEVER_AT_THE_SUN],
    }


def _finite(value: float) -> float | None:
    return round(value, 4) if math.isfinite(value) else None


def side_data(answer: SideAnswer) -> SideData:
    """One side for programs."""
    eye, view = answer.eye, answer.picture
    return {
        "side": answer.side,
        "usable": answer.usable,
        "room_deg": round(answer.room_h * 15, 3),
        "room_s": round(answer.room_s, 1),
        "endless": answer.endless,
        "ends": end_words(answer.ends),
        "ends_code": answer.ends.by.key,
        "weights_down_s": round(answer.weights_down_s, 1),
        "in_reach_since_s": round(answer.since_s, 1),
        "opens_in_s": answer.opens_in_s,
        "hour_circle_h": round(answer.hour_circle_h, 4),
        "declination_circle_deg": round(answer.declination_circle_deg, 4),
        "tube_end_h": round(answer.tube_end_h, 6),
        "swing_deg": round(answer.swing_deg, 6),
        "weights_up": answer.weights_up,
        "weights_clock_deg": round(answer.weights_clock_deg, 1),
        "clearance_mm": round(answer.clearance_m * 1000, 1),
        "nearest": " and ".join(answer.nearest_parts),
        "nearest_parts": list(answer.nearest_parts),
        "end_parts": list(answer.ends.parts),
        "eyepiece_height_mm": round(float(eye.height_m) * 1000, 1),
        "face_azimuth_deg": _finite(float(eye.face_azimuth_deg)),
        "barrel_altitude_deg": _finite(float(eye.barrel_altitude_deg)),
        "eyepiece_can_fall": answer.can_fall,
        "step_up_mm": round(float(eye.step_up_m) * 1000, 1),
        "stoop_mm": round(float(eye.stoop_m) * 1000, 1),
        "posture_code": answer.posture.stance.value,
        "stool_mm": answer.posture.stool_mm,
        "view_north_clock_deg": _finite(float(view.north_deg)),
        "view_drift_clock_deg": _finite(float(view.drift_deg)),
        "view_mirrored": view.mirrored,
        "way_order": order_words(answer.way.order),
        "way_order_code": answer.way.order.value,
        "way_clearance_mm": round(answer.way.least_m * 1000, 1),
        "way_eyepiece_can_fall": answer.way.can_fall,
        "warnings": [side_caution_words(c) for c in answer.cautions],
        "warning_codes": [c.warning.value for c in answer.cautions],
    }
