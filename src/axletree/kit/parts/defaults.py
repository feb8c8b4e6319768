"""Which dimensions stand in for those the person has not measured?

Estimates of ordinary mounts, tripods and tubes (common practice, no source; nobody measured
them for this table): good to perhaps 20 %. A kit that matters should replace them, and every
answer names those that were guessed.
"""

from __future__ import annotations

from typing import Any

from axletree.kit.parts.mount import turns_per_degree
from axletree.kit.parts.tube import Finder

SIZES: dict[str, dict[str, Any]] = {
    "small": {
        "payload_limit_kg": 5.0,
        "tripod": {
            "foot_radius_mm": 480.0,
            "top_height_mm": 850.0,
            "top_radius_mm": 60.0,
            "leg_radius_mm": 16.0,
            "column_radius_mm": 35.0,
            "tray_height_mm": 420.0,
            "tray_radius_mm": 150.0,
            "bubble_arcmin_per_division": 30.0,
            "bubble_edge_divisions": 3.0,
            "mass_kg": 3.5,
        },
        "head": {
            "pivot_height_mm": 90.0,
            "crossing_along_mm": 95.0,
            "crossing_above_mm": 45.0,
            "housing_back_mm": 150.0,
            "housing_front_mm": 35.0,
            "housing_radius_mm": 35.0,
            "declination_radius_mm": 30.0,
            "saddle_distance_mm": 110.0,
            "shaft_start_mm": 60.0,
            "shaft_length_mm": 230.0,
            "shaft_radius_mm": 6.0,
            "shaft_mass_kg": 0.35,
            "moving_mass_kg": 1.2,
            "fixed_mass_kg": 1.6,
        },
        "gears": {"hour_worm_teeth": 100, "declination_worm_teeth": 100},
        "bolts": {"altitude_turns_per_degree": 0.9, "azimuth_turns_per_degree": 0.8},
    },
    "middle": {
        "payload_limit_kg": 10.0,
        "tripod": {
            "foot_radius_mm": 560.0,
            "top_height_mm": 900.0,
            "top_radius_mm": 80.0,
            "leg_radius_mm": 22.0,
            "column_radius_mm": 50.0,
            "tray_height_mm": 450.0,
            "tray_radius_mm": 170.0,
            "bubble_arcmin_per_division": 30.0,
            "bubble_edge_divisions": 3.0,
            "mass_kg": 5.5,
        },
        "head": {
            "pivot_height_mm": 110.0,
            "crossing_along_mm": 130.0,
            "crossing_above_mm": 60.0,
            "housing_back_mm": 200.0,
            "housing_front_mm": 45.0,
            "housing_radius_mm": 48.0,
            "declination_radius_mm": 42.0,
            "saddle_distance_mm": 150.0,
            "shaft_start_mm": 80.0,
            "shaft_length_mm": 330.0,
            "shaft_radius_mm": 10.0,
            "shaft_mass_kg": 0.9,
            "moving_mass_kg": 3.0,
            "fixed_mass_kg": 3.5,
        },
        "gears": {"hour_worm_teeth": 144, "declination_worm_teeth": 144},
        "bolts": {"altitude_turns_per_degree": 0.8, "azimuth_turns_per_degree": 0.7},
    },
    "large": {
        "payload_limit_kg": 18.0,
        "tripod": {
            "foot_radius_mm": 640.0,
            "top_height_mm": 950.0,
            "top_radius_mm": 100.0,
            "leg_radius_mm": 28.0,
            "column_radius_mm": 60.0,
            "tray_height_mm": 480.0,
            "tray_radius_mm": 190.0,
            "bubble_arcmin_per_division": 30.0,
            "bubble_edge_divisions": 3.0,
            "mass_kg": 8.5,
        },
        "head": {
            "pivot_height_mm": 130.0,
            "crossing_along_mm": 165.0,
            "crossing_above_mm": 75.0,
            "housing_back_mm": 250.0,
            "housing_front_mm": 55.0,
            "housing_radius_mm": 60.0,
            "declination_radius_mm": 52.0,
            "saddle_distance_mm": 190.0,
            "shaft_start_mm": 100.0,
            "shaft_length_mm": 400.0,
            "shaft_radius_mm": 12.5,
            "shaft_mass_kg": 1.8,
            "moving_mass_kg": 6.0,
            "fixed_mass_kg": 7.0,
        },
        "gears": {"hour_worm_teeth": 180, "declination_worm_teeth": 180},
        "bolts": {"altitude_turns_per_degree": 0.7, "azimuth_turns_per_degree": 0.6},
    },
}

