"""What does a program get to know about what to measure first? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.mount.sure.measure_first import MeasureFirst
from axletree.stages.kit.measure import MeasureAnswer
from axletree.tell.kit.measure_text import measure_words
from axletree.tell.kit.tape_text import tape_words


class DimensionToMeasure(TypedDict):
    """A dimension that tells most once those before it are measured: half-widths of rooms' ends."""

    key: str
    room_error_before_s: float
    room_error_after_s: float
    words: str


class BroughtBackData(TypedDict):
    """Dimensions (keys) that, measured and found as the kit has them, let these objects in again
    which something may touch too probably now."""

    keys: list[str]
    objects: list[str]
    words: str


def measure_data(one: MeasureFirst) -> DimensionToMeasure:
    """What to measure and what it brings."""
    return {
        "key": one.name,
        "room_error_before_s": round(one.before_s),
        "room_error_after_s": round(one.after_s),
        "words": measure_words(one),
    }


class ToMeasureData(TypedDict):
    """A dimension to measure: its value so far in its unit, and where the tape goes."""

    first: DimensionToMeasure
    value: float
    sigma: float
    source_code: str
    tape: str


class KitMeasureData(TypedDict):
    """The answer of `axletree kit measure`: for which rooms, most telling first; what was
    written."""

    version: Literal[1]
    for_code: str
    date: str | None
    dimensions: list[ToMeasureData]
    written: list[str]


def kit_measure_data(answer: MeasureAnswer, written: list[str]) -> KitMeasureData:
    """What to measure for programs."""
    return {
        "version": 1,
        "for_code": answer.of.value,
        "date": None if answer.day is None else answer.day.isoformat(),
        "dimensions": [
            {
                "first": measure_data(one.first),
                "value": round(one.value, 3),
                "sigma": round(one.sigma, 3),
                "source_code": one.source.value,
                "tape": tape_words(one.first.name),
            }
            for one in answer.dimensions
        ],
        "written": written,
    }
