"""Whose turn is when: by hand, and against evenings that were thrown."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.evening.hosting.turn import (
    BEGIN_SPREAD_S,
    LOOK_SPREAD_PART,
    PACE_SPREAD_PART,
    Queue,
    likely_turn,
)

STOPS = [Queue(-60.0, 600.0, 120.0, 45.0), Queue(900.0, 1500.0, 120.0, 60.0)]


def test_by_hand() -> None:
    """Ten in front look for 45 s each, in 600 s there is room for thirteen."""
    turn = likely_turn(STOPS, 0.0, 10)
    assert turn is not None
    assert (turn.stop, turn.at_s) == (0, 450.0)
    # The fourteenth begins the next stop: 900 s, its talk of 120 s, nobody in front.
    turn = likely_turn(STOPS, 0.0, 13)
    assert turn is not None
    assert (turn.stop, turn.at_s, turn.sigma_s) == (1, 1020.0, BEGIN_SPREAD_S)
    # 480 s at 60 s each: eight of them.
    assert likely_turn(STOPS, 0.0, 20) is not None
    assert likely_turn(STOPS, 0.0, 21) is None


def test_what_comes_waits_for_a_stop_that_is_late() -> None:
    """An hour late: one still looks at the first, the second begins now and keeps its length."""
    first, second = (likely_turn(STOPS, 3600.0, n) for n in (0, 1))
    assert first is not None
    assert second is not None
    assert (first.stop, first.at_s, first.sigma_s) == (0, 3600.0, 0.0)
    assert (second.stop, second.at_s) == (1, 3720.0)


def test_the_spread_is_that_of_thrown_looks() -> None:
    rng = np.random.default_rng(7)
    pace = rng.normal(1.0, PACE_SPREAD_PART, 20_000)
    looks = rng.normal(45.0, LOOK_SPREAD_PART * 45.0, (20_000, 10)).sum(axis=1)
    thrown = looks + (pace - 1.0) * 450.0
    turn = likely_turn(STOPS, 0.0, 10)
    assert turn is not None
    assert turn.at_s == pytest.approx(thrown.mean(), rel=0.01)  # of 20,000: 0.2 %
    assert turn.sigma_s == pytest.approx(thrown.std(), rel=0.03)  # 0.5 % and the seed
