"""What happens on an object tonight counts in its worth."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from axletree.evening.objects.tonight import (
    FEATURE_POINTS,
    FIRST_POINTS,
    MORE_POINTS,
    MOST_FEATURE_POINTS,
    SPECIAL_POINTS,
    TonightSky,
    tonight_among,
    tonight_of,
    tonight_points,
)
from axletree.kit.kit import demo_kit
from axletree.sky.observer import Observer, observer_of
from axletree.sky.special.kinds import SpecialKind

HERE = Observer(38.6, -7.9, 300.0)
KEYS, NAMES = ("moon", "jupiter", "NGC 224"), ("Moon", "Jupiter", "M31")


def night(first: tuple[int, int], last: tuple[int, int], day: date) -> TonightSky:
    start, stop = (datetime(day.year, day.month, day.day, *at, tzinfo=UTC) for at in (first, last))
    return tonight_among(HERE, start, stop, ())


def test_europa_and_its_shadow_count_while_they_come_or_go() -> None:
    """13 February 2027: Europa is before the disc from 18:50 to 21:42 UTC, its shadow from 18:58
    to 21:51; at 20 h nothing begins or ends."""
    whole = night((19, 30), (22, 30), date(2027, 2, 13))
    assert tonight_points(KEYS, NAMES, whole)[1] == FIRST_POINTS + MORE_POINTS
    quiet = night((19, 30), (20, 30), date(2027, 2, 13))
    assert tonight_points(KEYS, NAMES, quiet)[1] == 0.0
    assert list(tonight_points(("NGC 224",), ("M31",), whole)) == [0.0]
    assert list(tonight_points(KEYS, NAMES, None)) == [0.0, 0.0, 0.0]
    assert not night((20, 0), (20, 0), date(2027, 2, 13)).told


def test_a_moon_with_long_shadows_counts_and_a_full_one_does_not() -> None:
    """First quarter on 18 October 2026, full Moon on the 26th (almanacs, from memory)."""
    quarter = night((19, 30), (22, 0), date(2026, 10, 18)).on("moon", "Moon")
    assert FEATURE_POINTS <= quarter.points <= MOST_FEATURE_POINTS
    full = night((19, 30), (22, 0), date(2026, 10, 26)).on("moon", "Moon")
    assert full.points == 0.0


@pytest.mark.parametrize(
    ("start", "stop", "expected"),
    [
        # Umbral from 02:34 to 05:52 UTC (NASA's table, from memory).
        (datetime(2026, 8, 28, 3, 0, tzinfo=UTC), datetime(2026, 8, 28, 5, 0, tzinfo=UTC), True),
        (datetime(2026, 8, 28, 1, 0, tzinfo=UTC), datetime(2026, 8, 28, 2, 20, tzinfo=UTC), False),
    ],
)
def test_an_eclipse_counts_in_its_hours(start: datetime, stop: datetime, expected: bool) -> None:
    kit = demo_kit("courtyard")
    place = {"latitude_deg": 44.3, "longitude_deg": -78.3, "time_zone": "America/Toronto"}
    kit = kit.model_copy(update={"site": kit.site.model_copy(update=place)})
    on_it = tonight_of(kit, observer_of(kit.site), start, stop).on("moon", "Moon")
    assert bool(on_it.special) is expected
    if expected:
        assert on_it.points == SPECIAL_POINTS[SpecialKind.MOON_ECLIPSE_PARTIAL]


def test_both_of_a_meeting_count() -> None:
    """Mars and Jupiter, closest on 16 November 2026, 1.2 degrees (almanacs, from memory)."""
    kit = demo_kit("courtyard")
    start = datetime(2026, 11, 16, 2, 0, tzinfo=UTC)
    tonight = tonight_of(kit, observer_of(kit.site), start, start.replace(hour=5))
    for key in ("mars", "jupiter"):
        on_it = tonight.on(key, key.title())
        assert SpecialKind.MEETING in {one.kind for one in on_it.special}
        assert on_it.points >= SPECIAL_POINTS[SpecialKind.MEETING]
    assert not tonight.on("saturn", "Saturn").special
