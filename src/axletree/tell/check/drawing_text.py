"""Which words stand on the drawing of the axis?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.kit.frozen import dataclass
from axletree.pole.solution.estimate import AxisEstimate
from axletree.tell.shared.text import error_words


@dataclass(frozen=True)
class CheckDrawingWords:
    """The words of the sheet: heading, scale, sides, and the circle that is good enough."""

    title: str
    description: str
    facing: str
    left: str
    right: str
    too_high: str
    too_low: str
    pole: str
    good: str
    good_everywhere: str


def drawing_words(estimate: AxisEstimate, good_arcmin: float, *, north: bool) -> CheckDrawingWords:
    """The words for an estimate as seen facing the elevated pole."""
    description = "The axis is known in one direction only."
    if estimate.rank == 2:
        description = (
            f"The axis stands {estimate.high_arcmin:+.1f} arcminutes above and "
            f"{estimate.east_arcmin:+.1f} arcminutes east of the pole; good enough is within "
            f"{good_arcmin:.1f} arcminutes."
        )
    return CheckDrawingWords(
        title="Where the axis points",
        description=description,
        facing=f"facing {'north' if north else 'south'}; arcminutes from the pole",
        left="west" if north else "east",
        right="east" if north else "west",
        too_high="too high",
        too_low="too low",
        pole="pole",
        good=f"good enough: {error_words(good_arcmin)}",
        good_everywhere=f"good enough: all of this sheet ({error_words(good_arcmin)})",
    )


def farther_out(mark: str) -> str:
    """Beside a measurement that lies beyond the sheet."""
    return f"{mark} is farther out"


def row_words(mark: str, words: str, *, used: bool) -> str:
    """A line of the list below the plot."""
    return f"{mark}  {words}" + ("" if used else "  (left out)")


def and_more(count: int) -> str:
    """Below a list that is longer than the sheet."""
    return f"and {count} more"


def pen_words(ranks: Sequence[int]) -> list[str]:
    """What the pens mean, of those that are on this sheet; the rank of all together first."""
    words = [
        "dark: 68 %, light: 95 %" if ranks[0] == 2 else "",
        "thin: each by itself, 1 σ" if 2 in ranks[1:] else "",
        "dashes: somewhere on this line" if 1 in ranks[1:] else "",
    ]
    return [row for row in words if row]
