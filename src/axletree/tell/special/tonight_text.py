"""What does one evening's sheet say of what is special tonight?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from zoneinfo import ZoneInfo

from axletree.evening.objects.tonight import TIMED
from axletree.evening.special.of_kit import is_great
from axletree.sky.special.kinds import SpecialNight
from axletree.tell.shared.words import clock
from axletree.tell.special.data import SpecialNightData
from axletree.tell.special.text import moon_in_shadow_words, special_caution, tonight_words


def head_words(
    nights: Iterable[SpecialNight],
    day: date,
    zone: ZoneInfo,
    sun_filters: bool,
    end: datetime | None,
) -> str:
    """What stands in the first lines of the sheet: the great ones, with the Sun's caution.

    `end` is when the evening's hours end: what comes only after them is said to.
    """
    parts = (
        part
        for night in nights
        if is_great(night)
        for part in (
            tonight_words(night, day, zone),
            _too_late(night, end, zone),
            special_caution(night, sun_filters),
        )
    )
    return " ".join(part for part in parts if part)


def _too_late(night: SpecialNight, end: datetime | None, zone: ZoneInfo) -> str:
    if end is None or night.kind not in TIMED or night.greatest.time <= end:
        return ""
    return f"This evening's hours end at {clock(end, zone)}, before that."


def special_notes(told: Iterable[SpecialNightData]) -> tuple[str, ...]:
    """The whole of each as a note, with the Sun's caution."""
    return tuple(" ".join(p for p in (one["words"], one["caution"]) if p) for one in told)


def moon_phase_words(nights: Iterable[SpecialNight], phase: str, zone: ZoneInfo) -> str:
    """The Moon's phase, but for a night on which it goes into the shadow."""
    told = (moon_in_shadow_words(night, zone) for night in nights)
    return next((words for words in told if words is not None), phase)
