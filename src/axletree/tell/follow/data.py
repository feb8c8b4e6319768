"""What does a program get to know about following?"""

from __future__ import annotations

import math
from typing import Any

from axletree.mount.follow.following import ZONE_SPEEDS, Compare, FollowReport
from axletree.mount.follow.nudge import EyepieceFollow
from axletree.mount.follow.rates import DRIVE_RATES
from axletree.tell.follow.text import cautions


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


def follow_data(report: FollowReport) -> dict[str, Any]:
    """The same for programs; a time that never comes is null."""
    knob, declination, camera = report.knob, report.declination, report.camera
    data: dict[str, Any] = {
        "object": report.thing.name if report.thing else None,
        "hour_angle_h": report.hour_angle_h,
        "declination_deg": report.declination_deg,
        "altitude_deg": report.altitude_deg,
        "seconds_per_knob_turn": knob.seconds_per_turn if knob else None,
        "seconds_per_knob_turn_object": report.seconds_per_turn,
        "knob_turns_per_minute": report.turns_per_minute,
        "knob_clockwise": knob.clockwise if knob else None,
        "knob_deg_per_turn": knob.degrees_per_turn if knob else None,
        "backlash_knob_deg": knob.backlash_knob_deg if knob else None,
        "backlash_s": knob.backlash_s if knob else None,
        "declination_knob": None
        if declination is None
        else {
            "deg_per_turn": declination.degrees_per_turn,
            "clockwise_side_east": declination.clockwise_east,
            "clockwise_side_west": declination.clockwise_west,
            "backlash_knob_deg": declination.backlash_knob_deg,
            "backlash_arcmin": declination.backlash_arcmin,
            "arm": declination.arm,
            "arm_range_deg": declination.arm_range_deg,
        },
        "rate_true_arcsec_per_s": report.rates.true,
        "rate_refracted_arcsec_per_s": report.rates.seen if report.above else None,
        "declination_rate_arcsec_per_s": report.rates.seen_declination
        if report.above
        else report.rates.true_declination,
        "drive_rates_arcsec_per_s": dict(DRIVE_RATES),
        "motor": [
            {
                "rate": c.rate,
                "arcsec_per_s": c.arcsec_per_s,
                "left_hour_angle_arcsec_per_min": c.along_arcsec_per_min,
                "left_declination_arcsec_per_min": c.across_arcsec_per_min,
            }
            for c in report.drives
        ],
        "keep_fraction": report.keep,
        "eyepieces": [_eyepiece_data(e) for e in report.eyepieces],
        "camera": None
        if camera is None
        else {
            "pixel_arcsec": camera.pixel_arcsec,
            "allowed_arcsec": camera.allowed_arcsec,
            "still_s": _finite(camera.still_s),
            "periodic_worst_s": _finite(camera.periodic_worst_s),
            "periodic_best_s": _finite(camera.periodic_best_s),
            "drive_s": _finite(camera.drive_s),
        },
        "compare": _compare_data(report.compare) if report.compare else None,
        "cautions": cautions(report),
        "guessed": list(report.kit.guessed),
    }
    return data


def _eyepiece_data(row: EyepieceFollow) -> dict[str, Any]:
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


def _compare_data(compare: Compare) -> dict[str, Any]:
    return {
        "azimuth_arcsec_per_s": _finite(float(compare.now.azimuth)),
        "altitude_arcsec_per_s": float(compare.now.altitude),
        "field_turn_arcsec_per_s": _finite(float(compare.now.turn)),
        "closest_to_zenith_deg": compare.crossing.closest_deg,
        "top_azimuth_arcsec_per_s": _finite(compare.crossing.top_azimuth_arcsec_per_s),
        "top_field_turn_arcsec_per_s": _finite(compare.crossing.top_turn_arcsec_per_s),
        "axis_speed_deg_per_s": compare.speed_deg_per_s,
        "behind_s": compare.crossing.behind_s,
        "zenith_zones": [
            {"axis_speed_deg_per_s": v, "radius_deg": z}
            for v, z in zip(ZONE_SPEEDS, compare.zones_deg, strict=True)
        ],
        "camera_turn_s": _finite(compare.camera_turn_s),
    }
