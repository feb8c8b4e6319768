"""What does one line of the Minor Planet Center's formats say?

Public: ``BodyLine``, ``LineError``, ``read_line``, ``LineKind``, ``kind_of_line``.

Source: Minor Planet Center, 'Ephemerides and Orbital Elements Format' for comets (export format,
columns 1 to 168) and 'Export Format for Minor-Planet Orbits' (columns 1 to 202). Times are
terrestrial, elements heliocentric, equinox J2000.0.
"""

from __future__ import annotations

import re
from enum import Enum

from axletree.kit.errors import harmless
from axletree.kit.frozen import dataclass
from axletree.sky.orbits.names import BodyName, comet_name, minor_planet_name
from axletree.sky.orbits.orbit import Orbit
from axletree.sky.orbits.packed import (
    julian_date,
    unpacked_day,
    unpacked_designation,
    unpacked_number,
)
from axletree.sky.orbits.two_body import GAUSS_K

# Longer than both formats' lines by far.
LONGEST_LINE = 400


class LineKind(Enum):
    """In which of the formats a line is written."""

    COMET = "comet"
    MINOR_PLANET = "minor_planet"


@dataclass(frozen=True)
class BodyLine:
    """A body as a line gives it."""

    name: BodyName
    orbit: Orbit


class LineError(ValueError):
    """Why a line can't be used: `columns` in which it is wrong (from 1; '' for all), and `why`."""

    def __init__(self, columns: str, why: str) -> None:
        super().__init__(why)
        self.columns, self.why = columns, why


def kind_of_line(line: str) -> LineKind | None:
    """The format of a line, by what no line of the other can hold; None: neither."""
    if re.fullmatch(r"[IJK]\d\d[0-9A-Za-z]{2}", line[20:25]):
        return LineKind.MINOR_PLANET
    if re.fullmatch(r"[ \d]{4}[CPDXAI]", line[:5]) and re.fullmatch(r"[- \d]{3}\d", line[14:18]):
        return LineKind.COMET
    return None


def read_line(line: str) -> BodyLine:
    """The body of one line; LineError with the columns where it is wrong."""
    if len(line) > LONGEST_LINE:
        raise LineError("", f"longer than {LONGEST_LINE} letters, no line of these formats")
    kind = kind_of_line(line)
    if kind is LineKind.COMET:
        return _comet(line)
    if kind is LineKind.MINOR_PLANET:
        return _minor_planet(line)
    raise LineError("", "neither a comet's nor a minor planet's line in fixed columns")


def _comet(line: str) -> BodyLine:
    name = comet_name(harmless(line[102:158]).strip()) or _unnamed_comet(line)
    if name is None:
        raise LineError("103-158", "no designation")
    perihelion = _day(line, (14, 18), (19, 21), (22, 29))
    given = None
    if line[81:89].strip():
        given = _day(line, (81, 85), (85, 87), (87, 89))
    orbit = Orbit(
        perihelion_au=_number(line, 30, 39, 1e-4, 200.0),
        eccentricity=_number(line, 41, 49, 0.0, 20.0),
        perihelion_tt=perihelion,
        argument_deg=_number(line, 51, 59, -360.0, 360.0),
        node_deg=_number(line, 61, 69, -360.0, 360.0),
        inclination_deg=_number(line, 71, 79, 0.0, 180.0),
        comet=True,
        absolute_magnitude=_optional(line, 91, 95, -30.0, 40.0),
        slope=_optional(line, 96, 100, -30.0, 90.0),
        given_tt=given,
    )
    return BodyLine(name, orbit)


def _unnamed_comet(line: str) -> BodyName | None:
    """The designation from the first twelve columns, where the last ones are missing."""
    letter = line[4]
    if line[:4].strip():
        return comet_name(f"{int(line[:4])}{letter}")
    designation = unpacked_designation(line[5:12])
    return None if designation is None else comet_name(f"{letter}/{designation}")


def _minor_planet(line: str) -> BodyLine:
    packed = line[:7].strip()
    number, designation = unpacked_number(packed), unpacked_designation(packed)
    name = minor_planet_name(number, designation, harmless(line[166:194]).strip())
    if name is None:
        raise LineError("1-7", f"'{harmless(packed)}' is no packed designation")
    try:
        given = unpacked_day(line[20:25])
    except ValueError as error:
        raise LineError("21-25", str(error)) from None
    e = _number(line, 70, 79, 0.0, 0.999999)
    a = _number(line, 92, 103, 1e-3, 20000.0)
    # Mean motion from a, so that place and motion fit together.
    n_deg_per_day = 57.29577951308232 * GAUSS_K / a**1.5
    anomaly = (_number(line, 26, 35, -360.0, 360.0) + 180.0) % 360.0 - 180.0
    orbit = Orbit(
        perihelion_au=a * (1.0 - e),
        eccentricity=e,
        perihelion_tt=given - anomaly / n_deg_per_day,
        argument_deg=_number(line, 37, 46, -360.0, 360.0),
        node_deg=_number(line, 48, 57, -360.0, 360.0),
        inclination_deg=_number(line, 59, 68, 0.0, 180.0),
        comet=False,
        absolute_magnitude=_optional(line, 8, 13, -30.0, 40.0),
        slope=_optional(line, 14, 19, -2.0, 2.0),
        given_tt=given,
    )
    return BodyLine(name, orbit)


def _number(line: str, begin: int, end: int, least: float, most: float) -> float:
    found = _optional(line, begin, end, least, most)
    if found is None:
        raise LineError(f"{begin + 1}-{end}", "empty")
    return found


def _optional(line: str, begin: int, end: int, least: float, most: float) -> float | None:
    text = line[begin:end].strip()
    if not text:
        return None
    columns = f"{begin + 1}-{end}"
    if not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", text, re.ASCII):
        raise LineError(columns, f"'{harmless(text)}' is not a number")
    value = float(text)
    if not least <= value <= most:
        raise LineError(columns, f"{text} must lie between {least:g} and {most:g}")
    return value


def _day(line: str, year: tuple[int, int], month: tuple[int, int], day: tuple[int, int]) -> float:
    """The Julian date of year, month and day in these columns."""
    columns = f"{year[0] + 1}-{day[1]}"
    text = line[year[0] : day[1]]
    parts = [line[slice(*where)].strip() for where in (year, month, day)]
    whole = all(re.fullmatch(r"-?\d+", part, re.ASCII) for part in parts[:2])
    if not whole or not re.fullmatch(r"\d+\.?\d*", parts[2], re.ASCII):
        raise LineError(columns, f"'{harmless(text)}' is no date")
    try:
        return julian_date(int(parts[0]), int(parts[1]), float(parts[2]))
    except ValueError as error:
        raise LineError(columns, str(error)) from None
