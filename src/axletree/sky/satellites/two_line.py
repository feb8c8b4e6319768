"""What does a set of two-line elements say, and is it written rightly?

Public: ``TwoLine``, ``TwoLineError``, ``read_set``, ``sets_of``.

Format: F. R. Hoots and R. L. Roehrich, Spacetrack Report #3, 1980, and its columns as D. A. Vallado
et al., AIAA 2006-6753, appendix B: 69 columns, the last the sum of all digits modulo 10 with each
minus counted as 1. A line with the name may stand before the two. Numbers of five digits, or with a
letter for the first two (Alpha-5: A is 10, I and O are left out).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from axletree.kit.errors import harmless
from axletree.kit.frozen import dataclass
from axletree.sky.orbits.packed import julian_date

# Years of two digits from 57, that of the first satellite, are of the 20th century.
_FIRST_YEAR = 57
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
_LINE_1 = re.compile(
    r"1 [ \dA-HJ-NP-Z][ \d]{4}[A-Z ] .{8} \d{2}[ \d]\d\d\.\d{8} [ +-][.]\d{8} [ +-]\d{5}[+-]\d "
    r"[ +-]\d{5}[+-]\d [ \d] [ \d]{4}\d",
    re.ASCII,
)
_LINE_2 = re.compile(
    r"2 [ \dA-HJ-NP-Z][ \d]{4} [ \d]{3}\.\d{4} [ \d]{3}\.\d{4} \d{7} [ \d]{3}\.\d{4} "
    r"[ \d]{3}\.\d{4} [ \d]\d\.\d{8}[ \d]{5}\d",
    re.ASCII,
)
LONGEST_NAME = 40


@dataclass(frozen=True)
class TwoLine:
    """One satellite: its name ('' where none stands there), number, both lines, the epoch as Julian
    date of UTC, and revolutions a day."""

    name: str
    number: int
    line1: str
    line2: str
    epoch_jd: float
    turns_per_day: float


class TwoLineError(ValueError):
    """Why a set can't be used; `offset`: in which of its lines (0: the first one given)."""

    def __init__(self, offset: int, why: str) -> None:
        super().__init__(why)
        self.offset, self.why = offset, why


def sets_of(lines: Sequence[tuple[int, str]]) -> Iterator[list[tuple[int, str]]]:
    """The lines (number, text) in sets: a name, if there is one, and the two lines after it.

    What belongs to no set comes alone, to be refused.
    """
    k = 0
    while k < len(lines):
        named = not lines[k][1].startswith(("1 ", "2 "))
        first = k + 1 if named else k
        whole = first + 1 < len(lines) and lines[first][1].startswith("1 ")
        if whole and lines[first + 1][1].startswith("2 "):
            yield list(lines[k : first + 2])
            k = first + 2
        else:
            yield [lines[k]]
            k += 1


def read_set(lines: Sequence[str]) -> TwoLine:
    """The satellite of a set of two or three lines; TwoLineError where it is wrong."""
    if len(lines) < 2:
        raise TwoLineError(0, "belongs to no pair of lines that begin with '1 ' and '2 '")
    skipped = len(lines) - 2
    line1, line2 = (line.rstrip() for line in lines[-2:])
    for offset, (line, form) in enumerate(((line1, _LINE_1), (line2, _LINE_2)), start=skipped):
        if len(line) != 69:
            raise TwoLineError(offset, f"{len(line)} columns instead of 69")
        if not form.fullmatch(line):
            raise TwoLineError(offset, f"not written in the columns of a line {line[0]}")
        if checksum(line) != int(line[68]):
            raise TwoLineError(offset, f"the last digit must be {checksum(line)}, not {line[68]}")
    if line1[2:7] != line2[2:7]:
        raise TwoLineError(skipped + 1, f"another satellite than line 1: {line2[2:7]}")
    name = ""
    if skipped:
        name = " ".join(harmless(lines[0]).removeprefix("0 ").split())[:LONGEST_NAME]
    turns = float(line2[52:63])
    if not 0.05 <= turns <= 20.0:
        raise TwoLineError(skipped + 1, f"{turns:g} turns a day: between 0.05 and 20 can be")
    return TwoLine(name, _number(line1[2:7], skipped), line1, line2, _epoch(line1, skipped), turns)


def checksum(line: str) -> int:
    """The sum of the first 68 columns' digits, each minus 1, modulo 10."""
    return sum(int(c) if c.isdigit() else c == "-" for c in line[:68]) % 10


def _number(text: str, offset: int) -> int:
    head, rest = text[0], text[1:].replace(" ", "0")
    if head in _LETTERS:
        return (10 + _LETTERS.index(head)) * 10000 + int(rest)
    plain = text.strip()
    if not plain.isdigit():
        raise TwoLineError(offset, f"'{plain}' is no satellite's number")
    return int(plain)


def _epoch(line1: str, offset: int) -> float:
    year, day = int(line1[18:20]), float(line1[20:32])
    if not 1.0 <= day < 367.0:
        raise TwoLineError(offset, f"day {day:g} of a year")
    return julian_date(year + (1900 if year >= _FIRST_YEAR else 2000), 1, 1.0) + day - 1.0
