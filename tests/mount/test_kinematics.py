"""Kinematics of both tube sides and hemispheres, against scipy's rotations and common practice."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from machines import KITS, hour_gap, kit_with, random_sky
from scipy.spatial.transform import Rotation

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import (
    EAST,
    WEST,
    align,
    axis_angles,
    axis_angles_of_vector,
    circle_readings,
    crossing_m,
    direction,
    frames,
    place,
    placed,
    pointing,
    side_sign,
    weights_up,
)
from axletree.mount.rig.parts import DECLINATION, POLAR
from axletree.sky.directions import azimuth_altitude, vector_from_hour_angle

LATITUDES = (0.0, 3.0, 38.5712, 67.0, 89.9, 90.0, -0.1, -44.021, -90.0)


def _scipy_frames(latitude_deg, side, hour_angle_h, declination_deg):
    """Declination axis and tube by turning a mount from rest, with scipy's rotations only.

    Rest: tube's end of the declination axis straight up over the polar axis, tube along it.
    """
    phi, north = np.radians(latitude_deg), latitude_deg >= 0
    s = 1.0 if north else -1.0
    pole = np.array([0.0, s * np.cos(phi), s * np.sin(phi)])
    top = np.array([0.0, -np.sin(phi), np.cos(phi)])
    # Seen from the elevated pole the hour angle turns clockwise in the north.
    turn = Rotation.from_rotvec(-s * np.radians((hour_angle_h - 6.0 * side) * 15.0) * pole)
    end = turn.apply(top)
    polar_distance = 90.0 - s * declination_deg
    swing = Rotation.from_rotvec(np.radians(polar_distance) * s * side * end)
    return end, swing.apply(pole), swing, turn


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("side", [EAST, WEST])
def test_both_sides_against_scipy_rotations(latitude, side):
    axes = align(latitude)
    for H, d in zip(*random_sky(200, 1), strict=True):
        end, tube, _, _ = _scipy_frames(latitude, side, H, d)
        h, w = axis_angles(axes, side, H, d)
        polar, declination = frames(axes, h, w)
        np.testing.assert_allclose(polar[:, 0], end, atol=1e-9)
        np.testing.assert_allclose(declination[:, 2], tube, atol=1e-9)
        # Both point at the object itself.
        np.testing.assert_allclose(tube, vector_from_hour_angle(H, d, latitude), atol=1e-9)


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("side", [EAST, WEST])
def test_poses_of_all_parts_against_scipy_rotations(name, side):
    kit = demo_kit(name)
    rig, latitude = build_rig(kit), kit.site.latitude_deg
    axes = align(latitude)
    cross = crossing_m(rig, axes)
    rest_start, rest_end = placed(rig, axes, 0.0, 0.0)
    for H, d in zip(*random_sky(60, 2), strict=True):
        _, _, swing, turn = _scipy_frames(latitude, side, H, d)
        start, end = placed(rig, axes, *axis_angles(axes, side, H, d))
        for k in range(len(rig.names)):
            for rest, now in ((rest_start, start), (rest_end, end)):
                point = rest[k] - cross
                if rig.frame[k] in (POLAR, DECLINATION):
                    point = turn.apply(point)
                if rig.frame[k] == DECLINATION:
                    point = swing.apply(point)
                np.testing.assert_allclose(now[k], cross + point, atol=1e-9)


@settings(max_examples=300, deadline=None)
@given(
    latitude=st.sampled_from(LATITUDES),
    H=st.floats(-11.999, 12.0),
    d=st.floats(-89.0, 89.0),
    side=st.sampled_from([EAST, WEST]),
    high=st.floats(-120, 120),
    east=st.floats(-120, 120),
    cone=st.floats(-30, 30),
    lean=st.floats(-30, 30),
)
def test_round_trip_to_a_billionth(latitude, H, d, side, high, east, cone, lean):
    axes = align(latitude, high_arcmin=high, east_arcmin=east, cone_arcmin=cone, lean_arcmin=lean)
    target = vector_from_hour_angle(H, d, latitude)
    gap = np.degrees(np.arccos(np.clip(abs(target @ axes.pole), 0, 1)))
    h, w = axis_angles(axes, side, H, d)
    if gap < 1.5:  # closer than cone and lean allow, no tube can look there
        return
    np.testing.assert_allclose(direction(axes, h, w), target, atol=1e-9)
    side2, H2, d2 = pointing(axes, h, w)
    assert side2 == side
    assert hour_gap(H2, np.float64(H)) * 15 * np.cos(np.radians(d)) < 1e-9
    assert abs(d2 - d) < 1e-9
    h3, w3 = axis_angles_of_vector(axes, side, direction(axes, h, w))
    assert hour_gap(h3, h) < 1e-9
    assert abs(w3 - w) < 1e-9


def test_round_trip_near_the_pole_keeps_the_direction():
    for latitude in (38.57, -44.0):
        axes = align(latitude)
        d = np.sign(latitude) * (90.0 - np.array([0.0, 1e-9, 1e-6, 1e-3]))
        for side in (EAST, WEST):
            back = direction(axes, *axis_angles(axes, side, 3.0, d))
            np.testing.assert_allclose(back, vector_from_hour_angle(3.0, d, latitude), atol=1e-14)


@pytest.mark.parametrize("latitude", [38.57, 5.0, -44.0, -5.0])
def test_tube_east_for_an_object_in_the_west_has_its_weights_down(latitude):
    # Common practice, no source: the tube goes opposite to its object, then the weights hang low.
    axes = align(latitude)
    H = np.array([-5.0, -2.0, -0.1, 0.1, 2.0, 5.0])
    for d in (-30.0, 0.0, 50.0):
        east = weights_up(axes, axis_angles(axes, "east", H, d)[0])
        west = weights_up(axes, axis_angles(axes, "west", H, d)[0])
        np.testing.assert_array_equal(east, H < 0)
        np.testing.assert_array_equal(west, H > 0)


@pytest.mark.parametrize("latitude", [50.0, -50.0])
def test_on_the_meridian_the_tube_hangs_on_the_side_of_its_name(latitude):
    # The definition itself, design section 4: east of the mount at the upper meridian.
    kit = demo_kit("courtyard")
    axes = align(latitude)
    rig = build_rig(kit)
    tube = rig.index("tube")
    for side, sign in (("east", 1), ("west", -1)):
        for d in (0.0, 40.0, -40.0):
            start, end = placed(rig, axes, *axis_angles(axes, side, 0.0, d))
            middle = (start[tube] + end[tube]) / 2
            assert sign * middle[0] > 0.2


def test_a_pose_worked_out_by_hand():
    """Latitude 0, tube east, object in the zenith; lengths of the head in round figures.

    The axis lies level to the north: crossing 130 mm north of the hinge and 60 mm above it.
    Hinge 780 + 110 = 890 mm high. The tube stands upright, its axis 150 + 30 + 91 = 271 mm east.
    """
    kit = kit_with("courtyard", ("latitude_deg = 38.5712", "latitude_deg = 0.0"))
    rig, axes = build_rig(kit), align(0.0)
    h, w = axis_angles(axes, "east", 0.0, 0.0)
    np.testing.assert_allclose(crossing_m(rig, axes), [0.0, 0.130, 0.950], atol=1e-12)
    start, end = placed(rig, axes, h, w)
    k = rig.index("tube")
    clamp = rig.clamp_from_front_m
    np.testing.assert_allclose(start[k], [0.271, 0.130, 0.950 + clamp], atol=1e-12)
    np.testing.assert_allclose(end[k], [0.271, 0.130, 0.950 + clamp - 0.700], atol=1e-12)
    shaft = rig.index("counterweight shaft")
    np.testing.assert_allclose(end[shaft], [-0.410, 0.130, 0.950], atol=1e-12)
    # The finder at 45 degrees, seen from behind (from below) with the saddle away to the west:
    # 0 is east, 90 to the right of one who lies on the back with the head to the east: north.
    finder = (start[rig.index("finder")] + end[rig.index("finder")]) / 2
    off = kit.tube.finder.offset_mm / 1000 * np.sqrt(0.5)
    np.testing.assert_allclose(finder[:2], [0.271 + off, 0.130 + off], atol=1e-12)


@pytest.mark.parametrize("latitude", [10.0, 38.57, 70.0])
def test_north_and_south_mirror_each_other(latitude):
    north, south = align(latitude), align(-latitude)
    H, d = random_sky(500, 5)
    flip = np.array([1.0, -1.0, 1.0])
    for side in ("east", "west"):
        a = frames(north, *axis_angles(north, side, H, d))
        b = frames(south, *axis_angles(south, side, H, -d))
        for column in (0, 2):  # the axis and the tube are mirrored; the third axis turns round
            np.testing.assert_allclose(a[1][..., column] * flip, b[1][..., column], atol=1e-12)


def test_circles_of_a_perfect_mount_read_the_sky():
    for latitude in (38.57, -44.0):
        axes = align(latitude)
        H, d = random_sky(300, 6, 1.0)
        for side in ("east", "west"):
            read_h, read_d = circle_readings(axes, *axis_angles(axes, side, H, d))
            assert hour_gap(read_h, H).max() < 1e-10
            np.testing.assert_allclose(read_d, d, atol=1e-10)


def test_shapes_broadcast():
    axes = align(38.57)
    H, d = np.linspace(-5, 5, 7), np.linspace(-20, 80, 4)[:, None]
    h, w = axis_angles(axes, np.array([1, -1])[:, None, None], H, d)
    assert h.shape == w.shape == (2, 4, 7)
    assert frames(axes, h, w)[1].shape == (2, 4, 7, 3, 3)
    rig = build_rig(demo_kit())
    assert place(rig, axes, h, w, rig.centre_m).shape == (2, 4, 7, len(rig.names), 3)


def test_axis_follows_the_error_and_the_chosen_pole():
    axes = align(38.57, high_arcmin=30.0, pole_altitude_deg=38.59)
    assert axes.altitude_deg == pytest.approx(38.59 + 0.5, abs=1e-9)
    axes = align(-44.0, east_arcmin=60.0)
    assert axes.azimuth_deg < 180.0  # east of south
    azimuth, altitude = azimuth_altitude(0.0, 0.0, 38.57)
    assert (azimuth, altitude) == (pytest.approx(180.0), pytest.approx(90 - 38.57))


def test_words_that_are_no_side_are_refused():
    np.testing.assert_array_equal(side_sign(["east", "west"]), [1, -1])
    with pytest.raises(AxletreeError, match="'east' or 'west'"):
        side_sign("left")
    with pytest.raises(AxletreeError, match="latitude"):
        align(91.0)
