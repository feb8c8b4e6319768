"""In which words is told what a way rests on: chances and a mount, assumed or learned?"""

from __future__ import annotations

import math

from axletree.find.finding import FindBy, Finding
from axletree.find.practice.learned import FoundBy, LearnedWay
from axletree.stages.target.find import FindAnswer
from axletree.tell.shared.words import day_words

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


def reckoned_words(answer: FindAnswer) -> str:
    """With which axes and circles the ways are reckoned, by which notes; '' where there is none."""
    state, model = answer.state, answer.model
    if model is None:
        return ""
    if state is None:
        high, east = (f"{sigma / 60.0:.1f}°" for sigma in model.sigmas_arcmin[:2])
        return (
            f"Turns and circles as on a mount that nobody measured, its axis set to {high} in "
            f"height and {east} to the side."
        )
    since = state.stands_since
    stands = "" if since is None else f", the mount standing where it stood on {day_words(since)}"
    return (
        "Turns and circles with this mount's own axes and circles, by the notes of the evening of "
        f"{day_words(state.evening)}{stands}; --as-kit leaves them out."
    )
