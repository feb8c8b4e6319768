"""Which values does a silent kit take from the models' own defaults, and so has guessed?

Only those whose true value is another one for most people. What is left out because it isn't there
(a column, a dew shield, a load in the tray) is none, and no guess.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

ASSUMED: dict[str, tuple[str, ...]] = {
    "tube": ("focuser_radius_mm", "ring_turn_deg"),
    "tube.finder": ("length_mm", "radius_mm", "angle_deg", "mass_kg"),
    "tube.accessory": ("offset_mm", "angle_deg", "radius_mm"),
    "mount.tripod": ("leg_directions_deg", "turned_deg", "lean_to_pole_deg", "lean_to_right_deg"),
    "mount.weight": ("thickness_mm", "radius_mm"),
    "eyepiece": ("apparent_field_deg", "mass_kg", "radius_mm", "length_mm"),
    "barlow": ("factor", "mass_kg"),
    "camera": ("mass_kg", "radius_mm", "length_mm"),
}


def assumed(tables: Mapping[str, Any], guessed: tuple[str, ...]) -> list[str]:
    """Dotted names of what the raw, filled tables leave to the models and `guessed` doesn't name.

    Entries of lists are counted from 1. A list that was guessed as a whole stays one guess.
    """
    found = []
    for path, keys in ASSUMED.items():
        if path in guessed:
            continue
        at: Any = tables
        for part in path.split("."):
            at = at.get(part) if isinstance(at, Mapping) else None
        entries = at if isinstance(at, list) else [at]
        for i, entry in enumerate(entries):
            name = f"{path}[{i + 1}]" if isinstance(at, list) else path
            if isinstance(entry, Mapping):
                found += [f"{name}.{key}" for key in keys if key not in entry]
    return [name for name in found if name not in guessed]
