"""Lines in the Minor Planet Center's formats, written column by column for the tests.

The columns are typed anew from the published descriptions, not taken from the code that reads them.
Every body is made up.
"""

from __future__ import annotations

from dataclasses import dataclass

import erfa


@dataclass(frozen=True)
class Made:
    """Six elements; `epoch_jd` and `perihelion_jd` are Julian dates of TT."""

    q: float
    e: float
    argument: float
    node: float
    inclination: float
    perihelion_jd: float
    epoch_jd: float
    light: float = 8.0
    slope: float = 4.0


def comet_line(made: Made, name: str = "C/2026 Z9 (Madeup)") -> str:
    """One line of the export format for comets."""
    ty, tm, td, tf = erfa.jd2cal(made.perihelion_jd, 0.0)
    ey, em, ed, _ = erfa.jd2cal(made.epoch_jd, 0.0)
    number, letter = "    ", name[0]
    if name[0].isdigit():
        digits = name.split("/")[0]
        number, letter = f"{digits[:-1]:0>4}", digits[-1]
    row = [" "] * 168

    def put(first: int, text: str) -> None:
        row[first - 1 : first - 1 + len(text)] = text

    put(1, number)
    put(5, letter)
    put(15, f"{ty:4d}")
    put(20, f"{tm:02d}")
    put(23, f"{td + tf:7.4f}")
    put(31, f"{made.q:9.6f}")
    put(42, f"{made.e:8.6f}")
    put(52, f"{made.argument:8.4f}")
    put(62, f"{made.node:8.4f}")
    put(72, f"{made.inclination:8.4f}")
    put(82, f"{ey:4d}{em:02d}{ed:02d}")
    put(92, f"{made.light:4.1f}")
    put(97, f"{made.slope:4.1f}")
    put(103, name)
    put(160, "MADE  1")
    return "".join(row).rstrip()


def minor_planet_line(made: Made, number: int = 9433, name: str = "Madeup") -> str:
    """One line of the export format for minor planets' orbits."""
    a = made.q / (1.0 - made.e)
    n = 0.9856076686 / a**1.5
    anomaly = (made.epoch_jd - made.perihelion_jd) * n % 360.0
    row = [" "] * 202

    def put(first: int, text: str) -> None:
        row[first - 1 : first - 1 + len(text)] = text

    put(1, f"{number:05d}")
    put(9, f"{made.light:5.2f}")
    put(15, f"{made.slope:5.2f}")
    put(21, packed_day(made.epoch_jd))
    put(27, f"{anomaly:9.5f}")
    put(38, f"{made.argument:9.5f}")
    put(49, f"{made.node:9.5f}")
    put(60, f"{made.inclination:9.5f}")
    put(71, f"{made.e:9.7f}")
    put(81, f"{n:11.8f}")
    put(93, f"{a:11.7f}")
    put(108, "MADE 1")
    put(167, f"({number}) {name}" if name else f"({number})")
    put(195, "20261101")
    return "".join(row).rstrip()


def packed_day(jd: float) -> str:
    """'K264L' for 2026 April 21."""
    year, month, day, _ = erfa.jd2cal(jd, 0.0)
    letters = "0123456789ABCDEFGHIJKLMNOPQRSTUV"
    return f"{'ABCDEFGHIJK'[year // 100 - 10]}{year % 100:02d}{letters[month]}{letters[day]}"
