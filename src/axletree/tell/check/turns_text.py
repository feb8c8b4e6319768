"""In which words is told how far frames or pictures were turned, and how well each fits?"""

from __future__ import annotations

import math
from datetime import datetime

from axletree.pole.frames.solve import FramesSolution
from axletree.tell.shared.words import signed


def middle_cell(at: datetime) -> str:
    """The middle of an exposure in a table."""
    return f"{at.day:>2} {at:%b %Y %H:%M:%S}"


def turned_cells(solved: FramesSolution, k: int) -> tuple[str, str]:
    """How far one was turned since the first, and its misfit across, in a table."""
    turned = f"{signed(solved.turned_h[k], 2)} h" if math.isfinite(solved.turned_h[k]) else "-"
    off = math.hypot(*solved.misfit_arcsec[k][:2])
    return turned, f"{off:.1f}″" if math.isfinite(off) else "left out"


def farther_apart_words(narrow_turn_h: float | None, what: str) -> list[str]:
    """That `what` farther apart would sharpen the answer most; none where they wouldn't."""
    if narrow_turn_h is None:
        return []
    return [
        f"The hour axis was turned by {narrow_turn_h:.1f} h in all: {what} farther apart, up to "
        "6 h, would sharpen this most."
    ]
