"""What do chances and minutes come from, for a program? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.tell.find.learned_text import learned_of


class LearnedWayData(TypedDict):
    """What a log taught of turns or hop: of `tries`, `found`; `factor` times the assumed errors,
    with the error of its logarithm; the minutes a find takes, from `timed` tries."""

    by: str
    tries: int
    found: int
    factor: float
    factor_log_sigma: float
    timed: int
    minutes: float
    minutes_sigma: float


def chance_sigma(found: Finding) -> float | None:
    """The error of the chance of the way to try first; None where that is assumed."""
    way = learned_of(found, found.first)
    return None if way is None or found.chance is None else way.told_sigma(found.chance)


def learned_data(found: Finding) -> list[LearnedWayData]:
    """What the chances and minutes were learned from, by way; [] where they are assumed."""
    return [
        {
            "by": way.by.value,
            "tries": way.tries,
            "found": way.found,
            "factor": way.factor,
            "factor_log_sigma": way.factor_log_sigma,
            "timed": way.timed,
            "minutes": way.minutes,
            "minutes_sigma": way.minutes_sigma,
        }
        for way in (() if found.learned is None else found.learned.ways)
    ]
