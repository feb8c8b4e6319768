"""Angles and vectors: house conventions, both hemispheres, edges; scipy as the other hand."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.sky.directions import (
    axis_error_arcmin,
    azimuth_altitude,
    azimuth_altitude_from_vector,
    cross,
    hour_angle_declination,
    parallactic_angle_deg,
    polar_axis,
    position_angle_deg,
    rotate_about,
    separation_deg,
    tangent_plane,
    vector_from_azimuth_altitude,
    vector_from_hour_angle,
    wrap_24h,
    wrap_180,
    wrap_360,
    wrap_h,
)

LATITUDES = [-89.9, -45.0, -0.1, 0.0, 30.0, 89.9]


def test_wraps_hold_their_edges() -> None:
    assert wrap_360([-1e-18, 360.0, 720.5, -90.0]).tolist() == [0.0, 0.0, 0.5, 270.0]
    assert wrap_180([180.0, -180.0, 190.0, 0.0]).tolist() == [180.0, 180.0, -170.0, 0.0]
    assert wrap_h([12.0, -12.0, 13.0, -0.5]).tolist() == [12.0, 12.0, -11.0, -0.5]
    assert wrap_24h([24.0, -1.0, 23.5, -1e-18]).tolist() == [0.0, 23.0, 23.5, 0.0]


@pytest.mark.parametrize("latitude", LATITUDES)
def test_hour_angle_there_and_back(latitude: float) -> None:
    H, dec = np.meshgrid(np.linspace(-11.5, 12, 48), np.linspace(-89, 89, 30))
    az, alt = azimuth_altitude(H, dec, latitude)
    assert ((az >= 0) & (az < 360)).all()
    back_H, back_dec = hour_angle_declination(az, alt, latitude)
    assert separation_deg(back_H * 15, back_dec, H * 15, dec).max() < 1e-10


def test_positive_hour_angles_are_in_the_west_in_both_hemispheres() -> None:
    for latitude in (40.0, -40.0):
        az, _ = azimuth_altitude(2.0, 0.0, latitude)
        assert 180 < az < 360
        assert vector_from_hour_angle(2.0, 0.0, latitude)[0] < 0  # x is east


def test_directions_are_unit_vectors() -> None:
    v = vector_from_azimuth_altitude([0, 90, 180, 270], [0, 0, 0, 0])
    assert v == pytest.approx(np.array([[0, 1, 0], [1, 0, 0], [0, -1, 0], [-1, 0, 0]]), abs=1e-12)
    assert vector_from_azimuth_altitude(123.0, 90.0)[2] == pytest.approx(1.0)


@pytest.mark.parametrize("latitude", LATITUDES)
def test_polar_axis_by_the_house_convention(latitude: float) -> None:
    phi = np.radians(abs(latitude))
    sense = 1 if latitude >= 0 else -1
    expected = [0.0, sense * np.cos(phi), np.sin(phi)]
    assert polar_axis(latitude) == pytest.approx(expected, abs=1e-15)


@pytest.mark.parametrize("latitude", [-60.0, -20.0, 0.0, 35.0, 80.0])
@pytest.mark.parametrize(("high", "east"), [(30.0, 0.0), (0.0, 30.0), (-12.0, 45.0), (300, -200)])
def test_axis_error_is_a_great_circle(latitude: float, high: float, east: float) -> None:
    # The same turn made by scipy: about the axis across the direction of the error.
    pole = polar_axis(latitude)
    sense = 1.0 if latitude >= 0 else -1.0
    phi = np.radians(abs(latitude))
    up = np.array([0.0, -sense * np.sin(phi), np.cos(phi)])
    towards = (high * up + east * np.array([1.0, 0.0, 0.0])) / np.hypot(high, east)
    turn = Rotation.from_rotvec(np.cross(pole, towards) * np.radians(np.hypot(high, east) / 60))
    axis = polar_axis(latitude, high, east)
    assert axis == pytest.approx(turn.apply(pole), abs=1e-12)
    assert axis_error_arcmin(axis, latitude) == pytest.approx((high, east), abs=1e-8)
    if east == 0 and abs(latitude) < 80:
        _, altitude = azimuth_altitude_from_vector(axis)
        assert altitude == pytest.approx(abs(latitude) + high / 60, abs=1e-9)


def test_axis_about_the_refracted_pole() -> None:
    axis = polar_axis(40.0, 5.0, 0.0, pole_altitude_deg=40.02)
    assert azimuth_altitude_from_vector(axis)[1] == pytest.approx(40.02 + 5 / 60)
    assert axis_error_arcmin(axis, 40.0, 40.02) == pytest.approx((5.0, 0.0), abs=1e-9)
    assert axis_error_arcmin(polar_axis(-40.0), -40.0) == pytest.approx((0.0, 0.0), abs=1e-12)


def test_vector_product_is_numpys_to_the_last_digit() -> None:
    a, b = np.random.default_rng(5).standard_normal((2, 7, 4, 3))
    assert np.array_equal(cross(a, b), np.cross(a, b))
    assert np.array_equal(cross(a, b[0, 0]), np.cross(a, b[0, 0]))
    assert cross([1.0, 0.0, 0.0], [0.0, 1.0, 0.0]).tolist() == [0.0, 0.0, 1.0]


def test_rotation_follows_the_right_hand() -> None:
    rng = np.random.default_rng(1)
    v, axis = rng.normal(size=(2, 50, 3))
    angle = rng.uniform(-400, 400, 50)
    unit = axis / np.linalg.norm(axis, axis=1, keepdims=True)
    expected = Rotation.from_rotvec(unit * np.radians(angle)[:, None]).apply(v)
    assert rotate_about(v, axis, angle) == pytest.approx(expected, abs=1e-12)


def test_parallactic_angle_is_the_zeniths_position_angle() -> None:
    # Independent route: the position angle of the zenith (right ascension -H, declination lat).
    for latitude in (-35.0, 20.0, 60.0):
        for H in (-5.0, -0.5, 3.0):
            for dec in (-40.0, 10.0, 70.0):
                zenith = position_angle_deg(-H * 15, dec, 0.0, latitude)
                q = parallactic_angle_deg(H, dec, latitude)
                assert wrap_180(q - zenith) == pytest.approx(0.0, abs=1e-9)


def test_separation_is_exact_at_both_ends() -> None:
    tiny = 1e-7
    assert separation_deg(10.0, 45.0, 10.0, 45.0 + tiny) == pytest.approx(tiny, rel=1e-6)
    assert separation_deg(10.0, 45.0, 190.0, -45.0 - tiny) == pytest.approx(180 - tiny, abs=1e-12)


def test_tangent_plane_has_no_far_side() -> None:
    xi, eta = tangent_plane([0.0, 100.0], [0.0, 0.0], 0.0, 0.0)
    assert (xi[0], eta[0]) == (0.0, 0.0)
    assert np.isnan(xi[1])
    # East of the centre is positive xi, north positive eta; right over the pole too.
    assert tangent_plane(1.0, 0.0, 0.0, 0.0)[0] > 0
    assert tangent_plane(180.0, 89.0, 0.0, 89.5)[1] > 0
