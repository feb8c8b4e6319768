"""The quick dusks of a year, held against the Sun watched through every night."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from axletree.sky.events.dusks import dark_hours
from axletree.sky.events.twilight import darkness_of
from axletree.sky.observer import Observer
from axletree.sky.time.nights import nights_between

# Places of our own: middle latitudes of both halves, the polar circle, high Arctic, a clock two
# hours from the Sun, Antarctica.
PLACES = (
    (38.57, -7.91, "Europe/Lisbon"),
    (-44.0, 170.5, "Pacific/Auckland"),
    (69.6, 18.9, "Europe/Oslo"),
    (78.2, 15.6, "Arctic/Longyearbyen"),
    (39.5, 75.0, "Asia/Shanghai"),
    (-77.8, 166.6, "Antarctica/McMurdo"),
)


@pytest.mark.parametrize(("latitude", "longitude", "zone"), PLACES)
@pytest.mark.parametrize("depression", [50 / 60, 8.0, 18.0])
def test_a_year_of_dusks_agrees_with_watching_the_sun(
    latitude: float, longitude: float, zone: str, depression: float
) -> None:
    """Against `darkness_of`, itself held against almanac rows; every fifth night of 2026."""
    nights = nights_between(date(2026, 1, 1), date(2026, 12, 31), zone)[::5]
    observer = Observer(latitude, longitude, 100.0)
    begin, end = dark_hours(nights, observer, depression)
    for k, watched in enumerate(darkness_of(nights, observer, depression)):
        if watched.never_dark:
            assert np.isnan(begin[k])
            continue
        pairs = [
            (nights[k].hours_after_start(a), nights[k].hours_after_start(b))
            for a, b in watched.intervals
        ]
        longest = max(pairs, key=lambda p: p[1] - p[0])
        # A second, or an altitude that changes by a hundredth of a degree where the Sun grazes.
        tolerance_h = 1.0 / 3600.0 if abs(longest[1] - longest[0]) > 2.0 else 0.15
        assert begin[k] == pytest.approx(longest[0], abs=tolerance_h)
        assert end[k] == pytest.approx(longest[1], abs=tolerance_h)


def test_no_nights() -> None:
    begin, end = dark_hours([], Observer(0.0, 0.0), 18.0)
    assert begin.size == end.size == 0
