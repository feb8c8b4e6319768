"""Which evenings are tried in the long run? Seeded: rigs, places, dates and habits at random.

Evening k is the same on every machine: both demo rigs and twenty random ones take turns, latitudes
run from 70 south to 70 north without order, months go round. From the 300th on each random rig is
another one, latitudes begin at 80 south, and thin posts stand in the skyline.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

import numpy as np
import tomlkit

from axletree.kit.kit import Kit, check_text, demo_text

COUNT = 300
RANDOM_RIGS = 20
# Nights in which clocks are put forward or back: European, North American, southern rules.
CLOCKS_CHANGE = (date(2027, 3, 27), date(2026, 10, 24), date(2026, 3, 7), date(2026, 10, 31),
                 date(2027, 4, 3), date(2026, 9, 26), date(2026, 10, 3))  # fmt: skip
GOLDEN = 0.6180339887498949  # its multiples, less whole turns, fill a span evenly in any order


@dataclass(frozen=True)
class Trial:
    """One evening to be planned."""

    number: int
    rig: str
    kit: Kit
    day: date


def _pick(rng: np.random.Generator, *things: Any) -> Any:
    return things[int(rng.integers(len(things)))]


def _round(value: float, places: int = 0) -> float:
    return round(float(value), places)


def _tube(rng: np.random.Generator, size: str) -> dict[str, Any]:
    kind = _pick(rng, "newtonian", "refractor", "catadioptric")
    low, high = {"small": (60, 114), "middle": (80, 180), "large": (120, 250)}[size]
    aperture = float(rng.integers(low, high + 1))
    ratio = {"newtonian": (4, 8), "refractor": (5, 11), "catadioptric": (10, 14)}[kind]
    if kind == "refractor":
        aperture = min(aperture, 130.0)
    focal = _round(min(aperture * rng.uniform(*ratio), 1400 if kind != "catadioptric" else 3000))
    tube: dict[str, Any] = {
        "name": f"{aperture:.0f} mm {kind}",
        "kind": kind,
        "aperture_mm": aperture,
        "focal_length_mm": focal,
        "ring_turn_deg": _round(rng.uniform(-180, 180)),
    }
    if rng.random() < 0.5:
        tube["dew_shield_length_mm"] = _round(rng.uniform(50, 250))
    if rng.random() < 0.7:
        tube["finder"] = {
            "mass_kg": _round(rng.uniform(0.1, 0.6), 2),
            "angle_deg": _round(rng.uniform(-100, 100)),
            "length_mm": _round(rng.uniform(80, 260)),
            "radius_mm": _round(rng.uniform(15, 32)),
        }
    if kind != "newtonian":
        tube["diagonal"] = _pick(rng, "none", "mirror", "prism", "erecting")
        if tube["diagonal"] == "erecting":
            tube["diagonal_angle_deg"] = _pick(rng, 45, 90)
    if rng.random() < 0.3:
        tube["accessory"] = [
            {
                "name": "small camera",
                "mass_kg": _round(rng.uniform(0.2, 0.8), 2),
                "from_front_mm": _round(rng.uniform(0, 300)),
                "offset_mm": _round(aperture / 2 + 90),
                "angle_deg": _round(rng.uniform(-100, 100)),
                "radius_mm": _round(rng.uniform(10, 40)),
            }
        ]
    return tube


def _mount(rng: np.random.Generator, size: str) -> dict[str, Any]:
    motion = _pick(rng, "hand", "motor")
    tripod: dict[str, Any] = {
        "top_height_mm": _round(rng.uniform(650, 1250)),
        "foot_radius_mm": _round(rng.uniform(420, 680)),
    }
    if rng.random() < 0.3:
        tripod["leg_directions_deg"] = _pick(rng, [60, 180, 300], [10, 130, 240], [0, 110, 250])
    if rng.random() < 0.3:
        tripod["column_height_mm"] = _round(rng.uniform(100, 400))
    if rng.random() < 0.3:
        tripod["tray_load_kg"] = _round(rng.uniform(0.5, 4), 1)
    mount: dict[str, Any] = {
        "name": f"{size} mount",
        "size": size,
        "motion": motion,
        "payload_limit_kg": 30.0,
        "tripod": tripod,
        "gears": {
            "hour_worm_teeth": int(_pick(rng, 100, 130, 144, 180)),
            "declination_worm_teeth": int(_pick(rng, 65, 100, 130, 144)),
            "hour_geared": bool(motion == "motor" or rng.random() < 0.8),
        },
        "polar_scope": {"kind": "none"},
    }
    scope = _pick(rng, "none", "scope", "hollow")
    if scope == "scope":
        mount["polar_scope"] = {
            "kind": "scope",
            "field_deg": _round(rng.uniform(3, 10), 1),
            "view": _pick(rng, "inverted", "erect", "mirrored"),
        }
    if scope == "hollow":
        mount["polar_scope"] = {"kind": "hollow", "bore_diameter_mm": 25, "bore_length_mm": 200}
    if motion == "motor":
        mount["motor"] = {"rates": ["sidereal"], "axes": _pick(rng, "hour", "both")}
        if rng.random() < 0.5:
            mount["motor"]["slew_deg_per_s"] = _round(rng.uniform(1, 6), 1)
    if rng.random() < 0.4:
        mount["travel"] = {
            "weights_up_h": _round(rng.uniform(0, 3), 1),
            "weights_down_h": _round(rng.uniform(1, 6), 1),
        }
    return mount


def _random_rig(seed: int) -> dict[str, Any]:
    rng = np.random.default_rng([8, seed])
    size = _pick(rng, "small", "middle", "large")
    rig: dict[str, Any] = {
        "kit_version": 1,
        "name": f"random rig {seed}",
        "mount": _mount(rng, size),
        "tube": _tube(rng, size),
    }
    focal = rig["tube"]["focal_length_mm"]
    lengths = [f for f in (40, 32, 25, 18, 12, 10, 8, 6) if focal / f >= 8]
    count = int(rng.integers(1, 5))
    rig["eyepiece"] = [
        {
            "focal_length_mm": float(f),
            "apparent_field_deg": float(_pick(rng, 45, 52, 60, 68, 82)),
            "mass_kg": _round(rng.uniform(0.08, 0.5), 2),
        }
        for f in sorted(rng.choice(lengths, min(count, len(lengths)), replace=False))[::-1]
    ]
    if rng.random() < 0.3:
        rig["barlow"] = [{"factor": 2.0}]
    return rig


@cache
def random_rigs() -> tuple[dict[str, Any], ...]:
    """Twenty rigs that a person could own, as raw tables of a kit."""
    return tuple(_random_rig(seed) for seed in range(RANDOM_RIGS))


def _posts(rng: np.random.Generator, points: list[list[float]]) -> list[list[float]]:
    """The same skyline with a few posts in it, a fifth of a degree to two degrees wide."""
    for _ in range(int(rng.integers(1, 4))):
        a, b = (one[0] for one in points[int(rng.integers(len(points) - 1)) :][:2])
        if b - a < 4.0:
            continue
        at, half = rng.uniform(a + 1.5, b - 1.5), rng.uniform(0.1, 1.0)
        foot = np.interp((at - half, at + half), *np.array(points).T)
        high = rng.uniform(20, 80)
        post = [[at - half - 0.01, foot[0]], [at - half, high], [at + half, high],
                [at + half + 0.01, foot[1]]]  # fmt: skip
        points = sorted([*points, *([_round(x, 2), _round(y, 1)] for x, y in post)])
    return points


def _skyline(rng: np.random.Generator, posts: bool) -> dict[str, Any]:
    if rng.random() < 0.2:
        return {"open_altitude_deg": _round(rng.uniform(0, 12), 1)}
    count = int(rng.integers(6, 25))
    azimuths = np.sort(rng.uniform(0, 30, count) + np.arange(count) * 360.0 / count) % 360.0
    heights = rng.gamma(2.0, 7.0, count).clip(0, 65)
    pairs = zip(azimuths, heights, strict=True)
    points = sorted([_round(a, 1), _round(h, 1)] for a, h in pairs)
    return {"points": _posts(rng, points) if posts else points}


def _site(rng: np.random.Generator, k: int) -> dict[str, Any]:
    fresh = k >= COUNT
    south, span = (-80.0, 150.0) if fresh else (-70.0, 140.0)
    site: dict[str, Any] = {
        "name": f"site {k}",
        "latitude_deg": _round(south + span * ((k * GOLDEN + 0.37) % 1.0), 4),
        "longitude_deg": _round(rng.uniform(-180, 180), 4),
        "elevation_m": _round(rng.gamma(1.5, 300)),
        "skyline": _skyline(rng, fresh),
    }
    if rng.random() < 0.6:
        site["temperature_c"] = _round(rng.uniform(-15, 30))
    if rng.random() < 0.3:
        site["pressure_hpa"] = _round(1013.0 * np.exp(-site["elevation_m"] / 8400))
    darkness = _pick(rng, "none", "meter", "eye")
    if darkness == "meter":
        site["sky_brightness_mag_arcsec2"] = _round(rng.uniform(17.5, 22), 1)
    if darkness == "eye":
        site["naked_eye_limit_mag"] = _round(rng.uniform(3.5, 6.6), 1)
    return site


def _clock(rng: np.random.Generator, first: int, hours: int) -> str:
    minutes = first * 60 + int(rng.integers(0, hours * 12)) * 5
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}:00"


def _habits(rng: np.random.Generator) -> dict[str, Any]:
    habits: dict[str, Any] = {
        "units": _pick(rng, "metric", "metric", "us"),
        "observer": _pick(rng, "newcomer", "practised", "expert"),
        "visitors": int(_pick(rng, 0, 0, 5, 12, 40, 120)),
        "hours": _round(np.clip(rng.gamma(3.0, 1.0), 0.7, 9.0), 1),
        "clearance_margin_mm": float(_pick(rng, 20, 20, 10, 35)),
        "lowest_altitude_deg": float(_pick(rng, 15, 15, 10, 20, 5)),
        "sun_distance_deg": float(_pick(rng, 30, 30, 45)),
    }
    if rng.random() < 0.25:
        habits["minutes_per_stop"] = _round(rng.uniform(4, 40))
    if rng.random() < 0.3:
        low = _round(rng.uniform(600, 1200))
        habits |= {"eye_height_min_mm": low, "eye_height_max_mm": low + 700}
    if rng.random() < 0.2:
        habits["bedtime"] = _clock(rng, 21, 5)
    if rng.random() < 0.2:
        habits["start"] = _clock(rng, 19, 5)
    if rng.random() < 0.15:
        habits["stop"] = _clock(rng, 23, 5)
    if rng.random() < 0.25:
        habits["break"] = [{"at": _clock(rng, 20, 6), "minutes": float(_pick(rng, 10, 15, 30))}]
    if rng.random() < 0.4:
        themes = ["clusters", "nebulae", "galaxies", "doubles", "colours", "moon and planets",
                  "first looks"]  # fmt: skip
        habits["themes"] = rng.choice(themes, int(rng.integers(1, 4)), replace=False).tolist()
    if rng.random() < 0.3:
        wanted = ["M31", "M42", "Moon", "Saturn", "NGC 104", "M13", "Jupiter", "Albireo", "M11"]
        habits["must_see"] = rng.choice(wanted, int(rng.integers(1, 3)), replace=False).tolist()
    if rng.random() < 0.2:
        habits["exclude"] = ["M45", "Vega"]
    return habits


def trial(k: int) -> Trial:
    """Evening k of the long run."""
    rng = np.random.default_rng([7, k])
    which = k % (2 + RANDOM_RIGS)
    if which < 2:
        rig = ("courtyard", "paddock")[which]
        raw = tomllib.loads(demo_text(rig))
        # Where a demo rig stands near the equator its legs are set as the kit would set them.
        raw.pop("yard", None)
    else:
        raw = dict(random_rigs()[which - 2] if k < COUNT else _random_rig(k))
        rig = str(raw["name"])
    raw = {**raw, "site": _site(rng, k), "habits": _habits(rng)}
    if rng.random() < 0.2:
        raw["yard"] = {
            "area_m": [[0, 0], [9, 0], [9, 9]],
            "slope_percent": _round(rng.uniform(0, 12), 1),
            "downhill_azimuth_deg": _round(rng.uniform(0, 360)),
        }
    kit, problems = check_text(tomlkit.dumps(raw))
    assert kit is not None, (k, problems)
    # Every month in turn.
    month = k % 12 + 1
    year = int(rng.integers(2024, 2028))
    day = date(year, month, int(rng.integers(1, 29)))
    if k % 25 == 9:
        day = CLOCKS_CHANGE[k // 25 % len(CLOCKS_CHANGE)]
    return Trial(k, rig, kit, day)