WEIGHTS: dict[str, list[dict[str, Any]]] = {
    "small": [
        {"mass_kg": 1.9, "thickness_mm": 45.0, "radius_mm": 45.0},
        {"mass_kg": 2.8, "thickness_mm": 55.0, "radius_mm": 50.0},
    ],
    "middle": [
        {"mass_kg": 3.4, "thickness_mm": 50.0, "radius_mm": 58.0},
        {"mass_kg": 5.1, "thickness_mm": 60.0, "radius_mm": 66.0},
    ],
    "large": [{"mass_kg": 5.1, "thickness_mm": 60.0, "radius_mm": 66.0, "count": 3}],
}


# Nearer to the equator the weights hang low on the pole's side: a leg there is in their way.
LEG_FROM_POLE_BELOW_DEG = 25.0
LEG_AWAY_FROM_POLE = [60.0, 180.0, 300.0]


def mount_defaults(mount: dict[str, Any], latitude_deg: float | None = None) -> dict[str, Any]:
    """What to fill into the raw `[mount]` table: a nested dict of the missing keys' values.

    Below 25 degrees of latitude, where it is known, the tripod stands with a leg away from the
    pole.
    """
    size = mount.get("size", "middle")
    if size not in SIZES:
        return {}
    filled = dict(SIZES[size])
    filled["weight"] = WEIGHTS[size]
    if latitude_deg is not None and abs(latitude_deg) < LEG_FROM_POLE_BELOW_DEG:
        filled["tripod"] = filled["tripod"] | {"leg_directions_deg": LEG_AWAY_FROM_POLE}
    return filled


def with_bolt_turns(mount: dict[str, Any]) -> dict[str, Any]:
    """The raw `[mount]` table with turns per degree worked out where pitch and arm are given."""
    bolts = mount.get("bolts")
    if not isinstance(bolts, dict):
        return mount
    worked_out: dict[str, Any] = {}
    for name in ("altitude", "azimuth"):
        pitch, arm = _number(bolts, f"{name}_pitch_mm"), _number(bolts, f"{name}_arm_mm")
        if pitch and arm and f"{name}_turns_per_degree" not in bolts:
            worked_out[f"{name}_turns_per_degree"] = turns_per_degree(pitch, arm)
    return {**mount, "bolts": {**bolts, **worked_out}}


def _number(table: dict[str, Any], key: str) -> float | None:
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 < value <= 1e6:
        return None
    return float(value)


