"""Landmarks and latitude: held against WGS-84, Meeus and the geometry of the ellipsoid."""

from __future__ import annotations

import math

import erfa
import pytest

from axletree.ground.north.landmark import direction_to
from axletree.kit.errors import AxletreeError
from axletree.sky.air.refraction import refracted_pole_altitude_deg
from axletree.sky.observer import Observer


def test_the_ellipsoid_is_wgs84() -> None:
    """W1: NIMA TR8350.2."""
    from geographiclib.geodesic import Geodesic

    a, f = Geodesic.WGS84.a, Geodesic.WGS84.f
    assert a == 6378137.0
    assert 1.0 / f == pytest.approx(298.257223563, abs=1e-9)
    assert a * (1.0 - f) == pytest.approx(6356752.3142, abs=1e-4)
    assert f * (2.0 - f) == pytest.approx(0.00669437999014, abs=1e-13)


@pytest.mark.parametrize(
    ("latitude", "north_m", "east_m"),
    [(0, 110574.3, 111319.5), (30, 110852.4, 96486.3), (45, 111131.8, 78846.8),
     (60, 111412.3, 55800.0)],
)  # fmt: skip
def test_length_of_a_degree(latitude: float, north_m: float, east_m: float) -> None:
    """W2: derived from WGS-84. A tenth of a degree, so that a geodesic keeps to the parallel."""
    north = direction_to(latitude - 0.05, 7.0, latitude + 0.05, 7.0)
    east = direction_to(latitude, 7.0, latitude, 7.1)
    assert north.distance_m * 10 == pytest.approx(north_m, abs=0.2)
    assert north.azimuth_deg == pytest.approx(0.0, abs=1e-9)
    assert east.distance_m * 10 == pytest.approx(east_m, abs=0.2)
    assert east.azimuth_deg == pytest.approx(90.0, abs=0.06)


def test_degrees_at_42_of_meeus() -> None:
    """W3: Meeus 1998, ex. 11.b p. 84 (IAU 1976 ellipsoid, within 0.1 m of WGS-84's)."""
    north = direction_to(41.95, 0.0, 42.05, 0.0)
    east = direction_to(42.0, 0.0, 42.0, 0.1)
    assert north.distance_m / 100 == pytest.approx(111.0733, abs=1.5e-4)
    assert east.distance_m / 100 == pytest.approx(82.8508, abs=1.5e-4)


def test_an_arcsecond_of_latitude() -> None:
    """W4: 30.870 m at 45 degrees, derived."""
    one = direction_to(45.0, 0.0, 45.0 + 1 / 3600, 0.0)
    assert one.distance_m == pytest.approx(30.870, abs=0.002)


def test_the_pole_stands_as_high_as_the_geodetic_latitude() -> None:
    """W7 with W5: not the geocentric one, which is 11'32.73" less at 45d05'46.36" (Meeus p. 83)."""
    latitude = 45 + 5 / 60 + 46.36 / 3600
    no_air = Observer(latitude, 0.0, 0.0, pressure_hpa=0.0)
    assert refracted_pole_altitude_deg(no_air) == pytest.approx(latitude, abs=1e-12)
    x, _, z = erfa.gd2gc(1, 0.0, math.radians(latitude), 0.0)
    geocentric = math.degrees(math.atan2(z, x))
    gap = (refracted_pole_altitude_deg(no_air) - geocentric) * 3600
    assert gap == pytest.approx(11 * 60 + 32.73, abs=0.05)


def test_paris_to_washington_of_meeus() -> None:
    """W6: Meeus 1998, ex. 11.c p. 85: 6181.63 km."""
    line = direction_to(
        48 + 50 / 60 + 11 / 3600, 2 + 20 / 60 + 14 / 3600,
        38 + 55 / 60 + 17 / 3600, -(77 + 3 / 60 + 56 / 3600),
    )  # fmt: skip
    assert line.distance_m / 1000 == pytest.approx(6181.63, abs=0.05)


@pytest.mark.parametrize("latitude", [-78.0, -44.0, 0.0, 38.57, 66.6, 89.0])
def test_direction_against_the_sphere_near_by(latitude: float) -> None:
    """A hundred metres off, the ellipsoid's plane gives azimuth and distance by its radii.

    M and N, the radii of curvature, are those of any textbook of geodesy.
    """
    a, e2 = 6378137.0, 0.00669437999014
    s = math.sin(math.radians(latitude))
    M = a * (1 - e2) / (1 - e2 * s * s) ** 1.5
    N = a / math.sqrt(1 - e2 * s * s)
    north_m, east_m = 60.0, -80.0
    mark = (
        latitude + math.degrees(north_m / M),
        20.0 + math.degrees(east_m / (N * math.cos(math.radians(latitude)))),
    )
    line = direction_to(latitude, 20.0, *mark)
    true = math.degrees(math.atan2(east_m, north_m)) % 360
    # Meridians converge: near the pole they turn noticeably even over 80 m.
    turn = math.degrees(abs(east_m) * math.tan(math.radians(abs(latitude))) / N)
    assert line.azimuth_deg == pytest.approx(true, abs=0.001 + turn)
    assert line.distance_m == pytest.approx(100.0, rel=1e-3)


def test_error_of_positions_turns_the_line() -> None:
    """5 m at each end, 1 km apart: atan(7.07/1000) = 0.405 degrees, plain geometry."""
    line = direction_to(38.57, -7.91, 38.57 + 1000 / 110996, -7.91)
    assert line.sigma_deg == pytest.approx(0.4051, abs=0.001)
    far = direction_to(38.57, -7.91, 38.67, -7.91, site_sigma_m=5, mark_sigma_m=0)
    assert far.sigma_deg == pytest.approx(math.degrees(5 / far.distance_m), rel=1e-6)


def test_curvature_lowers_a_far_mark() -> None:
    """10 km away the ground drops by 6.83 m with k = 0.13 (surveyor's usual coefficient)."""
    line = direction_to(38.0, 0.0, 38.0 + 10000 / 110996, 0.0, rise_m=0.0)
    drop = math.tan(math.radians(-(line.altitude_deg or 0.0))) * line.distance_m
    assert drop == pytest.approx(6.83, abs=0.02)


@pytest.mark.parametrize(
    ("mark", "words"),
    [((38.57, -7.91), "where you stand"), ((95.0, 0.0), "latitude")],
)
def test_what_is_refused(mark: tuple[float, float], words: str) -> None:
    with pytest.raises(AxletreeError, match=words):
        direction_to(38.57, -7.91, *mark)
    with pytest.raises(AxletreeError, match="pole"):
        direction_to(90.0, 0.0, 89.0, 0.0)
