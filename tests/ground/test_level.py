"""Levelling: against a rigid tripod solved by least squares, a fitted plane, and hard cases."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from axletree.ground.level.legs import (
    Tilt,
    leg_changes,
    leg_slant_deg,
    tilt_from_bubble,
    tilt_from_inclines,
)
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit

LEGS = (0.0, 120.0, 240.0)


def rotation_of(tilt: Tilt) -> Rotation:
    """The top's attitude, built here from the meaning of a tilt: its high side goes up."""
    high = np.radians(tilt.high_side_deg)
    axis = np.cross([np.sin(high), np.cos(high), 0.0], [0.0, 0.0, 1.0])
    return Rotation.from_rotvec(axis * np.radians(tilt.tilt_deg))


def tilt_left(
    tilt: Tilt, legs: tuple[float, ...], foot: float, top: float, height: float,
    along: tuple[float, ...], extended: tuple[float, ...] = (0.0, 0.0, 0.0),
) -> float:  # fmt: skip
    """Degrees that the top still leans after the changes, by least squares.

    A rigid tripod: three hips on the top, straight legs to the feet. The feet now stand at their
    heights on the ground; each foot then goes out along its own leg, and the body settles in
    the attitude and height that puts all three feet back on the ground.
    """
    a = np.radians(legs)
    hips = np.column_stack([top * np.sin(a), top * np.cos(a), np.zeros(3)])
    feet = np.column_stack([foot * np.sin(a), foot * np.cos(a), np.full(3, -height)])
    outward = (feet - hips) / np.linalg.norm(feet - hips, axis=1, keepdims=True)
    feet = feet + np.asarray(extended)[:, None] * outward
    ground = rotation_of(tilt).apply(feet)[:, 2]
    new_feet = feet + np.asarray(along)[:, None] * outward

    def misfit(x: np.ndarray) -> np.ndarray:
        return Rotation.from_rotvec([x[0], x[1], 0.0]).apply(new_feet)[:, 2] + x[2] - ground

    settled = least_squares(misfit, np.zeros(3), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    return float(np.degrees(np.hypot(settled.x[0], settled.x[1])))


@given(
    st.floats(0.0, 12.0), st.floats(0.0, 360.0), st.floats(300, 800), st.floats(40, 120),
    st.floats(500, 1400), st.floats(100, 140), st.floats(220, 260), st.booleans(),
)  # fmt: skip
@settings(max_examples=80, deadline=None)
def test_a_rigid_tripod_stands_level_afterwards(
    lean: float, high: float, foot: float, top: float, height: float, second: float,
    third: float, shorten: bool,
) -> None:  # fmt: skip
    """The whole promise: after the changes the body settles level, whatever its shape."""
    legs = (0.0, second, third)
    slant = float(np.degrees(np.arctan2(foot - top, height)))
    tilt = Tilt(lean, high, 0.1)
    changes = leg_changes(tilt, legs, foot, slant, shorten=shorten)
    assert tilt_left(tilt, legs, foot, top, height, changes.along_leg_mm) < 1e-6
    if shorten:
        most, least = max(changes.along_leg_mm), min(changes.along_leg_mm)
        assert most == pytest.approx(-least, abs=1e-9)
    else:
        assert min(changes.along_leg_mm) == 0.0
        assert changes.top_sinks_mm == 0.0


@given(
    st.floats(0.0, 12.0), st.floats(0.0, 360.0), st.floats(300, 800), st.floats(500, 1400),
    st.tuples(*[st.floats(-50.0, 300.0)] * 3), st.booleans(),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_a_tripod_with_unequal_legs_stands_level_as_well(
    lean: float, high: float, foot: float, height: float, longer: tuple[float, ...],
    shorten: bool,
) -> None:  # fmt: skip
    slant = float(np.degrees(np.arctan2(foot - 80.0, height)))
    tilt = Tilt(lean, high, 0.1)
    changes = leg_changes(tilt, LEGS, foot, slant, shorten=shorten, extended_mm=longer)
    assert tilt_left(tilt, LEGS, foot, 80.0, height, changes.along_leg_mm, longer) < 1e-6


def test_what_is_left_when_nobody_tells_that_a_leg_is_longer() -> None:
    """20 mm on a slant of 31 degrees and a foot circle of 540 mm: up to 20 sin 31 / 540 = 1.9 %
    of the tilt."""
    tilt, longer = Tilt(2.0, 0.0, 0.1), (20.0, 0.0, 0.0)
    height = (540.0 - 80.0) / np.tan(np.radians(31.0))
    blind = leg_changes(tilt, LEGS, 540.0, 31.0).along_leg_mm
    left = tilt_left(tilt, LEGS, 540.0, 80.0, height, blind, longer)
    assert 0.005 * 2.0 < left < 0.02 * 2.0
    told = leg_changes(tilt, LEGS, 540.0, 31.0, extended_mm=longer).along_leg_mm
    assert tilt_left(tilt, LEGS, 540.0, 80.0, height, told, longer) < 1e-6


def test_the_check_itself_notices_a_wrong_leg() -> None:
    tilt = Tilt(1.0, 135.0, 0.1)
    good = leg_changes(tilt, LEGS, 540.0, 31.0).along_leg_mm
    height = (540.0 - 80.0) / np.tan(np.radians(31.0))
    assert tilt_left(tilt, LEGS, 540.0, 80.0, height, good) < 1e-6
    swapped = (good[1], good[0], good[2])
    assert tilt_left(tilt, LEGS, 540.0, 80.0, height, swapped) > 0.5
    assert tilt_left(tilt, LEGS, 540.0, 80.0, height, (0.0, 0.0, 0.0)) == pytest.approx(
        1.0, abs=1e-6
    )


@pytest.mark.parametrize("count", [2, 3, 5])
def test_inclines_against_a_fitted_plane(count: int) -> None:
    """Heights of a plane at 1 m in each direction, fitted with numpy's least squares."""
    rng = np.random.default_rng(count)
    directions = np.sort(rng.uniform(0, 360, count)) if count > 2 else np.array([10.0, 80.0])
    slopes = rng.uniform(-3, 3, count)
    tilt = tilt_from_inclines(directions, slopes)
    a = np.radians(directions)
    points = np.column_stack([np.sin(a), np.cos(a)])
    plane, *_ = np.linalg.lstsq(points, np.tan(np.radians(slopes)), rcond=None)
    assert np.tan(np.radians(tilt.tilt_deg)) == pytest.approx(np.hypot(*plane), rel=1e-9)
    assert np.tan(np.radians(tilt.high_side_deg)) == pytest.approx(plane[0] / plane[1], rel=1e-6)


@given(st.floats(0.01, 15), st.floats(0, 359.9), st.floats(0, 360), st.floats(20, 160))
@settings(max_examples=80, deadline=None)
def test_inclinometer_and_bubble_tell_the_same(
    lean: float, high: float, first: float, apart: float
) -> None:
    """Two readings made from a known tilt by the rotation matrix give it back."""
    normal = rotation_of(Tilt(lean, high, 0.1)).apply([0.0, 0.0, 1.0])
    readings = []
    for direction in (first, first + apart):
        a = np.radians(direction)
        # Height of the top 1 m away in this horizontal direction.
        rise = -(normal[0] * np.sin(a) + normal[1] * np.cos(a)) / normal[2]
        readings.append(np.degrees(np.arctan(rise)))
    tilt = tilt_from_inclines([first, first + apart], readings)
    assert tilt.tilt_deg == pytest.approx(lean, abs=1e-6)
    assert (tilt.high_side_deg - high + 180) % 360 - 180 == pytest.approx(0, abs=1e-4)
    bubble = tilt_from_bubble(lean * 60 / 30, high, 30.0)
    assert bubble.tilt_deg == pytest.approx(lean)


def test_by_hand() -> None:
    """1 degree, high to the south of a 540 mm circle with upright legs: the north leg is short by
    R sin 1 (1 + cos 60) = 540 x 0.017452 x 1.5 = 14.14 mm; the other two are level."""
    changes = leg_changes(Tilt(1.0, 180.0, 0.1), LEGS, 540.0, 0.0)
    assert changes.along_leg_mm == pytest.approx((14.14, 0.0, 0.0), abs=0.01)
    slanted = leg_changes(Tilt(1.0, 180.0, 0.1), LEGS, 540.0, 60.0)
    assert slanted.along_leg_mm[0] == pytest.approx(2 * 14.14, abs=0.02)
    assert slanted.rise_mm[0] == pytest.approx(14.14, abs=0.01)


def test_uncertainty_against_many_readings() -> None:
    """Sigma of the legs covers what readings scattered by it would say (6,000 draws)."""
    rng = np.random.default_rng(2)
    tilt = Tilt(1.0, 100.0, 0.12)
    slope = np.array([np.sin(np.radians(100.0)), np.cos(np.radians(100.0))])
    draws = slope + rng.normal(0, 0.12, (6000, 2))
    spread = []
    for east, north in draws:
        one = Tilt(float(np.hypot(east, north)), float(np.degrees(np.arctan2(east, north))), 0.12)
        z = leg_changes(one, LEGS, 540.0, 31.0).along_leg_mm
        spread.append(z[0] - z[1])
    said = leg_changes(tilt, LEGS, 540.0, 31.0).sigma_mm
    assert np.std(spread) == pytest.approx(said, rel=0.05)


def test_a_bubble_at_its_rim_is_a_lower_bound() -> None:
    tilt = tilt_from_bubble(3.0, 120.0, 30.0, at_rim=True)
    assert tilt.at_least
    assert tilt.tilt_deg == 1.5
    assert leg_changes(tilt, LEGS, 540.0, 31.0).tilt.at_least


def test_parts_of_a_tilt_towards_pole_and_right() -> None:
    tilt = Tilt(2.0, 90.0, 0.1)
    assert tilt.towards_pole_deg == pytest.approx(0.0, abs=1e-12)
    assert tilt.to_the_right_deg == pytest.approx(2.0)


def test_slant_of_the_kits_legs() -> None:
    tripod = demo_kit("courtyard").mount.tripod
    out = tripod.foot_radius_mm - tripod.top_radius_mm
    assert np.tan(np.radians(leg_slant_deg(tripod))) == pytest.approx(out / tripod.top_height_mm)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: tilt_from_bubble(-1, 0, 30), "0 or more"),
        (lambda: tilt_from_bubble(1, 0, 0), "arcminutes for 2 mm"),
        (lambda: tilt_from_bubble(60, 0, 30), "topple"),
        (lambda: tilt_from_inclines([0], [1]), "two inclinometer"),
        (lambda: tilt_from_inclines([0, 180], [1, -1]), "along one line"),
        (lambda: tilt_from_inclines([0, 3], [1, 1]), "along one line"),
        (lambda: tilt_from_inclines([0, 90], [1, 45]), "no tripod"),
        (lambda: tilt_from_inclines([0, 90], [1, float("nan")]), "no tripod"),
        (lambda: leg_changes(Tilt(1, 0, 0.1), (0, 120), 540, 30), "three leg"),
        (lambda: leg_changes(Tilt(1, 0, 0.1), LEGS, 540, 85), "lies flat"),
        (lambda: leg_changes(Tilt(1, 0, 0.1), LEGS, 540, 30, extended_mm=(1, 2)), "three legs"),
    ],
)
def test_what_is_refused(call, words: str) -> None:
    with pytest.raises(AxletreeError, match=words):
        call()
