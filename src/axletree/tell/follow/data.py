"""What does a program get to know about following? Keys carry units; never is null."""

from __future__ import annotations

import math
from typing import Literal, NotRequired

from typing_extensions import TypedDict

from axletree.mount.follow.altaz_comparison import ZONE_SPEEDS_DEG_PER_S, AltazComparison
from axletree.mount.follow.gearing import DeclinationKnob
from axletree.mount.follow.nudge import CameraFollow, EyepieceFollow
from axletree.mount.follow.rates import DRIVE_RATES, DriveChoice
from axletree.stages.target.follow import AxisWork, FollowAnswer
from axletree.tell.follow.text import assumed_words, caution_words, note_words


class DeclinationKnobData(TypedDict):
    """The declination's knob or arm; null where nobody has counted its turns."""

    deg_per_turn: float | None
    clockwise_side_east: str
    clockwise_side_west: str
    backlash_knob_deg: float
    backlash_arcmin: float | None
    arm: bool
    arm_range_deg: float | None


class MotorRateData(TypedDict):
    """One rate of the motor, and what it leaves to the hand."""

    rate: str
    arcsec_per_s: float
    left_hour_angle_arcsec_per_min: float
    left_declination_arcsec_per_min: float


class EyepieceFollowData(TypedDict):
    """One eyepiece, alone or with a Barlow lens."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    drift_time_s: float | None
    nudge_s: float | None
    knob_turn_deg: float | None
    nudges_per_visitor: float
    wander_fraction: float
    motor_nudge_s: float | None
    fits: bool


class CameraFollowData(TypedDict):
    """The longest exposures."""

    pixel_arcsec: float
    allowed_arcsec: float
    still_s: float | None
    periodic_worst_s: float | None
    periodic_best_s: float | None
    drive_s: float | None


class ZenithZoneData(TypedDict):
    """Where an azimuth axis of this speed falls behind, around the zenith."""

    axis_speed_deg_per_s: float
    radius_deg: float


class ComparisonData(TypedDict):
    """What an alt-azimuth mount would have to do instead; null is without bound."""

    azimuth_arcsec_per_s: float | None
    altitude_arcsec_per_s: float
    field_turn_arcsec_per_s: float | None
    closest_to_zenith_deg: float
    top_azimuth_arcsec_per_s: float | None
    top_field_turn_arcsec_per_s: float | None
    axis_speed_deg_per_s: float
    behind_s: float
    zenith_zones: list[ZenithZoneData]
    camera_turn_s: float | None


class AxisWorkData(TypedDict):
    """What the declination shaft has to do on one side, north positive, the axis being off."""

    side: str
    declination_arcsec_per_min: float
    sigma_arcsec_per_min: float
    hour_arcsec_per_s: float


class FollowStateData(TypedDict):
    """The notes that the axis is known by: the evening of the latest, its moment."""

    evening: str
    at: str
    stands_since: str | None


class FollowData(TypedDict):
    """The answer of `axletree follow`; codes stand beside sentences, in the same order."""

    version: Literal[1]
    object: str | None
    hour_angle_h: float
    declination_deg: float
    altitude_deg: float
    seconds_per_knob_turn: float | None
    seconds_per_knob_turn_object: float | None
    knob_turns_per_minute: float | None
    knob_clockwise: bool | None
    knob_deg_per_turn: float | None
    backlash_knob_deg: float | None
    backlash_s: float | None
    declination_knob: DeclinationKnobData | None
    rate_true_arcsec_per_s: float
    rate_refracted_arcsec_per_s: float | None
    declination_rate_arcsec_per_s: float
    drive_rates_arcsec_per_s: dict[str, float]
    motor: list[MotorRateData]
    keep_fraction: float
    eyepieces: list[EyepieceFollowData]
    camera: CameraFollowData | None
    compare: ComparisonData | None
    caution_codes: list[str]
    cautions: list[str]
    assumption_codes: list[str]
    assumed: list[str]
    guessed: list[str]
    at: NotRequired[str]
    notes: NotRequired[list[str]]
    axis_work: NotRequired[list[AxisWorkData]]
    state: NotRequired[FollowStateData]


def follow_data(answer: FollowAnswer) -> FollowData:
    """The answer for programs."""
    knob, place = answer.knob, answer.place
    data: FollowData = {
        "version": 1,
        "object": answer.target.name if answer.target else None,
        "hour_angle_h": place.hour_angle_h,
        "declination_deg": place.declination_deg,
        "altitude_deg": place.altitude_deg,
        "seconds_per_knob_turn": knob.seconds_per_turn if knob else None,
        "seconds_per_knob_turn_object": answer.seconds_per_turn,
        "knob_turns_per_minute": answer.turns_per_minute,
        "knob_clockwise": knob.clockwise if knob else None,
        "knob_deg_per_turn": knob.degrees_per_turn if knob else None,
        "backlash_knob_deg": knob.backlash_knob_deg if knob else None,
        "backlash_s": knob.backlash_s if knob else None,
        "declination_knob": _declination_data(answer.declination),
        "rate_true_arcsec_per_s": answer.rates.true,
        "rate_refracted_arcsec_per_s": answer.rates.seen if answer.above else None,
        "declination_rate_arcsec_per_s": answer.declination_rate_arcsec_per_s,
        "drive_rates_arcsec_per_s": dict(DRIVE_RATES),
        "motor": [_motor_data(choice) for choice in answer.drives],
        "keep_fraction": answer.keep,
        "eyepieces": [_eyepiece_data(row) for row in answer.eyepieces],
        "camera": _camera_data(answer.camera),
        "compare": _comparison_data(answer.comparison),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "assumption_codes": [assumption.value for assumption in answer.assumptions],
        "assumed": assumed_words(answer),
        "guessed": list(answer.kit.guessed),
    }
    if answer.at is not None:
        data["at"] = answer.at.isoformat()
    notes = note_words(answer)
    if notes:
        data["notes"] = notes
    state = answer.state
    if state is not None and answer.axis_work:
        data["axis_work"] = [_axis_work_data(one) for one in answer.axis_work]
        since = state.stands_since
        data["state"] = {
            "evening": state.evening.isoformat(),
            "at": state.at.isoformat(),
            "stands_since": None if since is None else since.isoformat(),
        }
    return data


def _axis_work_data(work: AxisWork) -> AxisWorkData:
    return {
        "side": work.side,
        "declination_arcsec_per_min": round(work.declination_arcsec_per_min, 3),
        "sigma_arcsec_per_min": round(work.sigma_arcsec_per_min, 3),
        "hour_arcsec_per_s": round(work.hour_arcsec_per_s, 5),
    }


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


def _declination_data(knob: DeclinationKnob | None) -> DeclinationKnobData | None:
    if knob is None:
        return None
    return {
        "deg_per_turn": knob.degrees_per_turn,
        "clockwise_side_east": knob.clockwise_east,
        "clockwise_side_west": knob.clockwise_west,
        "backlash_knob_deg": knob.backlash_knob_deg,
        "backlash_arcmin": knob.backlash_arcmin,
        "arm": knob.arm,
        "arm_range_deg": knob.arm_range_deg,
    }


def _motor_data(choice: DriveChoice) -> MotorRateData:
    return {
        "rate": choice.rate,
        "arcsec_per_s": choice.arcsec_per_s,
        "left_hour_angle_arcsec_per_min": choice.along_arcsec_per_min,
        "left_declination_arcsec_per_min": choice.across_arcsec_per_min,
    }


def _eyepiece_data(row: EyepieceFollow) -> EyepieceFollowData:
    return {
        "eyepiece": row.label,
        "magnification": row.magnification,
        "true_field_deg": row.true_field_deg,
        "exit_pupil_mm": row.exit_pupil_mm,
        "drift_time_s": _finite(row.drift_time_s),
        "nudge_s": _finite(row.nudge_s),
        "knob_turn_deg": row.knob_turn_deg,
        "nudges_per_visitor": row.nudges_per_visitor,
        "wander_fraction": row.wander_fraction,
        "motor_nudge_s": _finite(row.motor_nudge_s),
        "fits": row.fits,
    }


def _camera_data(camera: CameraFollow | None) -> CameraFollowData | None:
    if camera is None:
        return None
    return {
        "pixel_arcsec": camera.pixel_arcsec,
        "allowed_arcsec": camera.allowed_arcsec,
        "still_s": _finite(camera.still_s),
        "periodic_worst_s": _finite(camera.periodic_worst_s),
        "periodic_best_s": _finite(camera.periodic_best_s),
        "drive_s": _finite(camera.drive_s),
    }


def _comparison_data(found: AltazComparison | None) -> ComparisonData | None:
    if found is None:
        return None
    return {
        "azimuth_arcsec_per_s": _finite(float(found.now.azimuth)),
        "altitude_arcsec_per_s": float(found.now.altitude),
        "field_turn_arcsec_per_s": _finite(float(found.now.turn)),
        "closest_to_zenith_deg": found.crossing.closest_deg,
        "top_azimuth_arcsec_per_s": _finite(found.crossing.top_azimuth_arcsec_per_s),
        "top_field_turn_arcsec_per_s": _finite(found.crossing.top_turn_arcsec_per_s),
        "axis_speed_deg_per_s": found.speed_deg_per_s,
        "behind_s": found.crossing.behind_s,
        "zenith_zones": [
            {"axis_speed_deg_per_s": v, "radius_deg": z}
            for v, z in zip(ZONE_SPEEDS_DEG_PER_S, found.zones_deg, strict=True)
        ],
        "camera_turn_s": _finite(found.camera_turn_s),
    }
