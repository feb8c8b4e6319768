"""What stands below the drawing of the axis: measurements by their letters, what pens mean?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.kit.frozen import dataclass
from axletree.pole.solution.estimate import AxisEstimate
from axletree.tell.check.drawing_text import (
    and_more,
    pen_words,
    row_words,
)
from axletree.tell.shared.sheet import INK, WARN, Point, Sheet

_MARKS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
ROW = 22.0
MOST_ROWS = 12


@dataclass(frozen=True)
class ShownMeasurement:
    """One measurement in the drawing: what the list below calls it, and whether it was used."""

    words: str
    estimate: AxisEstimate
    used: bool = True


def mark_of(number: int) -> str:
    """The letter of a measurement, in the drawing and in the list."""
    return _MARKS[number % len(_MARKS)]


def listed_rows(measurements: Sequence[ShownMeasurement]) -> list[tuple[str, bool]]:
    """The list below the plot: words, and whether it was used; one left out is always named."""
    listed = [k for k, m in enumerate(measurements) if k < MOST_ROWS or not m.used]
    rows = [
        (
            row_words(mark_of(k), measurements[k].words, used=measurements[k].used),
            measurements[k].used,
        )
        for k in listed
    ]
    more = len(measurements) - len(listed)
    return [*rows, (and_more(more), True)] if more else rows


def draw_list(sheet: Sheet, at: Point, rows: Sequence[tuple[str, bool]]) -> None:
    """The list's rows from a point downwards, what was left out in the colour of a warning."""
    for k, (words, used) in enumerate(rows):
        sheet.text((at[0], at[1] + ROW * k), words, size=16, fill=INK if used else WARN)


def draw_pens(sheet: Sheet, at: Point, drawn: Sequence[AxisEstimate]) -> None:
    """What the pens mean, of those that are on this sheet; right of it ends at the point."""
    for k, row in enumerate(pen_words([estimate.rank for estimate in drawn])):
        sheet.note((at[0], at[1] + 20 * k), row, size=14, anchor="end")
