"""Skylines: joining, steps, the crossing at 360, gaps, and combining several."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from axletree.ground.skyline.skyline import (
    SkylineGap,
    combined,
    horizon_from_points,
    horizon_from_walk,
    open_horizon,
)
from axletree.kit.errors import AxletreeError
from axletree.tell.skyline.text import skyline_words


def test_straight_lines_through_360() -> None:
    """Definition: 350 to 10 is 20 degrees wide, north lies in its middle."""
    line = horizon_from_points([350, 10, 90, 180, 270], [10, 20, 5, 5, 5])
    assert line.altitude_at([350, 0, 360, 5, -5, 725]).tolist() == pytest.approx(
        [10, 15, 15, 17.5, 12.5, 17.5]
    )
    assert line.gaps == ()
    assert skyline_words(line) == []
    assert line.altitude_at(0.0).shape == ()


def test_order_and_turns_of_the_points_do_not_matter() -> None:
    a = horizon_from_points([350, 10, 90, 180, 270], [10, 20, 5, 6, 7])
    b = horizon_from_points([270, -180, 90, 370, -10], [7, 6, 5, 20, 10])
    x = np.linspace(0, 360, 1441)
    assert np.allclose(a.altitude_at(x), b.altitude_at(x))


def test_a_step_keeps_both_sides_and_counts_high() -> None:
    for points in (
        ([0, 90, 90, 180, 270], [5, 5, 20, 20, 5]),
        ([270, 180, 90, 90, 0], [5, 20, 20, 5, 5]),  # walked anticlockwise
    ):
        line = horizon_from_points(*points)
        assert line.altitude_at([89.9, 90.0, 90.1]).tolist() == pytest.approx([5, 20, 20])


def test_a_step_at_north_written_as_0_and_360() -> None:
    line = horizon_from_points([0, 90, 180, 270, 360], [5, 5, 5, 5, 30])
    assert float(line.altitude_at(0.001)) == pytest.approx(5.0, abs=0.01)
    assert float(line.altitude_at(359.999)) == pytest.approx(30.0, abs=0.01)
    assert float(line.altitude_at(0.0)) == 30.0


def test_a_gap_takes_its_lower_neighbour_and_says_so() -> None:
    """More than half the circle without a point isn't joined."""
    line = horizon_from_points([300, 20], [10, 20], open_altitude_deg=2.0)
    assert line.gaps == (SkylineGap(20.0, 300.0, 10.0),)
    assert line.gaps[0].middle_deg == 160.0
    assert line.altitude_at([300, 340, 20, 21, 150, 299]).tolist() == pytest.approx(
        [10, 15, 20, 10, 10, 10]
    )
    assert line.known_at([300, 340, 0, 20, 21, 150, 299]).tolist() == [True] * 4 + [False] * 3
    assert "from 20° to 300°: 10° is taken" in skyline_words(line)[0]


def test_a_wall_typed_as_two_points_is_closed() -> None:
    """Joined linearly in azimuth, by hand: 30 at 100, 40 at 220; half a circle still is a wall."""
    wall = horizon_from_points([10, 100, 220, 300], [5, 30, 42, 5])
    assert wall.gaps == ()
    assert wall.altitude_at([130, 160, 190]).tolist() == pytest.approx([33, 36, 39])
    half = horizon_from_points([0, 180], [20, 40])
    assert half.gaps == ()
    assert half.altitude_at([90, 270]).tolist() == pytest.approx([30, 30])
    wide = horizon_from_points([0, 180.5], [20, 40])
    assert wide.gaps == (SkylineGap(0.0, 180.5, 20.0),)


def test_an_open_altitude_is_the_least_in_a_gap() -> None:
    line = horizon_from_points([300, 20], [-1, 3], open_altitude_deg=2.0)
    assert line.gaps == (SkylineGap(20.0, 300.0, 2.0),)
    assert line.altitude_at([300, 150, 20]).tolist() == [2, 2, 3]


def test_a_direction_marked_unknown_opens_a_gap_of_any_width() -> None:
    line = horizon_from_points([0, 60, 90, 120, 180, 270], [9, 8, np.nan, 4, 9, 9], 1.0)
    assert line.gaps == (SkylineGap(60.0, 120.0, 4.0),)
    assert line.altitude_at([0, 60, 61, 90, 120, 180]).tolist() == pytest.approx([9, 8, 4, 4, 4, 9])


