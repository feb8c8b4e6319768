"""Evenings at random, every stop held against a witness that shares nothing with the planner.

A sample here; all three hundred by `make long` (see `judge.py`, which also prints the figures).
"""

from __future__ import annotations

import os

import pytest
from evenings import COUNT, trial
from judge import judge

LONG = bool(os.environ.get("AXLETREE_LONG"))
# Both demo rigs, random ones, both hemispheres, the equator, a night in which clocks change.
SAMPLE = (0, 1, 34, 67, 205, 241)


@pytest.mark.parametrize("k", range(COUNT) if LONG else SAMPLE)
def test_every_stop_of_the_evening_is_true(k):
    verdict = judge(trial(k), effort="auto" if LONG else "quick")
    assert not verdict.wrong, "\n".join(verdict.wrong)
    assert verdict.stops or not verdict.poses
