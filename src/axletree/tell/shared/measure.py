"""How much room do words take, and how many of them fit?

The typeface's own advances and kerning, from the table that comes with it; pages, field sheet,
drawings and paper all carry that typeface.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import Literal

from axletree.data import data_path
from axletree.kit.frozen import dataclass

Style = Literal["regular", "semibold", "italic"]
# From this weight on letters are semibold: the typeface comes in no other that is heavier.
SEMIBOLD = 600
# A letter that the typeface lacks comes from the reader's machine; those of the widest scripts
# take as much as the type is high.
_UNKNOWN = 1.0
# A space at which a row may end: none between a figure and its unit.
_BEFORE_A_WORD = re.compile(
    r"(?<!\d) | (?!(?:%|mm|m|km|cm|kg|g|N|N·m|in|ft|lb|lbf|oz|s|h|min|mag|hPa)(?![^\W_]))"
)


@dataclass(frozen=True)
class Widths:
    """One style's table, in thousandths of the type's size.

    `kerning(a, b)` is what the second of two letters stands nearer (negative) or farther.
    """

    glyphs: dict[str, int]
    advances: dict[str, int]
    left: dict[str, int]
    right: dict[str, int]
    values: list[list[int]]

    def kerning(self, a: str, b: str) -> int:
        row, column = self.left.get(a), self.right.get(b)
        return 0 if row is None or column is None else self.values[row][column]


@cache
def widths(style: Style) -> Widths:
    """The table of a style as it was built with the typeface."""
    table = json.loads(data_path("typeface/widths.json").read_text(encoding="utf-8"))
    one = table["styles"][style]
    return Widths(
        glyphs=dict(zip(one["letters"], one["glyphs"], strict=True)),
        advances=dict(zip(one["letters"], one["advances"], strict=True)),
        left=dict(zip(one["letters"], one["left"], strict=True)),
        right=dict(zip(one["letters"], one["right"], strict=True)),
        values=one["values"],
    )


def style_of(weight: int, italic: bool = False) -> Style:
    """Which style of the typeface words of a weight (CSS's, 400 is plain) are set in."""
    if italic:
        return "italic"
    return "semibold" if weight >= SEMIBOLD else "regular"


def width_of(words: str, size: float = 14.0, weight: int = 400, italic: bool = False) -> float:
    """The room that words take in a row, in the unit of `size`.

    What a style lacks is taken from the plain one, as browsers do (see the app's `sheet.css`).
    """
    own, plain = widths(style_of(weight, italic)), widths("regular")
    total, before = 0.0, ""
    for letter in _as_set(words, own):
        advance = own.advances.get(letter)
        if advance is None:
            advance = plain.advances.get(letter, round(1000 * _UNKNOWN))
        total += advance + own.kerning(before, letter)
        before = letter
    return total * size / 1000


def _as_set(words: str, known: Widths) -> Iterator[str]:
    """The letters, each with its accents where the style has both in one, else apart."""
    for letter in unicodedata.normalize("NFC", words):
        parts = unicodedata.normalize("NFD", letter)
        if letter not in known.advances and all(part in known.advances for part in parts):
            yield from parts
        elif unicodedata.category(letter) != "Cf":  # marks for breaking and direction: no width
            yield letter


def wrapped(words: str, width: float, *, size: float = 14.0, indent: str = "") -> list[str]:
    """Rows broken at spaces so that each fits the width; `indent` goes before all but the first.

    A figure and its unit stay in one row.
    """
    rows, row = [], ""
    for word in _BEFORE_A_WORD.split(words):
        longer = f"{row} {word}" if row else word
        if row and width_of(longer, size) > width:
            rows.append(row)
            row = indent + word
        else:
            row = longer
    return [*rows, row]


def shortened(words: str, width: float, size: float = 14.0, weight: int = 400) -> str:
    """The words, or as many letters of them as fit the width and an ellipsis."""
    if width_of(words, size, weight) <= width:
        return words
    most = len(words)
    while most > 1 and width_of(words[:most].rstrip() + "…", size, weight) > width:
        most -= 1
    return words[:most].rstrip() + "…"
