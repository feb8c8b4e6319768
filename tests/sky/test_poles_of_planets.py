"""The axes of Saturn and Uranus, against their seasons in published tables."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.positions.poles import (
    latitude_longitude_deg,
    north_pole,
    prime_meridian_deg,
    turns_backward,
)
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


@pytest.mark.parametrize(
    ("name", "tilt_deg", "turn_hours"),
    [
        # D. R. Williams, Planetary Fact Sheet, NASA: obliquity to orbit and sidereal turn.
        ("mercury", 0.034, 1407.6),
        ("venus", 177.36, -5832.6),
        ("mars", 25.19, 24.6229),
        ("jupiter", 3.13, 9.9250),
        ("saturn", 26.73, 10.656),
        ("uranus", 97.77, -17.24),
        # Its turn by features of its clouds: E. Karkoschka 2011, Icarus 215, 439.
        ("neptune", 28.32, 15.9663),
    ],
)
def test_axes_and_turns_as_the_fact_sheet_has_them(
    name: str, tilt_deg: float, turn_hours: float
) -> None:
    t = Instants.from_tt_jd(2459000.5, np.array([0.0, 400.0, 800.0]))
    kernel = load_ephemeris()

    def from_sun(later: float) -> np.ndarray:
        sun = kernel.barycentric_au("sun", t.tt1, t.tt2 + later)
        return kernel.barycentric_au(name, t.tt1, t.tt2 + later) - sun

    normal = np.cross(from_sun(0.0), from_sun(1.0))
    normal /= np.linalg.norm(normal, axis=1)[:, np.newaxis]
    days = np.array([0.0, 400.0, 800.0]) + 2459000.5 - 2451545.0
    tilt = np.degrees(np.arccos(np.sum(normal * north_pole(name, days), axis=1)))
    # The IAU's north is the side of the ecliptic's north: Venus and Uranus turn backward about it.
    expected = 180.0 - tilt_deg if turns_backward(name) else tilt_deg
    assert tilt == pytest.approx(expected, abs=0.06)
    turned = np.diff(prime_meridian_deg(name, days))
    assert 360.0 / (turned / 400.0) * 24.0 == pytest.approx(turn_hours, rel=1e-3)


def test_longitudes_on_mercury_and_neptune() -> None:
    """Under the pole stands latitude 90, over the prime meridian longitude 0, a quarter turn on
    90; Mercury's hot longitudes, 0 and 180, face the Sun at perihelion (IAU: W0 = 329.6)."""
    for name in ("mercury", "neptune", "venus"):
        days = np.array([9000.0])
        pole = north_pole(name, days)
        latitude, _ = latitude_longitude_deg(name, days, pole)
        assert latitude[0] == pytest.approx(90.0, abs=1e-5)
    t = Instants.from_tt_jd(2460310.5, np.arange(0.0, 90.0, 0.05))
    kernel = load_ephemeris()
    to_sun = kernel.barycentric_au("sun", t.tt1, t.tt2)
    to_sun = to_sun - kernel.barycentric_au("mercury", t.tt1, t.tt2)
    perihelion = np.argmin(np.linalg.norm(to_sun, axis=1))
    days = t.tt1 + t.tt2 - 2451545.0
    _, longitude = latitude_longitude_deg("mercury", days, to_sun)
    assert min(abs((longitude[perihelion] - x + 180) % 360 - 180) for x in (0, 180)) < 1.5


@pytest.mark.parametrize(
    ("name", "ra", "dec", "meridian", "turn"),
    [
        ("mercury", (281.0103, -0.0328), (61.4155, -0.0049), 329.5988, 6.1385108),
        ("venus", (272.76, 0.0), (67.16, 0.0), 160.20, -1.4813688),
        ("mars", (317.68143, -0.1061), (52.88650, -0.0609), 176.630, 350.89198226),
        ("jupiter", (268.056595, -0.006499), (64.495303, 0.002413), 284.95, 870.536),
        ("saturn", (40.589, -0.036), (83.537, -0.004), 38.90, 810.7939024),
        ("uranus", (257.311, 0.0), (-15.175, 0.0), 203.81, -501.1600928),
        # 299.36 + 0.70 sin N, 43.46 - 0.51 cos N, 249.978 - 0.48 sin N, worked by hand with
        # N = 357.85 degrees at the epoch and 50.166 a century later.
        ("neptune", (299.3337, 0.5638), (42.9504, 0.1829), 249.9960, 541.1397651),
    ],
)
def test_axes_as_the_iau_prints_them(
    name: str, ra: tuple[float, float], dec: tuple[float, float], meridian: float, turn: float
) -> None:
    """B. A. Archinal et al. 2018 (IAU WGCCRE 2015), table 1, from memory, Mars by the report of
    2009: pole and its change in a century, prime meridian and its turn in a day."""
    days = np.array([0.0, 36525.0])
    x, y, z = north_pole(name, days).T
    alpha, delta = np.degrees(np.arctan2(y, x)) % 360.0, np.degrees(np.arcsin(z))
    assert alpha == pytest.approx([ra[0], ra[0] + ra[1]], abs=2e-4)
    assert delta == pytest.approx([dec[0], dec[0] + dec[1]], abs=2e-4)
    W = prime_meridian_deg(name, days)
    assert W[0] == pytest.approx(meridian, abs=2e-4)
    assert (W[1] - W[0]) / 36525.0 == pytest.approx(turn, abs=1e-7)
