"""Which dimensions has this rig, and what does each measure?

Parts that aren't there (no column, no dew shield) have no dimensions.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from pydantic import BaseModel

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.kit.parts.dimension import is_dimension
from axletree.kit.reading.problems import named

# Tables whose dimensions are those of the rig.
_TABLES = (
    "mount.tripod", "mount.head", "mount.weight", "tube", "tube.finder", "tube.accessory",
    "eyepiece", "barlow", "camera",
)  # fmt: skip
# Of these tables: what neither stands anywhere nor weighs anything.
_NOT_OF_THE_RIG = frozenset((
    "tube.aperture_mm", "tube.focal_length_mm", "tube.obstruction_mm",
    "eyepiece.focal_length_mm", "eyepiece.apparent_field_deg", "eyepiece.field_stop_mm",
    "camera.pixel_um", "tube.finder.aperture_mm", "tube.finder.field_deg", "tube.finder.rings_deg",
))  # fmt: skip


def rig_names(kit: Kit) -> tuple[str, ...]:
    """Dotted names of all dimensions of the kit's rig, entries of lists counted from 1."""
    return tuple(_names(kit))


def key_of(name: str) -> str:
    """The key that a value of several (the legs' directions) stands under."""
    return name.rpartition("[")[0] if name.endswith("]") else name


def table_key(name: str) -> str:
    """A name without the numbers of its entries: 'mount.weight.radius_mm'."""
    return re.sub(r"\[\d+\]", "", name)


def _names(kit: Kit) -> Iterator[str]:
    for table in _TABLES:
        held = _held(kit, table)
        entries = held if isinstance(held, tuple) else (held,)
        for i, part in enumerate(entries):
            if not isinstance(part, BaseModel):
                continue
            path = f"{table}[{i + 1}]" if isinstance(held, tuple) else table
            for attribute, field in type(part).model_fields.items():
                key = f"{table}.{attribute}"
                if not is_dimension(table, attribute, field) or key in _NOT_OF_THE_RIG:
                    continue
                value = getattr(part, attribute)
                if value is not None and is_there(kit, key):
                    yield from _entries(f"{path}.{attribute}", value)


def _entries(name: str, value: Any) -> Iterator[str]:
    if isinstance(value, tuple):
        yield from (f"{name}[{i + 1}]" for i in range(len(value)))
    else:
        yield name


def is_there(kit: Kit, key: str) -> bool:
    """Whether the part that a key measures is there at all; the key without numbers of entries."""
    tripod, tube = kit.mount.tripod, kit.tube
    there: dict[str, bool] = {
        "mount.tripod.column_height_mm": tripod.column_height_mm > 0,
        "mount.tripod.tray_load_kg": tripod.tray_load_kg > 0,
        "mount.tripod.tray_radius_mm": tripod.tray_radius_mm > 0,
        "mount.tripod.tray_height_mm": tripod.tray_radius_mm > 0 or tripod.tray_load_kg > 0,
        "tube.dovetail_height_mm": tube.dovetail_height_mm > 0,
        "tube.dew_shield_length_mm": tube.dew_shield_length_mm > 0,
        "tube.dew_shield_diameter_mm": tube.dew_shield_length_mm > 0,
        "tube.focuser_from_front_mm": tube.kind == "newtonian",
        "tube.focuser_mass_kg": tube.kind == "newtonian" and tube.focuser_mass_kg > 0,
        "tube.diagonal_arm_mm": tube.diagonal != "none",
    }
    return there.get(key, True)


def _held(kit: Kit, table: str) -> Any:
    return value_of(kit, table) if table != "tube.finder" else kit.tube.finder


def value_of(kit: Kit, name: str) -> Any:
    """The value of a dotted name, entries of lists counted from 1; refuses one it doesn't have."""
    value: Any = kit
    for part in named(name):
        value = part_of(value, part, name)
    return value


def part_of(value: Any, part: str | int, name: str) -> Any:
    """One step of a path; `name` is how a refusal calls it."""
    if isinstance(part, int) and isinstance(value, tuple) and part < len(value):
        return value[part]
    if isinstance(part, str) and isinstance(value, BaseModel):
        attribute = attributes_of(type(value)).get(part)
        if attribute is not None:
            return getattr(value, attribute)
    raise AxletreeError(f"this kit has no '{name}'")


@cache
def attributes_of(model: type[BaseModel]) -> dict[str, str]:
    """Names in the file by which a model's fields are known."""
    return {field.alias or name: name for name, field in model.model_fields.items()}
