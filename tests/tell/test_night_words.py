"""What is said of a night in which the Sun does not set, or it does not get dark.

At midsummer the Sun goes 90 - latitude - 23.44 degrees below the horizon. Sixteen days after the
equinox its longitude is 16.2, its declination 6.4 degrees: 7.4 below the horizon at 89 south.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from axletree.evening.night.darkness import night_of
from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.stops.outcome import OrderQuality
from axletree.sky.observer import Observer
from axletree.sky.time.nights import Night
from axletree.tell.evening.notes.text import night_words
from axletree.tell.stop.text import order_words

MIDSUMMER, MIDWINTER = date(2026, 6, 21), date(2026, 12, 21)


@pytest.mark.parametrize(
    ("latitude", "day", "words"),
    [
        (69.65, MIDSUMMER, "The Sun doesn't set this night; it is lowest at 3.1°."),
        (61.0, MIDSUMMER, "Civil twilight lasts all night; the Sun is lowest at -5.6°."),
        (57.0, MIDSUMMER, "Nautical twilight lasts all night; the Sun is lowest at -9.6°."),
        (50.0, MIDSUMMER, "It doesn't get fully dark this night; the Sun is lowest at -16.6°."),
        (40.0, MIDSUMMER, ""),
        (69.65, MIDWINTER, "The Sun doesn't rise above the horizon at noon."),
        (
            -89.0,
            date(2026, 4, 5),
            "The Sun doesn't rise above the horizon at noon. Nautical twilight lasts all night; "
            "the Sun is lowest at -7.4°.",
        ),
    ],
)
def test_the_sun_of_a_night(latitude: float, day: date, words: str) -> None:
    light = night_of(Night.of(day, "UTC"), Observer(latitude, 0.0))
    assert night_words(light) == words


@pytest.mark.parametrize(
    ("gap", "said"), [(0.02, "0.1"), (0.8, "0.8"), (0.81, "0.9"), (12.0, "12.0")]
)
def test_a_gap_is_never_told_smaller_than_it_is(gap: float, said: str) -> None:
    end = datetime(2026, 6, 21, 23, tzinfo=UTC)
    order = OrderQuality("bounded", False, gap, None, end, SessionEnd.HOURS)
    assert order_words(order).startswith(f"at most {said} % below the best possible order.")
