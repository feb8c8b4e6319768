"""How is a value of the kit shown in the person's units, and read back?

The kit itself is always metric. Exact by definition: the international yard and pound of 1959
(US Federal Register 24, 5348): 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg.
"""

from __future__ import annotations

from enum import Enum

from axletree.kit.errors import AxletreeError


class Unit(Enum):
    """A unit of a key of the kit."""

    MAG_PER_ARCSEC2 = "mag_per_arcsec2"
    ARCMIN_PER_DIVISION = "arcmin_per_division"
    TURNS_PER_DEGREE = "turns_per_degree"
    DEG_PER_TURN = "deg_per_turn"
    DEG_PER_S = "deg_per_s"
    MAG_PER_AIRMASS = "mag_per_airmass"
    DIVISIONS = "divisions"
    ARCSEC = "arcsec"
    ARCMIN = "arcmin"
    PERCENT = "percent"
    TEETH = "teeth"
    DEG = "deg"
    HPA = "hpa"
    MAG = "mag"
    UM = "um"
    PX = "px"
    MM = "mm"
    KG = "kg"
    MIN = "min"
    M = "m"
    S = "s"
    C = "c"
    H = "h"
    INCH = "in"
    FT = "ft"
    LB = "lb"
    F = "f"


_US: dict[Unit, tuple[Unit, float]] = {
    Unit.MM: (Unit.INCH, 25.4),
    Unit.M: (Unit.FT, 0.3048),
    Unit.KG: (Unit.LB, 0.45359237),
}
# A suffix that ends in another one stands before it.
_SUFFIXES: tuple[tuple[str, Unit], ...] = (
    ("_arcsec2", Unit.MAG_PER_ARCSEC2),
    ("_arcmin_per_division", Unit.ARCMIN_PER_DIVISION),
    ("_turns_per_degree", Unit.TURNS_PER_DEGREE),
    ("_deg_per_turn", Unit.DEG_PER_TURN),
    ("_deg_per_s", Unit.DEG_PER_S),
    ("_per_airmass", Unit.MAG_PER_AIRMASS),
    ("_divisions", Unit.DIVISIONS),
    ("_arcsec", Unit.ARCSEC),
    ("_arcmin", Unit.ARCMIN),
    ("_percent", Unit.PERCENT),
    ("_teeth", Unit.TEETH),
    ("_deg", Unit.DEG),
    ("_hpa", Unit.HPA),
    ("_mag", Unit.MAG),
    ("_um", Unit.UM),
    ("_px", Unit.PX),
    ("_mm", Unit.MM),
    ("_kg", Unit.KG),
    ("_min", Unit.MIN),
    ("_m", Unit.M),
    ("_s", Unit.S),
    ("_c", Unit.C),
    ("_h", Unit.H),
)
# The trade counts these in millimetres everywhere.
OPTICAL = ("focal_length_mm", "aperture_mm", "obstruction_mm", "field_stop_mm", "pitch_mm")


def unit_of(key: str, units: str = "metric") -> Unit | None:
    """The unit that a key is shown in; None for a plain number or a word."""
    metric = next((unit for suffix, unit in _SUFFIXES if key.endswith(suffix)), None)
    if metric is None or units != "us" or key.endswith(OPTICAL):
        return metric
    if metric is Unit.C:
        return Unit.F
    return _US[metric][0] if metric in _US else metric


def shown(value: float, key: str, units: str = "metric") -> float:
    """The kit's value in the unit that the key is shown in."""
    unit = unit_of(key, units)
    if unit is Unit.F:
        return value * 1.8 + 32.0
    return next((value / by for us, by in _US.values() if us is unit), value)


def stored(value: float, key: str, units: str = "metric") -> float:
    """The value for the kit, from the unit that the key is shown in, to a millionth."""
    unit = unit_of(key, units)
    if unit is Unit.F:
        return round((value - 32.0) / 1.8, 6)
    return round(next((value * by for us, by in _US.values() if us is unit), value), 6)


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
