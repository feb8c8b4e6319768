"""With which values can any public function be called? Chosen by the name and unit of each word.

Names carry units (`_deg`, `_h`, `_mm` ...), so that a plausible value, an edge or an array follows
from the name alone; kits, rigs, observers and moments come ready made.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import random
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from axletree.evening.order.moving import handling_of
from axletree.ground.skyline.skyline import horizon_from_points
from axletree.kit.kit import demo_kit, demo_text
from axletree.mount.clearance.nearest import bodies
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.mount.room.table import room_table
from axletree.pole.aim.target import pole_target
from axletree.pole.drift.solve import WatchedStars
from axletree.pole.readings.observed import CircleErrors, CircleReadings
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

FLOORS = ("kit", "sky", "axis", "ground", "mount", "pole", "evening", "logbook", "tell")
NUMBERS = ("ArrayLike", "Floats", "float", "float | None", "ArrayLike | None", "Floats | None")

# (end of the name, least, most, edges); the first that fits counts.
RANGES: tuple[tuple[str, float, float, tuple[float, ...]], ...] = (
    ("latitude_deg", -90, 90, (-90, 0, 90)), ("declination_deg", -90, 90, (-90, 0, 90)),
    ("dec_deg", -90, 90, (-90, 0, 90)), ("altitude_deg", -90, 90, (0, 90)),
    ("altitude_true_deg", -90, 90, (-90, 0, 90)), ("longitude_deg", -180, 360, (-180, 0, 360)),
    ("azimuth_deg", 0, 360, (0, 180, 360)), ("phase_angle_deg", 0, 180, (0, 180)),
    ("half_width_deg", 0.1, 40, (1.0,)), ("separation_deg", 0, 180, (0, 180)),
    ("field_deg", 0.1, 10, (0.1, 10)), ("radius_deg", 0.01, 20, (0.1,)),
    ("_deg", -180, 360, (-180, 0, 90, 180)),
    ("_h", -12, 12, (-12, -6, 0, 6, 12)), ("_arcmin", -90, 90, (0, 0.1)),
    ("_arcsec", 0.1, 300, (0.1, 60)), ("_rad", -3.2, 3.2, (0,)), ("_hpa", 300, 1100, (1013.25,)),
    ("_c", -40, 40, (0,)), ("humidity", 0, 1, (0, 1)), ("_um", 0.4, 0.7, (0.55,)),
    ("_mm", 1, 2000, (1, 1000)), ("_m", 0.01, 20, (0.01, 1)), ("_kg", 0.1, 20, (0.1, 10)),
    ("_s", 1, 80000, (1, 86400)), ("_min", 1, 120, (1, 120)), ("_mag", 1, 14, (5,)),
    ("arcsec2", 16, 22, (21.5,)), ("_v", -1, 14, (0,)), ("_bv", -0.4, 3, (0,)),
    ("airmass", 1, 10, (1,)), ("magnification", 5, 300, (5, 300)), ("lit_fraction", 0, 1, (0, 1)),
    ("percent", 0, 60, (0, 60)), ("_au", 0.3, 30, (1,)), ("year", 2020, 2049, (2020, 2030)),
    ("mjd_utc", 59000, 61600, (61379,)), ("jd1", 2459000, 2461700, (2461379.5,)),
    ("", 0.1, 10, (1,)),
)  # fmt: skip


def number(rng: random.Random, name: str) -> float:
    """A plausible value of a word by its name; sometimes an edge."""
    for end, least, most, edges in RANGES:
        if name.endswith(end):
            return float(rng.choice(edges) if rng.random() < 0.3 else rng.uniform(least, most))
    raise AssertionError(name)


@cache
def _kit(which: str) -> Any:
    return demo_kit(which)


@cache
def _made(which: str) -> dict[str, Any]:
    """Things of both demo kits that take a while to make."""
    kit = demo_kit(which)
    observer = observer_of(kit.site)
    axes = align(kit.site.latitude_deg, pole_altitude_deg=pole_target(observer).altitude_deg)
    rig = build_rig(kit)
    azimuths, altitudes = zip(*(kit.site.skyline.points or ((0.0, 5.0),)), strict=True)
    return {
        "Kit": kit, "Observer": observer, "Axes": axes, "Rig": rig, "Bodies": bodies(rig, axes),
        "RoomTable": room_table(kit, rig=rig, axes=axes, observer=observer),
        "Horizon": horizon_from_points(azimuths, altitudes), "Site": kit.site, "Tube": kit.tube,
        "Mount": kit.mount, "Gears": kit.mount.gears, "PolarScope": kit.mount.polar_scope,
        "Tripod": kit.mount.tripod, "Bolts": kit.mount.bolts, "Habits": kit.habits,
        "Skyline": kit.site.skyline, "ZoneInfo": kit.site.zone, "Handling": handling_of(kit),
        "PoleTarget": pole_target(observer),
    }  # fmt: skip


WORDS: dict[str, tuple[str, ...]] = {
    "side": ("east", "west"), "units": ("metric", "us"), "zone": ("Europe/Lisbon", "UTC"),
    "pole": ("refracted", "true"), "name": ("Vega", "M31"), "place": ("Évora",),
    "text": ("Vega", "M31", "12.5", "", "α Lyrae", demo_text()), "words": ("a b",),
    "view": ("inverted", "erect"), "names": ("Vega",), "title": ("Title",), "label": ("25 mm",),
    "motion": ("hand", "motor"),
}  # fmt: skip


# What is given as one thing, made of its own words.
JOINED = {c.__name__: c for c in (WatchedStars, CircleReadings, CircleErrors)}

# Words that hold directions or places in space: one more axis of three.
VECTORS = {
    "angle_between_deg": ("a", "b"), "angles_from_vector": ("vector",),
    "axis_error_arcmin": ("axis",), "azimuth_altitude_from_vector": ("vector",),
    "hour_angle_from_vector": ("vector",), "rotate_about": ("vector", "axis"),
    "cross": ("a", "b"),
    "cross_matrix": ("v",), "axis_angles_of_vector": ("vector",), "in_tube": ("vector", "axis"),
}  # fmt: skip


def value(
    rng: random.Random, name: str, kind: str, shape: tuple[int, ...], which: str, function: str
) -> Any:
    """A value for a word of this name and type; LookupError where there is none."""
    plain = kind.removesuffix(" | None")
    if name in VECTORS.get(function, ()):
        raw = np.array([rng.gauss(0, 1) for _ in range(3 * int(np.prod(shape)))])
        vectors = raw.reshape(*shape, 3)
        return vectors / np.linalg.norm(vectors, axis=-1, keepdims=True)
    if plain in ("ArrayLike", "Floats"):
        if plain == "Floats" and not shape:
            return np.array(number(rng, name))
        flat = [number(rng, name) for _ in range(int(np.prod(shape)))]
        return np.array(flat).reshape(shape) if shape else flat[0]
    if plain == "float":
        return number(rng, name)
    if plain == "int":
        return rng.randrange(1, 5)
    if plain == "bool":
        return rng.random() < 0.5
    if plain == "str" and name in WORDS:
        return rng.choice(WORDS[name])
    if plain == "datetime":
        begin = datetime(2026, 1, 1, tzinfo=ZoneInfo("Europe/Lisbon"))
        return (begin.astimezone(UTC) + timedelta(minutes=rng.randrange(700_000))).astimezone(
            begin.tzinfo
        )
    if plain == "date":
        return date(2026, 1, 1) + timedelta(days=rng.randrange(500))
    if plain == "Night":
        return Night.of(date(2026, 1, 1) + timedelta(days=rng.randrange(500)), "Europe/Lisbon")
    if plain == "Instants":
        return Instants.grid(
            datetime(2026, 1, 1, tzinfo=UTC) + timedelta(hours=rng.randrange(9000)),
            count=shape[0] if shape else 1, step_s=600.0,
        )  # fmt: skip
    if plain == "AxisEstimate":
        return AxisEstimate(rng.uniform(-60, 60), rng.uniform(-60, 60), np.diag([4.0, 2.0]))
    if plain in JOINED:
        made = JOINED[plain]
        lone = {n: k for n, k in made.__annotations__.items() if n not in made.__dict__}
        return made(**{n: value(rng, n, k, shape, which, function) for n, k in lone.items()})
    if plain == "SkyObject":
        return find(rng.choice(["Vega", "M31", "Saturn", "Moon", "Albireo"]))
    return _made(which)[plain]


def public_functions() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Every public function of every floor, by its dotted name."""
    for floor in FLOORS:
        package = importlib.import_module(f"axletree.{floor}")
        for module in pkgutil.walk_packages(package.__path__, f"axletree.{floor}."):
            held = importlib.import_module(module.name)
            where = module.name.removeprefix("axletree.")
            for name, function in inspect.getmembers(held, inspect.isfunction):
                if not name.startswith("_") and function.__module__ == held.__name__:
                    yield f"{where}.{name}", function


def needed(function: Callable[..., Any]) -> dict[str, str]:
    """Names and types of the words that a function can't do without."""
    return {
        name: str(p.annotation)
        for name, p in inspect.signature(function).parameters.items()
        if p.default is inspect.Parameter.empty and p.kind not in (p.VAR_POSITIONAL, p.VAR_KEYWORD)
    }


def arguments(
    rng: random.Random, function: Callable[..., Any], shape: tuple[int, ...] = ()
) -> dict[str, Any] | None:
    """Values for all words that are needed, None where one can't be supplied."""
    which = rng.choice(("courtyard", "paddock"))
    try:
        return {
            n: value(rng, n, kind, shape, which, function.__name__)
            for n, kind in needed(function).items()
        }
    except LookupError:
        return None
