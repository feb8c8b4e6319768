"""What happens on an object tonight counts in its worth."""

from __future__ import annotations

from datetime import UTC, datetime

from axletree.evening.objects.happening_points import FIRST_POINTS, MORE_POINTS, tonight_points
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

HERE = Observer(38.6, -7.9, 300.0)
KEYS = ("moon", "jupiter", "M31")


def test_europa_and_its_shadow_count_while_they_come_or_go() -> None:
    """13 February 2027: Europa is before the disc from 18:50 to 21:42 UTC, its shadow from 18:58
    to 21:51; at 20 h nothing begins or ends."""
    whole = Instants.grid(datetime(2027, 2, 13, 19, 30, tzinfo=UTC), count=10, step_s=1200.0)
    assert list(tonight_points(KEYS, whole, HERE)) == [0.0, FIRST_POINTS + MORE_POINTS, 0.0]
    quiet = Instants.grid(datetime(2027, 2, 13, 19, 30, tzinfo=UTC), count=4, step_s=1200.0)
    assert list(tonight_points(KEYS, quiet, HERE)) == [0.0, 0.0, 0.0]
    assert list(tonight_points(("M31",), whole, HERE)) == [0.0]
