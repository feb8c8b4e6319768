"""The axes of Saturn and Uranus, against their seasons in published tables."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.positions.poles import north_pole
from axletree.sky.time.instants import Instants

YEARS = np.arange(2021.0, 2049.5, 0.1)


@pytest.mark.parametrize(
    ("name", "tilt_deg", "solstice", "season"),
    [
        # D. R. Williams, Planetary Fact Sheet, NASA: obliquity to orbit 26.73 and 97.77 degrees.
        # Saturn's southern summer: October 2032; Uranus's northern: April 2030 (almanacs, from
        # memory), each good to half a year, since the Sun hardly moves in latitude then.
        ("saturn", 26.73, 2032.8, "south"),
        ("uranus", 180.0 - 97.77, 2030.3, "north"),
    ],
)
def test_the_sun_stands_as_high_over_the_equator_as_the_axis_leans(
    name: str, tilt_deg: float, solstice: float, season: str
) -> None:
    start = Instants.from_datetime(datetime(2021, 1, 1, tzinfo=UTC))
    t = start.plus((YEARS - 2021.0) * 365.25 * 86400.0)
    kernel = load_ephemeris()
    to_sun = kernel.barycentric_au("sun", t.tt1, t.tt2) - kernel.barycentric_au(name, t.tt1, t.tt2)
    pole = north_pole(name, np.zeros(1))[0]
    latitude = np.degrees(np.arcsin(to_sun @ pole / np.linalg.norm(to_sun, axis=1)))
    summer = latitude if season == "north" else -latitude
    assert summer.max() == pytest.approx(tilt_deg, abs=0.02)
    assert YEARS[np.argmax(summer)] == pytest.approx(solstice, abs=0.6)
