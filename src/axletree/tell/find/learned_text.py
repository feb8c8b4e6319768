"""In which words is it told where a chance comes from: assumed, or learned from a log?"""

from __future__ import annotations

import math

from axletree.find.finding import FindBy, Finding
from axletree.find.practice.learned import FoundBy, LearnedWay

_WAYS = {FindBy.STEPS: FoundBy.STEPS, FindBy.HOP: FoundBy.HOP}


def learned_of(found: Finding, by: FindBy | None) -> LearnedWay | None:
    """What the chance of a way was learned from; None where it is assumed."""
    if found.learned is None or by not in _WAYS:
        return None
    way = found.learned.of(_WAYS[by])
    return way if way is not None and way.tries else None


def source_words(found: Finding, by: FindBy | None, chance: float | None) -> str:
    """Where the chance (0-1) of a way comes from, its error, how long it takes; no full stop."""
    way = learned_of(found, by)
    if way is None:
        return "assumed"
    error = ""
    if chance is not None:
        low_chance, high_chance = way.told_range(chance)
        error = f"{math.floor(100.0 * low_chance)} to {math.ceil(100.0 * high_chance)} %, "
    low = way.factor * (1.0 - way.factor_log_sigma), way.factor * (1.0 + way.factor_log_sigma)
    spread = (low[1] - low[0]) / 2.0
    words = (
        f"{error}learned from {way.found} of {way.tries} found: your errors are {way.factor:.1f} ± "
        f"{spread:.1f} times the assumed ones"
    )
    if way.timed:
        words += f"; it takes {way.minutes:.0f} ± {max(way.minutes_sigma, 1.0):.0f} minutes"
    return words
