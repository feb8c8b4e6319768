"""How is a value of the kit shown in the person's units, and read back?

The kit itself is always metric. Exact by definition: the international yard and pound of 1959
(US Federal Register 24, 5348): 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg.
"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError

_US: dict[str, tuple[str, float]] = {
    "mm": ("in", 25.4),
    "m": ("ft", 0.3048),
    "kg": ("lb", 0.45359237),
}
_SUFFIXES: tuple[tuple[str, str], ...] = (
    ("_arcsec2", "mag per square arcsecond"), ("_arcmin_per_division", "arcminutes a division"),
    ("_turns_per_degree", "turns a degree"), ("_deg_per_turn", "degrees a turn"),
    ("_deg_per_s", "degrees a second"), ("_per_airmass", "mag an airmass"),
    ("_divisions", "divisions"), ("_arcsec", "arcseconds"), ("_arcmin", "arcminutes"),
    ("_percent", "per cent"), ("_teeth", "teeth"), ("_deg", "degrees"), ("_hpa", "hPa"),
    ("_mag", "mag"), ("_um", "micrometres"), ("_px", "pixels"), ("_mm", "mm"), ("_kg", "kg"),
    ("_min", "minutes"), ("_m", "m"), ("_s", "seconds"), ("_c", "°C"), ("_h", "hours"),
)  # fmt: skip
# The trade counts these in millimetres everywhere.
OPTICAL = ("focal_length_mm", "aperture_mm", "obstruction_mm", "field_stop_mm", "pitch_mm")


def unit_of(key: str, units: str = "metric") -> str:
    """The unit that a key is shown in, in words; '' for a plain number or a word."""
    metric = next((word for suffix, word in _SUFFIXES if key.endswith(suffix)), "")
    if units != "us" or key.endswith(OPTICAL):
        return metric
    if metric == "°C":
        return "°F"
    return _US[metric][0] if metric in _US else metric


def shown(value: float, key: str, units: str = "metric") -> float:
    """The kit's value in the unit that the key is shown in."""
    unit = unit_of(key, units)
    if unit == "°F":
        return value * 1.8 + 32.0
    return next((value / by for name, by in _US.values() if name == unit), value)


def stored(value: float, key: str, units: str = "metric") -> float:
    """The value for the kit, from the unit that the key is shown in, to a millionth."""
    unit = unit_of(key, units)
    if unit == "°F":
        return round((value - 32.0) / 1.8, 6)
    return round(next((value * by for name, by in _US.values() if name == unit), value), 6)


def shown_error(error: float, key: str, units: str = "metric") -> float:
    """An error of the kit's value in the unit that the key is shown in."""
    return shown(error, key, units) - shown(0.0, key, units)  # degrees may count from elsewhere


def number_and_error(text: str) -> tuple[float, float | None]:
    """A number as people write it, and the error behind a ± (or +-, +/-) where there is one."""
    plain = text.replace("+/-", "±").replace("+-", "±").replace("+−", "±")
    value, mark, error = plain.partition("±")
    if not mark:
        return number_from(text), None
    sigma = number_from(error)
    if not sigma > 0:
        raise AxletreeError(f"an error of {error.strip()[:40]} must be more than 0")
    return number_from(value), sigma


def number_from(text: str) -> float:
    """A number as people write it: a comma for a point, a true minus sign. Refuses the rest."""
    plain = text.strip().replace("−", "-").replace(" ", "")
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        value = float("nan")
    if not abs(value) < 1e12:
        raise AxletreeError(f"'{text.strip()[:40]}' is not a number; write it like 12.5")
    return value