def test_a_gap_across_north() -> None:
    line = horizon_from_points([100, 180, 260], [9, 9, 7], 3.0)
    assert line.gaps == (SkylineGap(260.0, 100.0, 7.0),)
    assert line.altitude_at([261, 359, 0, 99, 100]).tolist() == pytest.approx([7, 7, 7, 7, 9])
    assert line.known_at([0.0, 200.0]).tolist() == [False, True]


def test_no_points_at_all_and_one_point() -> None:
    nothing = horizon_from_points([], [], 4.0)
    assert nothing.altitude_at([0, 123]).tolist() == [4, 4]
    assert "no skyline was given" in skyline_words(nothing)[0]
    assert not nothing.known_at(10.0)
    one = horizon_from_points([90], [10], 4.0)
    assert one.altitude_at([80, 90, 100]).tolist() == [10, 10, 10]
    assert one.gaps == (SkylineGap(90.0, 90.0, 10.0),)
    assert not one.known_at(100.0)
    assert "beyond the one point at 90°: 10° is taken" in skyline_words(one)[0]


def test_magnetic_bearings_are_corrected() -> None:
    """Trade's rule: true = magnetic + declination, east positive."""
    walked = horizon_from_walk([0, 90, 180, 270], [1, 2, 3, 4], declination_deg=25.0)
    assert walked.altitude_at([25, 115, 205, 295]).tolist() == pytest.approx([1, 2, 3, 4])


@pytest.mark.parametrize(
    ("azimuths", "altitudes", "words"),
    [([0, 1], [0], "as many"), ([np.nan], [3], "no azimuth"), ([0], [91], "between -90 and 90")],
)
def test_what_is_refused(azimuths: list[float], altitudes: list[float], words: str) -> None:
    with pytest.raises(AxletreeError, match=words):
        horizon_from_points(azimuths, altitudes)


altitudes = st.floats(-5, 60, allow_nan=False)
points = st.lists(
    st.tuples(st.integers(0, 720).map(lambda k: k / 2.0), altitudes), min_size=1, max_size=12
)


@given(points, points, st.lists(st.floats(0, 360), min_size=1, max_size=8))
@settings(max_examples=150, deadline=None)
def test_combined_is_the_higher_one_everywhere(
    first: list[tuple[float, float]], second: list[tuple[float, float]], where: list[float]
) -> None:
    """Property: the upper edge of two skylines, exactly, off the steps."""
    a = horizon_from_points(*zip(*first, strict=True), -3.0)
    b = horizon_from_points(*zip(*second, strict=True), 1.0)
    both = combined([a, b])
    x = np.array(where)
    steps = np.concatenate([a.azimuth_deg, b.azimuth_deg])
    x = x[np.abs(x[:, None] - steps).min(axis=1) > 1e-6]
    assert np.allclose(both.altitude_at(x), np.maximum(a.altitude_at(x), b.altitude_at(x)))
    assert np.all(np.diff(both.azimuth_deg) >= 0.0)


@given(points, st.floats(-10, 370))
@settings(max_examples=150, deadline=None)
def test_a_skyline_stays_between_its_points(
    given_points: list[tuple[float, float]], x: float
) -> None:
    line = horizon_from_points(*zip(*given_points, strict=True), 0.0)
    heights = [h for _, h in given_points] + [0.0]
    assert min(heights) - 1e-9 <= float(line.altitude_at(x)) <= max(heights) + 1e-9


@given(points, st.floats(0, 360), st.floats(0.01, 5))
@settings(max_examples=100, deadline=None)
def test_highest_within_a_window(
    given_points: list[tuple[float, float]], middle: float, half: float
) -> None:
    """Property: at least every sample in the window, reached by one of them."""
    line = horizon_from_points(*zip(*given_points, strict=True), 0.0)
    best = float(line.highest_within(middle, half)[0])
    samples = line.altitude_at(middle + np.linspace(-half, half, 801))
    assert best >= samples.max() - 1e-9


def test_a_gap_common_to_both_stays_a_gap() -> None:
    a = horizon_from_points([90, 180], [5, 5])
    b = horizon_from_points([150, 240], [5, 7])
    both = combined([a, b])
    assert both.gaps == (SkylineGap(240.0, 90.0, 5.0),)
    assert not both.known_at(300.0)
    assert both.known_at(100.0)
    assert both.known_at(230.0)
    assert any("nothing is known" in note for note in skyline_words(both))
    assert combined([a, open_horizon()]).gaps == ()
    assert combined([]).altitude_at(5.0) == 0.0
