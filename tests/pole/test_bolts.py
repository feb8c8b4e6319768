"""Bolt turns: held against rotations done by scipy, the cos(altitude) of the vector model, and
the direction rules of the drift method."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.kit.parts.mount import Bolts
from axletree.pole.correct.bolts import (
    AxisError,
    axis_error_from_head_arcmin,
    bolt_moves,
    head_turns_deg,
)
from axletree.sky.directions import polar_axis

BOLTS = Bolts(altitude_turns_per_degree=0.8, azimuth_turns_per_degree=0.5)


def moved(axis: np.ndarray, up_deg: float, east_deg: float, base_up: np.ndarray) -> np.ndarray:
    """The axis after the head is raised and turned: two rotations by scipy, in the base's frame.

    North-facing frame; a positive turn to the east is negative about the vertical.
    """
    hinge = np.cross(axis, base_up)
    raised = Rotation.from_rotvec(np.radians(up_deg) * hinge / np.linalg.norm(hinge)).apply(axis)
    return np.asarray(Rotation.from_rotvec(-np.radians(east_deg) * base_up).apply(raised))


@settings(max_examples=150, deadline=None)
@given(
    altitude=st.floats(0.0, 89.5),
    high=st.floats(-120, 120),
    east=st.floats(-120, 120),
    lean_pole=st.floats(-4, 4),
    lean_east=st.floats(-4, 4),
)
def test_against_scipy_rotations_the_axis_lands_on_the_pole(
    altitude: float, high: float, east: float, lean_pole: float, lean_east: float
) -> None:
    up = np.array([math.tan(math.radians(lean_east)), math.tan(math.radians(lean_pole)), 1.0])
    up /= np.linalg.norm(up)
    raise_deg, turn_deg = head_turns_deg(high, east, altitude, lean_pole, lean_east)
    axis = polar_axis(0.0, high, east, pole_altitude_deg=altitude)
    if np.degrees(np.arccos(np.clip(axis @ up, -1, 1))) < 1e-3:
        return  # an axis along the base's own vertical has no azimuth
    pole = polar_axis(0.0, pole_altitude_deg=altitude)
    landed = moved(axis, float(raise_deg), float(turn_deg), up)
    # An arcsecond is 4.8e-6; rounding leaves far less.
    assert np.linalg.norm(landed - pole) < 1e-9


def test_horizon_and_great_circle_differ_by_cos_altitude() -> None:
    # Vector model: 1' east along the horizon makes an equator star at the meridian drift -1.3126,
    # -1.0055, -0.8171" in 5 min at latitudes 0, 40, 51.5; 1' on the sky makes it -1.3126" at each.
    drift_per_great_circle_arcmin = 1.3126
    for latitude, drift in ((0.0, 1.3126), (40.0, 1.0055), (51.5, 0.8171)):
        _, east = axis_error_from_head_arcmin(0.0, 1.0 / 60.0, latitude)
        assert east * drift_per_great_circle_arcmin == pytest.approx(drift, abs=1e-3)
    # At 60 degrees one arcminute beside the pole is two along the horizon.
    _, turn = head_turns_deg(0.0, 6.0, 60.0)
    assert -turn * 60 == pytest.approx(12.0, rel=1e-4)
    high, east = axis_error_from_head_arcmin(0.0, 0.2, 60.0)
    assert east == pytest.approx(6.0, rel=1e-4)
    assert high == pytest.approx(0.0, abs=0.02)


def test_broadcasts_over_arrays() -> None:
    up, turn = head_turns_deg(np.zeros((3, 1)), np.array([0.0, 10.0]), 45.0)
    assert up.shape == turn.shape == (3, 2)
    assert turn[0, 0] == 0.0


def test_direction_rules_of_the_drift_method() -> None:
    # Scheiner, Die Photographie der Gestirne (1897), p. 100: a star near the meridian that drifts
    # south says that the axis points east of the pole, so it has to go west; a star in the east
    # that drifts north says that it points too high.
    moves = bolt_moves(BOLTS, AxisError(30.0, 30.0), pole_altitude_deg=60.0)
    assert moves.move_east_deg < 0
    assert moves.raise_deg < 0
    # Half a degree at 0.8; the 0.3' by which a great circle curves away leave 0.004.
    assert moves.altitude_turns == pytest.approx(-0.4, abs=0.005)
    # 30' of great circle at altitude 60 (axis at 60.5) are 60.9' along the horizon.
    along_horizon_deg = 0.5 / math.cos(math.radians(60.5))
    assert moves.azimuth_turns == pytest.approx(0.5 * along_horizon_deg, rel=1e-3)


def test_which_bolt_gives_way_first() -> None:
    # Common practice, no source: the bolt that must give way is loosened before its partner is
    # tightened by as much. With the lug on the pole's side a tightened east bolt pushes west.
    west = bolt_moves(BOLTS, AxisError(0.0, 30.0), 45.0)  # axis is east: must go west
    assert [(s.verb, s.bolt, s.clockwise) for s in west.azimuth_steps] == [
        ("loosen", "west azimuth", False),
        ("tighten", "east azimuth", True),
    ]
    assert west.azimuth_steps[0].turns == west.azimuth_steps[1].turns
    other_lug = BOLTS.model_copy(update={"azimuth_clockwise_east_bolt": "axis east"})
    assert bolt_moves(other_lug, AxisError(0.0, 30.0), 45.0).azimuth_steps[0].bolt == "east azimuth"
    single = BOLTS.model_copy(update={"azimuth_pair": False})
    (step,) = bolt_moves(single, AxisError(0.0, 30.0), 45.0).azimuth_steps
    assert (step.verb, step.bolt, step.clockwise) == ("turn", "azimuth", True)
    assert not bolt_moves(single, AxisError(0.0, -30.0), 45.0).azimuth_steps[0].clockwise


def test_altitude_bolt_direction() -> None:
    assert not bolt_moves(BOLTS, AxisError(12.0, 0.0), 45.0).altitude_steps[0].clockwise
    assert bolt_moves(BOLTS, AxisError(-12.0, 0.0), 45.0).altitude_steps[0].clockwise
    lowers = BOLTS.model_copy(update={"altitude_clockwise": "lowers"})
    assert bolt_moves(lowers, AxisError(12.0, 0.0), 45.0).altitude_steps[0].clockwise
    assert bolt_moves(BOLTS, AxisError(0.0, 0.0), 45.0).steps == ()


def test_uncertainty_travels_and_grows_along_the_horizon() -> None:
    moves = bolt_moves(BOLTS, AxisError(5.0, 5.0, 6.0, 6.0), 60.0)
    assert moves.altitude_turns_sigma == pytest.approx(0.08)
    assert moves.azimuth_turns_sigma == pytest.approx(0.1)


def test_near_the_geographic_pole_the_turn_is_large_and_said_so() -> None:
    moves = bolt_moves(BOLTS, AxisError(0.0, 10.0), 89.9)
    assert moves.move_east_deg == pytest.approx(-math.degrees(math.atan2(10, 6)), abs=0.01)
    assert moves.beyond_bolts
    assert not bolt_moves(BOLTS, AxisError(0.0, 10.0), 45.0).beyond_bolts


def with_bolts(text: str) -> str:
    return demo_text().replace("[mount.gears]", f"[mount.bolts]\n{text}\n\n[mount.gears]")


def test_turns_from_thread_pitch_and_arm() -> None:
    # An M8 bolt has 1.25 mm pitch (ISO 261 coarse series); 80 mm from the hinge one turn is
    # atan(1.25 / 80) = 0.8952 degrees.
    kit, problems = check_text(with_bolts("altitude_pitch_mm = 1.25\naltitude_arm_mm = 80"))
    assert kit is not None, problems
    assert kit.mount.bolts.altitude_turns_per_degree == pytest.approx(1 / 0.89517, abs=1e-4)
    assert "mount.bolts.altitude_turns_per_degree" not in kit.guessed
    assert "mount.bolts.azimuth_turns_per_degree" in kit.guessed
    for bad, word in (
        ("altitude_pitch_mm = 1.25", "altitude_arm_mm"),
        (
            "altitude_pitch_mm = 1.25\naltitude_arm_mm = 80\naltitude_turns_per_degree = 3",
            "one or the other",
        ),
        ("latitude_scale_min_deg = 70\nlatitude_scale_max_deg = 20", "latitude_scale_max_deg"),
    ):
        kit, problems = check_text(with_bolts(bad))
        assert kit is None
        assert word in str(problems[0])


def test_demo_kits_have_bolts() -> None:
    assert demo_kit().mount.bolts.azimuth_pair
    assert issubclass(AxletreeError, ValueError)
