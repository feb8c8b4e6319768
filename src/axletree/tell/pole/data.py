"""The answer about the pole for programs, and the short lines beside its drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from axletree.pole.aim.scope_orientation import face_words
from axletree.pole.correct.report import PoleReport
from axletree.tell.pole.text import cautions
from axletree.tell.shared.words import clock, compass_point


def drawing_rows(report: PoleReport, zone: ZoneInfo) -> list[str]:
    """Short lines beside the whole field of the drawing."""
    view, target = report.view, report.target
    way = "clockwise" if view.turn_deg_per_h > 0 else "anticlockwise"
    rows = [
        f"Pole {target.altitude_deg:.2f}° high, due {'north' if target.north else 'south'}",
        f"Altitude scale {report.setting.setting_deg:.1f}°",
        f"Star {100 * report.off_centre:.0f} % of the way to the edge",
        f"The view turns {way}, 15° an hour",
    ]
    for guide in view.guides:
        if guide.up:
            rows.append(
                f"{guide.name} {guide.altitude_deg:.0f}° high, {compass_point(guide.azimuth_deg)}"
            )
    tonight = report.tonight
    if tonight.comes_out is not None:
        rows.append(f"{tonight.star} comes out at {clock(tonight.comes_out, zone)}")
    return rows


def pole_data(report: PoleReport, assumed: Sequence[str]) -> dict[str, Any]:
    """The answer for programs; keys carry units."""
    view, target, setting, tonight = report.view, report.target, report.setting, report.tonight
    data: dict[str, Any] = {
        "at": report.at.isoformat(),
        "hemisphere": "north" if target.north else "south",
        "pole_altitude_deg": target.altitude_deg,
        "pole_azimuth_deg": target.azimuth_deg,
        "pole_altitude_true_deg": target.true_altitude_deg,
        "refraction_arcmin": target.lift_arcmin,
        "refracted": target.refracted,
        "star": view.star,
        "pole_distance_arcmin": view.pole_distance_arcmin,
        "star_hour_angle_h": view.star_hour_angle_h,
        "clock_hour": view.clock_hour,
        "clock_face": face_words(view.clock_hour),
        "view": view.look,
        "rotation_deg": view.rotation_deg,
        "field_deg": view.field_deg,
        "off_centre_fraction": report.off_centre,
        "engraved_ring_arcmin": view.engraved_ring_arcmin,
        "engraved_ring_year": report.ring_year,
        "scale": {
            "setting_deg": setting.setting_deg,
            "nearest_mark_deg": setting.nearest_mark_deg,
            "sigma_deg": setting.sigma_deg,
            "within_scale": setting.within_scale,
        },
        "tonight": {
            "state": tonight.state,
            "sun_depression_deg": tonight.sun_depression_deg,
            "comes_out": _iso(tonight.comes_out),
            "fades": _iso(tonight.fades),
            "first_place": None if report.first_place is None else asdict(report.first_place),
            "lowest_sun_altitude_deg": tonight.lowest_sun_altitude_deg,
            "next_night": tonight.next_night.isoformat() if tonight.next_night else None,
            "in_view": [[a.isoformat(), b.isoformat()] for a, b in tonight.out],
            "pole_above_skyline_deg": tonight.pole_margin_deg,
            "star_above_skyline_deg": tonight.star_margin_deg,
            "star_least_above_skyline_deg": tonight.least_margin_deg,
        },
        "moves": None if report.moves is None else moves_data(report),
        "without_view": {
            "needed": report.blind_needed,
            "because": report.blind_because,
            "steps": [asdict(s) for s in report.blind.steps],
            "high_sigma_arcmin": report.blind.high_sigma_arcmin,
            "east_sigma_arcmin": report.blind.east_sigma_arcmin,
            "after_drift_arcmin": [list(pair) for pair in report.blind.after_drift],
        },
        "cautions": cautions(report),
        "assumed": list(assumed),
        "picture": view.as_data(),
    }
    if report.sight.bore is not None:
        bore = report.sight.bore
        data["bore"] = asdict(bore) | {"sigma_arcmin": bore.sigma_arcmin(view.pole_distance_arcmin)}
    return data


def moves_data(report: PoleReport) -> dict[str, Any]:
    """Bolt turns for programs."""
    moves = report.moves
    assert moves is not None
    return {
        "high_arcmin": report.high_arcmin,
        "east_arcmin": report.east_arcmin,
        "raise_deg": moves.raise_deg,
        "move_east_deg": moves.move_east_deg,
        "altitude_turns": moves.altitude_turns,
        "altitude_turns_sigma": moves.altitude_turns_sigma,
        "azimuth_turns": moves.azimuth_turns,
        "azimuth_turns_sigma": moves.azimuth_turns_sigma,
        "beyond_bolts": moves.beyond_bolts,
        "steps": [asdict(s) | {"way": s.way} for s in moves.steps],
    }


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
