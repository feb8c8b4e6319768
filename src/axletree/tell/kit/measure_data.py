"""What does a program get to know about what to measure first? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.mount.sure.measure_first import MeasureFirst
from axletree.tell.kit.measure_text import measure_words


class DimensionToMeasure(TypedDict):
    """A dimension that tells most once those before it are measured: half-widths of rooms' ends."""

    key: str
    room_error_before_s: float
    room_error_after_s: float
    words: str


def measure_data(one: MeasureFirst) -> DimensionToMeasure:
    """What to measure and what it brings."""
    return {
        "key": one.name,
        "room_error_before_s": round(one.before_s),
        "room_error_after_s": round(one.after_s),
        "words": measure_words(one),
    }
