"""Which day and which designation do the Minor Planet Center's packed letters mean?

Public: ``unpacked_day``, ``unpacked_number``, ``unpacked_designation``, ``julian_date``.

Source: Minor Planet Center, 'Packed Provisional and Permanent Designations' and 'Packed Dates'.
"""

from __future__ import annotations

import re
from calendar import isleap

from axletree.kit.errors import AxletreeError

_DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
_CENTURIES = {"I": 18, "J": 19, "K": 20}


def julian_date(year: int, month: int, day: float) -> float:
    """The Julian date of a day of the Gregorian calendar, 0 h at a whole day.

    Refuses a month or a day that isn't. Source: H. F. Fliegel and T. C. van Flandern 1968,
    Communications of the ACM 11, 657.
    """
    lengths = (31, 28 + isleap(year), 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    if not 1 <= month <= 12 or not 1.0 <= day < lengths[month - 1] + 1.0:
        raise AxletreeError(f"{year}-{month}-{day:g} is no day")
    a = (14 - month) // 12
    y, m = year + 4800 - a, month + 12 * a - 3
    noon = (153 * m + 2) // 5 + 365 * y + y // 4 - y // 100 + y // 400 - 32045
    return noon + day - 0.5


def unpacked_day(packed: str) -> float:
    """The Julian date (0 h) of 'K264L': century, year, month, day. ValueError for others."""
    match = re.fullmatch(r"([IJK])(\d\d)([1-9A-C])([1-9A-V])", packed)
    if match is None:
        raise ValueError(f"'{packed}' is no packed date")
    year = _CENTURIES[match[1]] * 100 + int(match[2])
    return julian_date(year, _DIGITS.index(match[3]), _DIGITS.index(match[4]))


def unpacked_number(packed: str) -> int | None:
    """The number of a minor planet: '00433', 'A0345' (100345), '~0000' (620000); else None."""
    text = packed.strip()
    if re.fullmatch(r"[0-9A-Za-z]\d{4}", text):
        return _DIGITS.index(text[0]) * 10000 + int(text[1:])
    if re.fullmatch(r"~[0-9A-Za-z]{4}", text):
        number = 0
        for letter in text[1:]:
            number = number * 62 + _DIGITS.index(letter)
        return 620000 + number
    return None


def unpacked_designation(packed: str) -> str | None:
    """'2007 TA418' for 'K07Tf8A', '2040 P-L' for 'PLS2040', '2023 A3' for the comet's 'K23A030';
    None for what is none."""
    text = packed.strip()
    survey = re.fullmatch(r"(P|T)(L|1|2|3)S(\d{4})", text)
    if survey is not None:
        return f"{survey[3]} {survey[1]}-{survey[2]}"
    long = re.fullmatch(r"_([0-9A-Za-z])([A-HJ-Y])([0-9A-Za-z]{4})", text)
    if long is not None:
        return _long_designation(*long.groups())
    match = re.fullmatch(r"([IJK])(\d\d)([A-HJ-Y])([0-9A-Za-z])(\d)([0-9A-Za-z])", text)
    if match is None:
        return None
    century, year, half, tens, ones, second = match.groups()
    cycle = _DIGITS.index(tens) * 10 + int(ones)
    head = f"{_CENTURIES[century]}{year} {half}"
    if second == "0":  # a comet has no second letter, but an order
        return f"{head}{cycle}"
    if second.islower():  # a comet's fragment
        return f"{head}{cycle}-{second.upper()}"
    return f"{head}{second}{cycle or ''}"


def _long_designation(year: str, half: str, rest: str) -> str:
    """The extended form for a half month's 15,501st discovery and later: '_QC0000'."""
    number = 0
    for letter in rest:
        number = number * 62 + _DIGITS.index(letter)
    number += 25 * 620
    second = "ABCDEFGHJKLMNOPQRSTUVWXYZ"[number % 25]
    return f"20{_DIGITS.index(year):02d} {half}{second}{number // 25}"