def tube_defaults(tube: dict[str, Any]) -> dict[str, Any]:
    """What to fill into the raw `[tube]` table, from its kind, aperture and focal length.

    Lengths in mm, masses in kg. Proportions of ordinary tubes (common practice, no source):
    a Newtonian is as long as 0.92 of its focal length and 60 mm wider than its mirror; a
    refractor is as long as 0.85 of its focal length; a catadioptric tube 2.1 apertures long.
    Masses grow with the surface of the tube plus the cube of the aperture (mirror or lens).
    """
    kind = tube.get("kind")
    aperture, focal = _number(tube, "aperture_mm"), _number(tube, "focal_length_mm")
    if kind not in ("newtonian", "refractor", "catadioptric") or not aperture or not focal:
        return {}
    length = _number(tube, "length_mm")
    diameter = _number(tube, "diameter_mm")
    if kind == "newtonian":
        length = length or 0.92 * focal
        diameter = diameter or aperture + 35.0 + 0.04 * aperture
        obstruction, transmission, balance = 0.27 * aperture, 0.80, 0.60 * length
        focuser, reach, arm = max(60.0, length - 0.80 * focal), diameter / 2 + 95.0, 0.0
        cool = 0.25 * aperture
        mass = 3.0 * (diameter / 1000) * (length / 1000) * 4.0 + (aperture / 100) ** 3 * 0.55 + 0.9
    elif kind == "refractor":
        length = length or 0.85 * focal
        diameter = diameter or aperture + 12.0
        obstruction, transmission, balance = 0.0, 0.90, 0.50 * length
        focuser, reach, arm = length, 60.0, 85.0
        cool = 0.2 * aperture
        mass = 2.6 * (diameter / 1000) * (length / 1000) * 5.0 + (aperture / 100) ** 3 * 1.1 + 0.9
    else:
        length = length or 2.1 * aperture
        diameter = diameter or aperture + 30.0
        obstruction, transmission, balance = 0.34 * aperture, 0.78, 0.55 * length
        focuser, reach, arm = length, 70.0, 85.0
        cool = 0.3 * aperture
        mass = 3.0 * (diameter / 1000) * (length / 1000) * 5.0 + (aperture / 100) ** 3 * 0.5 + 0.6
    filled: dict[str, Any] = {
        "obstruction_mm": obstruction,
        "transmission": transmission,
        "length_mm": length,
        "diameter_mm": diameter,
        "mass_kg": round(mass, 2),
        "balance_from_front_mm": balance,
        "dovetail_height_mm": 30.0,
        "dovetail_length_mm": min(300.0, 0.6 * length),
        "dew_shield_diameter_mm": diameter + 6.0,
        "focuser_from_front_mm": focuser,
        "focuser_reach_mm": reach,
        "diagonal": "none" if kind == "newtonian" else "mirror",
        "diagonal_arm_mm": arm or 1.0,
        "cool_down_min": round(min(max(cool, 10.0), 90.0)),
    }
    if kind == "newtonian":  # the focuser's own mass, part of the tube's
        whole = _number(tube, "mass_kg") or mass
        filled["focuser_mass_kg"] = round(min(0.2 + 0.001 * aperture, 0.15 * whole), 2)
    finder = tube.get("finder")
    if isinstance(finder, dict):
        radius = _number(finder, "radius_mm") or Finder.model_fields["radius_mm"].default
        filled["finder"] = {
            "from_front_mm": 0.25 * length if kind == "newtonian" else 0.75 * length,
            "offset_mm": diameter / 2 + radius + 15.0,
            **_finder_optics(finder),
        }
    return filled


def _finder_optics(finder: dict[str, Any]) -> dict[str, Any]:
    """The most usual finder, 6x30 (common practice, no source); a plain sight's rings differ."""
    if finder.get("plain_sight") is True or "rings_deg" in finder:
        return {}
    optics = {"aperture_mm": 30.0, "magnification": 6.0, "field_deg": 7.0, "look": "upside down"}
    if "magnification" in finder:
        del optics["field_deg"]  # another power, another field: only its owner knows it
    return optics


def fill(
    raw: dict[str, Any], defaults: dict[str, Any], path: str
) -> tuple[dict[str, Any], list[str]]:
    """The table with missing keys filled, and the dotted names of those that were filled."""
    out, guessed = dict(raw), []
    for key, value in defaults.items():
        name = f"{path}.{key}"
        if key not in raw:
            out[key] = value
            if isinstance(value, dict):
                guessed += [f"{name}.{k}" for k in value]
            else:
                guessed.append(name)
        elif isinstance(value, dict) and isinstance(raw[key], dict):
            out[key], inner = fill(raw[key], value, name)
            guessed += inner
    return out, guessed
