"""How are a scale reading, a distance and the weights on a shaft written on the command line?"""

from __future__ import annotations

import re

from axletree.kit.errors import AxletreeError
from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.balance.scale_reading import Axis, LeverEnd, OnShaft, ScaleReading

_KG = {
    "kg": 1.0,
    "g": 0.001,
    "n": 1.0 / STANDARD_GRAVITY_M_S2,
    "lb": 0.45359237,
    "oz": 0.0283495231,
}
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}


def _quantity(text: str, units: dict[str, float], what: str) -> float:
    match = re.fullmatch(r"\s*([0-9]*\.?[0-9]+)\s*([A-Za-z]+)\s*", text.replace(",", "."))
    if not match or match[2].lower() not in units:
        raise AxletreeError(f"'{text}' is not {what} with a unit ({', '.join(units)})")
    return float(match[1]) * units[match[2].lower()]


def reading_kg(text: str) -> float:
    """A scale reading such as '0.85kg', '8.3N' or '30oz', as kilograms."""
    return _quantity(text, _KG, "a scale reading")


def distance_mm(text: str) -> float:
    """A length such as '320mm', '32 cm' or '12.5in', as millimetres."""
    return _quantity(text, _MM, "a distance")


def scale_reading(axis: str, end: str, reading: str, distance: str) -> ScaleReading:
    """A luggage scale's reading from the four words that tell it: hour tube 0.8kg 300mm."""
    axes = {member.value: member for member in Axis}
    ends = {member.value: member for member in LeverEnd}
    if axis.lower() not in axes:
        raise AxletreeError(f"axis '{axis}' is neither 'hour' nor 'declination'")
    if end.lower() not in ends:
        raise AxletreeError(f"end '{end}' is none of {', '.join(ends)}")
    return ScaleReading(
        axes[axis.lower()], ends[end.lower()], reading_kg(reading), distance_mm(distance)
    )


def on_shaft(text: str) -> tuple[OnShaft, ...]:
    """'5.1@120 3.4@185' or '5.1 3.4' or 'none' as weights on the shaft (kg, gap in mm)."""
    if text.strip().lower() in ("none", "nothing", ""):
        return ()
    found = []
    for word in re.split(r"[\s,;+]+", text.strip()):
        match = re.fullmatch(r"([0-9]*\.?[0-9]+)(?:kg)?(?:@([0-9]*\.?[0-9]+)(?:mm)?)?", word)
        if not match or not float(match[1]) > 0:
            raise AxletreeError(
                f"'{word}' is not a weight on the shaft; write kilograms and the gap in mm: 5.1@120"
            )
        found.append(OnShaft(float(match[1]), float(match[2]) if match[2] else None))
    return tuple(found)
