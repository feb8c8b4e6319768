"""The altitude scale, what it leaves, and the path without a view of the pole."""

from __future__ import annotations

import math

import numpy as np
import pytest

from axletree.kit.parts.mount import Bolts
from axletree.pole.aim.scale import (
    ScaleCaution,
    high_from_reading_arcmin,
    reading_sigma_deg,
    scale_setting,
)
from axletree.pole.aim.target import pole_target
from axletree.pole.correct.bolts import AxisError, axis_error_from_head_arcmin, bolt_moves
from axletree.pole.enough.rough import (
    DRIFT_ARCSEC_PER_MIN_PER_ARCMIN,
    DriftTest,
    RoughStep,
    rough_alignment,
)
from axletree.sky.observer import Observer

BOLTS = Bolts(altitude_turns_per_degree=0.8, azimuth_turns_per_degree=0.5)
STANDARD = {"pressure_hpa": 1010.0, "temperature_c": 10.0}


def test_setting_is_the_refracted_pole_plus_the_scales_offset() -> None:
    # ERFA's constants: the pole at 40 degrees is lifted by 1.15'.
    target = pole_target(Observer(40.0, 0.0, **STANDARD))
    plain = scale_setting(BOLTS, target)
    assert plain.setting_deg == pytest.approx(40.0 + 1.15 / 60, abs=1e-4)
    shows_too_much = BOLTS.model_copy(update={"latitude_scale_offset_deg": 1.5})
    assert scale_setting(shows_too_much, target).setting_deg == pytest.approx(
        plain.setting_deg + 1.5
    )
    assert plain.nearest_mark_deg == 40.0
    south = scale_setting(BOLTS, pole_target(Observer(-40.0, 0.0, **STANDARD)))
    assert south.setting_deg == pytest.approx(plain.setting_deg)


def test_reading_to_half_a_mark() -> None:
    # JCGM 100:2008 (GUM), 4.3.7: half-width a of a rectangular law, a / sqrt(3); half a mark of 2
    # degrees is +-0.5 around the chosen half: 0.2887.
    assert float(reading_sigma_deg(2.0)) == pytest.approx(0.5 / math.sqrt(3.0))
    assert reading_sigma_deg(np.array([1.0, 2.0])).shape == (2,)
    target = pole_target(Observer(40.0, 0.0))
    unchecked = scale_setting(BOLTS, target)
    checked = scale_setting(BOLTS, target, offset_known=True)
    assert unchecked.sigma_deg > checked.sigma_deg > checked.reading_sigma_deg


def test_from_a_reading_to_turns_of_the_altitude_bolt() -> None:
    # A scale that shows two degrees too much: down by two degrees, 1.6 turns at 0.8 a degree.
    high = float(high_from_reading_arcmin(42.0, 40.0))
    assert high == 120.0
    moves = bolt_moves(BOLTS, AxisError(high, 0.0), 40.0)
    assert moves.altitude_turns == pytest.approx(-1.6)
    assert not moves.altitude_steps[0].clockwise


def test_limits_of_the_scale_are_said() -> None:
    short = Bolts(
        altitude_turns_per_degree=0.8,
        azimuth_turns_per_degree=0.5,
        latitude_scale_min_deg=20.0,
        latitude_scale_max_deg=60.0,
    )
    low = scale_setting(short, pole_target(Observer(12.0, 0.0)))
    assert not low.within_scale
    # Below 15 degrees of latitude the weights may meet the legs.
    assert low.cautions == (ScaleCaution.SCALE_ENDS, ScaleCaution.AXIS_NEARLY_FLAT)
    assert low.scale_end_deg == 20.0
    high = scale_setting(short, pole_target(Observer(-68.0, 0.0)))
    assert not high.within_scale
    assert high.cautions == (ScaleCaution.SCALE_ENDS,)
    assert high.scale_end_deg == 60.0
    middle = scale_setting(short, pole_target(Observer(45.0, 0.0)))
    assert middle.within_scale
    assert middle.cautions == ()
    assert middle.scale_end_deg is None


def test_the_equator_and_the_geographic_pole() -> None:
    flat = scale_setting(BOLTS, pole_target(Observer(0.0, 0.0)))
    assert flat.within_scale
    assert ScaleCaution.POLE_ON_HORIZON in flat.cautions
    upright = scale_setting(BOLTS, pole_target(Observer(89.9, 0.0)))
    assert upright.cautions == (ScaleCaution.AXIS_UPRIGHT,)


@pytest.mark.parametrize("altitude", [0.0, 38.6, 60.0, 89.9])
def test_rough_error_against_a_drawn_crowd(altitude: float) -> None:
    # 200,000 drawn set-ups, each turned and raised exactly: the formula's squares must add up to
    # the crowd's spread (3 %; near the zenith the axis wanders round it).
    rng = np.random.default_rng(3)
    path = rough_alignment(altitude, 0.5, 0.35)
    n = 200_000
    compass = rng.normal(0.0, math.hypot(0.35, 1.0), n)
    tilt_pole, tilt_east = rng.normal(0.0, 0.2, (2, n))
    raised = rng.normal(0.0, 0.5, n) + tilt_pole
    # A base leaning east by t moves the axis east by t sin(altitude).
    high, east = axis_error_from_head_arcmin(raised, compass, altitude)
    east = east + tilt_east * 60 * math.sin(math.radians(altitude))
    assert [e.step for e in path.errors] == [RoughStep.NORTH, RoughStep.LEVEL, RoughStep.SCALE]
    assert np.std(high) == pytest.approx(path.high_sigma_arcmin, rel=0.03)
    assert np.std(east) == pytest.approx(path.east_sigma_arcmin, rel=0.03, abs=1.0)


def test_sideways_tilt_moves_the_axis_by_the_sine() -> None:
    # Independent: tilt the base by scipy and look where the axis goes.
    from scipy.spatial.transform import Rotation

    from axletree.sky.directions import axis_error_arcmin, polar_axis

    axis = polar_axis(50.0)
    tipped = Rotation.from_euler("y", 1.0, degrees=True).apply(axis)  # up leans to the east
    high, east = axis_error_arcmin(tipped, 50.0)
    assert float(east) == pytest.approx(60.0 * math.sin(math.radians(50.0)), rel=1e-3)
    assert abs(float(high)) < 0.5


def test_drift_constant_and_what_rounds_of_drift_leave() -> None:
    # Maximum drift for 1' of axis error: 0.26252 arcsec a minute (derived, omega times error).
    assert pytest.approx(0.26252, abs=1e-5) == DRIFT_ARCSEC_PER_MIN_PER_ARCMIN
    # error' = 3.8093 x drift: two readings of 1 arcsec, ten minutes
    assert DriftTest(1.0, 10.0).sigma_arcmin == pytest.approx(3.8093 * math.sqrt(2) / 10, rel=1e-4)
    path = rough_alignment(40.0, 0.5, 0.35, drift=DriftTest(5.0, 15.0))
    totals = [math.hypot(h, e) for h, e in path.after_drift]
    assert path.total_arcmin > totals[0] > totals[1] >= totals[2]
    assert totals[2] == pytest.approx(math.sqrt(2) * path.drift.sigma_arcmin, rel=0.02)
