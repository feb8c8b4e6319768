"""By how much does what the sky has on a night lift its score?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from axletree.evening.special.of_kit import is_great
from axletree.evening.year.nights_scored import Calendar, ScoredNight
from axletree.sky.special.kinds import SUN_ECLIPSES, SpecialKind, SpecialNight

# Of what a night lacks to the full hundred, so much is given for a great one of each kind (ours);
# the smaller ones of `SMALL_PART` of it.
GIVEN = {
    SpecialKind.MOON_ECLIPSE_TOTAL: 0.8,
    SpecialKind.MOON_ECLIPSE_PARTIAL: 0.5,
    SpecialKind.MOON_ECLIPSE_PENUMBRAL: 0.2,
    SpecialKind.OCCULTATION: 0.35,
    SpecialKind.MEETING: 0.3,
    SpecialKind.METEORS: 0.35,
    SpecialKind.OPPOSITION: 0.1,
    SpecialKind.RINGS_EDGE_TO_EARTH: 0.1,
    SpecialKind.RINGS_EDGE_TO_SUN: 0.1,
    SpecialKind.ELONGATION_EVENING: 0.1,
    SpecialKind.ELONGATION_MORNING: 0.1,
    SpecialKind.THIN_MOON: 0.3,
}
SMALL_PART = 0.3
# What comes outside these people's hours draws some of them out all the same, if it is great; on
# the other evenings of a meeting less of it is left (ours).
OUTSIDE_PART, OTHER_EVENING_PART = 0.4, 0.5
# What is seen in the dusk before the first stop still belongs to the evening.
_BEFORE = timedelta(hours=1.5)
# These last for weeks: no hour of the evening is theirs.
_ALL_NIGHT = frozenset(
    {
        SpecialKind.OPPOSITION,
        SpecialKind.RINGS_EDGE_TO_EARTH,
        SpecialKind.RINGS_EDGE_TO_SUN,
    }
)


def with_special(calendar: Calendar, special: Sequence[SpecialNight]) -> Calendar:
    """The calendar with what is special named on its nights, and their scores lifted by it.

    An eclipse of the Sun is named on its day and lifts no night.
    """
    nights = []
    for night in calendar.nights:
        here = tuple(s for s in special if s.day == night.date or night.date in s.nights)
        nights.append(_lifted(night, here) if here else night)
    return replace(calendar, nights=tuple(nights))


def _lifted(night: ScoredNight, here: tuple[SpecialNight, ...]) -> ScoredNight:
    missing = missing_of_bodies = 1.0
    for one in here:
        part = part_given(night, one)
        missing *= 1.0 - part
        if one.kind is not SpecialKind.METEORS:
            missing_of_bodies *= 1.0 - part
    lift = (100.0 - night.score) * (1.0 - missing)
    bodies = night.moon_and_planets
    return replace(
        night,
        score=night.score + lift,
        lift=lift,
        moon_and_planets=bodies + (100.0 - bodies) * (1.0 - missing_of_bodies),
        special=here,
    )


def part_given(night: ScoredNight, one: SpecialNight) -> float:
    """What one thing gives of what its night lacks, 0 to 1; nothing where there is no session."""
    if night.begin is None or night.end is None or one.kind in SUN_ECLIPSES:
        return 0.0
    great = is_great(one)
    part = GIVEN[one.kind] * (1.0 if great else SMALL_PART)
    if one.day != night.date:
        return part * OTHER_EVENING_PART
    if one.kind in _ALL_NIGHT or _in_hours(one, night.begin, night.end):
        return part
    return part * OUTSIDE_PART if great else 0.0


def _in_hours(one: SpecialNight, begin: datetime, end: datetime) -> bool:
    """Whether a moment of it is seen in the session or the dusk before, or its span holds it."""
    first = begin.timestamp() - _BEFORE.total_seconds()
    seen = [m.time.timestamp() for m in (one.greatest, *one.moments) if m.seen]
    return bool(seen) and min(seen) <= end.timestamp() and max(seen) >= first
