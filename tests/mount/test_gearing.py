"""Knobs, backlash, periodic error, nudges: by geometry, by stepping, and by brute force."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.kit.parts.mount import Gears, Motor
from axletree.kit.parts.tube import Barlow, Eyepiece
from axletree.mount.follow import gearing, rates
from axletree.mount.follow.nudge import camera_follow, eyepiece_follow
from axletree.mount.follow.rates import ObjectRates, drive_choices
from axletree.mount.rig.kinematics import align, axis_angles, direction, pointing
from axletree.sky.directions import angle_between_deg, rotate_about, vector_from_hour_angle
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S
from axletree.tell.follow.drive_text import RATE_SOURCES

WORMS = {"hour_worm_teeth": 144, "declination_worm_teeth": 120}


# --- which way


@pytest.mark.parametrize("latitude", [38.0, -44.0])
@pytest.mark.parametrize("side", ["east", "west"])
def test_one_turn_of_the_hour_axis_goes_west_on_both_sides(latitude, side):
    # Geometry: the same turn of the axis about its upper end, worked out on vectors. Clockwise
    # knob and axis are taken to turn so that the tube goes west in the north, as the kit says.
    axes = align(latitude)
    turn, swing = axis_angles(axes, side, 1.0, 20.0)
    looks = direction(axes, turn, swing)
    clockwise = -1.0  # about the upper end of the axis; goes west in the north
    after = rotate_about(looks, axes.pole, clockwise * 1.0)
    _, H, d = pointing(axes, *axis_angles_to(axes, side, after))
    went_west = H > 1.0
    assert d == pytest.approx(20.0)
    # The same mount unasked, and asked: who tries it at either site answers what they see.
    assert gearing.follow_clockwise(Gears(**WORMS), north=latitude > 0) == bool(went_west)
    gears = Gears(**WORMS, hour_knob_clockwise="west" if went_west else "east")
    assert gearing.follow_clockwise(gears, north=latitude > 0) == bool(went_west)
    assert bool(went_west) == (latitude > 0)


def axis_angles_to(axes, side, vector):
    from axletree.mount.rig.kinematics import axis_angles_of_vector

    return axis_angles_of_vector(axes, side, vector)


@pytest.mark.parametrize("latitude", [38.0, -44.0])
def test_the_declination_knob_reverses_with_the_tube_side(latitude):
    # Geometry: a turn of one sense about the tube's end of the declination axis.
    axes, gears = align(latitude), Gears(**WORMS)
    went = {}
    for side in ("east", "west"):
        turn, swing = axis_angles(axes, side, 0.5, 10.0)
        looks = direction(axes, turn, swing)
        end = vector_from_hour_angle(turn, 0.0, latitude)
        after = rotate_about(looks, end, -1.0)
        _, _, d = pointing(axes, *axis_angles_to(axes, side, after))
        went[side] = "north" if d > 10.0 else "south"
    assert went == {"east": "north", "west": "south"}  # in both hemispheres
    assert {s: gearing.declination_clockwise(gears, s) for s in went} == went


def test_a_knob_that_the_kit_says_is_the_other_way():
    gears = Gears(**WORMS, hour_knob_clockwise="east", declination_knob_clockwise="south")
    assert not gearing.follow_clockwise(gears, north=True)
    assert not gearing.follow_clockwise(gears, north=False)
    assert gearing.declination_clockwise(gears, "east") == "south"
    assert gearing.declination_clockwise(gears, "west") == "north"


# --- knobs


def test_knob_ratio_and_backlash():
    gears = Gears(**WORMS, hour_knob_ratio=5.0, hour_backlash_deg=36.0,
                  declination_backlash_deg=18.0)  # fmt: skip
    knob = gearing.hour_knob(gears, north=True)
    # Arithmetic: five knob turns a worm turn; a tenth of a turn lost is a tenth of its seconds.
    assert knob.seconds_per_turn == pytest.approx(598.362 / 5, abs=0.001)
    assert knob.turns_per_minute == pytest.approx(60 / 119.672, abs=1e-4)
    assert knob.backlash_s == pytest.approx(11.967, abs=0.001)
    assert knob.degrees_per_turn == pytest.approx(0.5)
    other = gearing.declination_knob(gears)
    assert other.degrees_per_turn == pytest.approx(3.0)
    assert other.backlash_arcmin == pytest.approx(9.0)
    assert not other.arm


def test_axes_without_gears_and_arms_still_answer():
    bare = Gears(**WORMS, hour_geared=False, declination_geared=False)
    assert gearing.hour_knob(bare, True) is None
    assert gearing.declination_knob(bare) is None
    arm = gearing.declination_knob(Gears(**WORMS, declination_arm=True))
    assert arm.degrees_per_turn is None
    assert arm.backlash_arcmin is None
    counted = Gears(**WORMS, declination_arm=True, declination_arm_deg_per_turn=0.4,
                    declination_arm_range_deg=12.0)  # fmt: skip
    assert gearing.declination_knob(counted).degrees_per_turn == 0.4
    assert gearing.declination_knob(counted).arm_range_deg == 12.0
    kit = demo_kit("courtyard")
    mount = kit.mount.model_copy(update={"gears": bare})
    rows = eyepiece_follow(kit.model_copy(update={"mount": mount}), 10.0)
    assert all(r.knob_turn_deg is None for r in rows)
    assert all(r.drift_time_s > 0 for r in rows)


def test_worms_without_teeth_are_refused():
    with pytest.raises(AxletreeError, match="greater than 0"):
        gearing.degrees_per_turn(0)


# --- periodic error


@settings(max_examples=40, deadline=None)
@given(
    amplitude=st.floats(0.5, 60),
    teeth=st.sampled_from([90, 144, 180, 360]),
    allowed=st.floats(0.2, 130),
)
def test_longest_exposure_against_brute_force(amplitude, teeth, allowed):
    # Independent: the sine sampled, its range over every window that starts anywhere.
    worst, best = (float(t) for t in gearing.longest_exposure_s(amplitude, teeth, allowed))
    P = float(gearing.worm_period_s(teeth))
    phase = np.linspace(0, 2 * np.pi, 7201)[:, None]

    def ranges(seconds):
        inside = np.linspace(0, seconds, 61)
        error = amplitude * np.sin(phase + 2 * np.pi * inside / P)
        return np.ptp(error, axis=1)

    if np.isinf(worst):
        assert 2 * amplitude <= allowed
        assert np.max(ranges(P)) <= allowed + 1e-9
        return
    assert np.max(ranges(worst)) == pytest.approx(allowed, rel=2e-3)
    # The turning point lies up to a fortieth of a degree beside the sampled phases.
    assert np.min(ranges(best)) == pytest.approx(allowed, rel=2e-2)
    assert np.min(ranges(best)) >= allowed * (1 - 1e-4)
    assert best > worst


def test_no_periodic_error_trails_nothing():
    assert np.isinf(gearing.longest_exposure_s(0.0, 144, 1.0)[0])
    assert gearing.periodic_drift_arcsec(10.0, 144, 1e6) == pytest.approx(20.0)
    # Half a worm turn passes from one extreme to the other (definition).
    half = gearing.worm_period_s(144) / 2
    assert gearing.periodic_drift_arcsec(10.0, 144, half) == pytest.approx(20.0)


# --- nudges


def test_nudge_by_stepping_the_star():
    # Independent: the star carried along its circle until it leaves the part that is kept.
    kit = demo_kit("courtyard")
    row = eyepiece_follow(kit, 33.0, keep=0.6)[1]
    radius = 0.6 * row.true_field_deg / 2
    t = np.arange(0, 4000, 0.05)
    hours = t * SIDEREAL_RATE_ARCSEC_PER_S / 15 / 3600
    start = vector_from_hour_angle(0.0, 33.0, 38.0)
    gone = angle_between_deg(start, vector_from_hour_angle(hours, 33.0, 38.0))
    assert row.nudge_s == pytest.approx(t[np.argmax(gone > radius)], abs=0.06)
    # The knob brings the axis forward by what the sky turned: 598.36 s a turn of 360 degrees.
    assert row.knob_turn_deg == pytest.approx(row.nudge_s / 598.362 * 360, rel=1e-5)
    assert row.nudges_per_visitor == pytest.approx(45 / row.nudge_s)


def test_wander_between_nudges():
    kit = demo_kit("courtyard")
    for row in eyepiece_follow(kit, 0.0):
        # 60 s at 15.04" a second, against half the field.
        expected = 60 * 15.0411 / 3600 / (row.true_field_deg / 2)
        assert row.wander_fraction == pytest.approx(expected, rel=1e-4)


def test_a_wide_object_leaves_less_room():
    kit = demo_kit("courtyard")
    point, moon = eyepiece_follow(kit, 0.0), eyepiece_follow(kit, 0.0, object_deg=0.52)
    for a, b in zip(point, moon, strict=True):
        assert b.nudge_s <= a.nudge_s
        assert b.fits == (b.true_field_deg >= 0.52)
    # The Moon in a field barely wider: only the difference is room.
    tight = next(m for m in moon if m.fits and m.true_field_deg < 1.0)
    room = (tight.true_field_deg - 0.52) / 2
    assert tight.nudge_s == pytest.approx(room * 3600 / 15.0411, rel=1e-3)


def test_barlows_and_field_stops_are_counted():
    kit = demo_kit("courtyard")
    kit = kit.model_copy(
        update={
            "barlows": (Barlow(factor=2.0),),
            "eyepieces": (Eyepiece(focal_length_mm=25.0, field_stop_mm=22.0),),
        }
    )
    alone, doubled = eyepiece_follow(kit, 0.0)
    assert doubled.magnification == pytest.approx(2 * alone.magnification) == pytest.approx(60)
    # 2 atan(22 / 1500), first principles.
    assert alone.true_field_deg == pytest.approx(np.degrees(2 * np.arctan(22 / 1500)))
    assert "Barlow" in doubled.label
    assert doubled.drift_time_s == pytest.approx(alone.drift_time_s / 2, rel=1e-3)


def test_at_the_pole_the_object_never_leaves():
    row = eyepiece_follow(demo_kit("courtyard"), 89.9)[0]
    assert np.isinf(row.drift_time_s)
    assert row.knob_turn_deg is None
    assert row.nudges_per_visitor == 0.0


# --- motors


def test_the_motor_rate_that_leaves_least():
    motor = Motor(rates=("sidereal", "solar", "lunar"))
    moon = ObjectRates(true=14.55, true_declination=0.1, seen=14.54, seen_declination=0.1,
                       declination_deg=20.0)  # fmt: skip
    best, *others = drive_choices(motor, moon)
    assert best.rate == "lunar"
    # Arithmetic: (14.54 - 14.4921) * 60 * cos 20, and 0.1 * 60 across.
    assert best.along_arcsec_per_min == pytest.approx((14.54 - 14.49205) * 60 * 0.9397, abs=0.01)
    assert best.across_arcsec_per_min == pytest.approx(6.0)
    assert [o.rate for o in others] == ["solar", "sidereal"]


def test_camera_exposures():
    kit = demo_kit("paddock")
    gears = kit.mount.gears.model_copy(update={"periodic_error_arcsec": 15.0})
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"gears": gears})})
    star = ObjectRates(15.0411, 0.0, 15.0380, 0.001, -30.0)
    drive = drive_choices(kit.mount.motor, star)[0]
    got = camera_follow(kit, -30.0, rate_arcsec_per_s=star.seen, drive=drive)
    pixel = 206264.806 * 3.76e-3 / 560
    assert got.pixel_arcsec == pytest.approx(pixel)
    assert got.still_s == pytest.approx(1.5 * pixel / (15.038 * np.cos(np.radians(30))), rel=1e-6)
    assert got.drive_s == pytest.approx(got.allowed_arcsec / (drive.drift_arcsec_per_min / 60))
    # Small against the amplitude the worst phase is a straight line of slope 2 pi A / P.
    slope = 2 * np.pi * 15.0 * np.cos(np.radians(30)) / float(gearing.worm_period_s(144))
    assert got.periodic_worst_s == pytest.approx(got.allowed_arcsec / slope, rel=0.01)
    assert camera_follow(demo_kit("courtyard"), 0.0) is None
    hand = camera_follow(kit, 0.0)
    assert hand.periodic_worst_s is None
    assert hand.drive_s is None


def test_every_drive_rate_of_the_kit_has_a_value_and_a_source():
    for name in ("sidereal", "solar", "lunar", "king"):
        assert 14.4 < rates.DRIVE_RATES[name] < 15.1
        assert RATE_SOURCES[name]
