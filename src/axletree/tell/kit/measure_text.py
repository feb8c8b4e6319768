"""In which words is it told what to measure first?"""

from __future__ import annotations

from axletree.mount.sure.measure_first import MeasureFirst
from axletree.tell.kit.dimension_text import dimension_words


def measure_words(one: MeasureFirst) -> str:
    """What to measure and what it brings: 'Crossing of the axes to the saddle
    (mount.head.saddle_distance_mm): rooms known to ±16 min instead of ±25 min'."""
    after, before = (f"±{s / 60.0:.0f} min" for s in (one.after_s, one.before_s))
    return f"{dimension_words(one.name)} ({one.name}): rooms known to {after} instead of {before}"
