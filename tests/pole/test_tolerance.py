"""How far the axis may be off: the exact model against printed drifts, Hook's form and scipy.

Signs and frames: `high`/`east` don't matter here, only the star's angle from the axis's lean.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from astropy import units as u
from astropy.coordinates import SkyCoord
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate
from scipy.spatial.transform import Rotation

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.pole.aim.target import pole_target
from axletree.pole.enough.chance import chance_within, radius_of_chance
from axletree.pole.enough.methods import (
    AligningMethod,
    bolt_stop_sigma_arcmin,
    drift_minutes_for,
    methods,
    quickest,
)
from axletree.pole.enough.movement import (
    declination_drift_arcsec,
    field_rotation_deg,
    in_tube,
    worst_declination_drift_arcsec,
    worst_movement_arcsec,
    worst_rotation_deg,
)
from axletree.pole.enough.tolerance import (
    LARGEST_ERROR_ARCMIN,
    CameraUse,
    allowed_trail_arcsec,
    camera_tolerance,
    circles_tolerance_arcmin,
    eye_tolerance,
)
from axletree.sky.observer import Observer

EVERY_HOUR_ANGLE = np.linspace(0.0, 360.0, 7201)


def test_largest_drift_of_one_arcminute() -> None:
    # Derived, omega times error: 0.26252 arcsec a minute; 1.3126 in 5 min, 2.625 in 10 min.
    for minutes, drift in ((1, 0.26252), (5, 1.3126), (10, 2.625)):
        largest = np.abs(declination_drift_arcsec(1.0, EVERY_HOUR_ANGLE, 0.0, minutes)).max()
        assert largest == pytest.approx(drift, abs=0.0005)
    # error' = 3.8093 x drift in arcsec a minute (derived; 3.81 in common circulation)
    per_minute = np.abs(declination_drift_arcsec(1.0, EVERY_HOUR_ANGLE, 0.0, 1)).max()
    assert 1.0 / per_minute == pytest.approx(3.8093, abs=0.0005)


def test_drift_of_one_degree_and_the_trap_of_units() -> None:
    # 15.7 arcsec a minute for each degree, as published in a mailing list of 2002; 15.7510 with
    # sidereal turning, 15.708 with 15 degrees an hour. A page gives 0.262 x E with E in degrees:
    # it must be arcminutes.
    sidereal = np.abs(declination_drift_arcsec(60.0, EVERY_HOUR_ANGLE, 0.0, 1)).max()
    solar = np.abs(declination_drift_arcsec(60.0, EVERY_HOUR_ANGLE, 0.0, 1, 0.25)).max()
    assert sidereal == pytest.approx(15.751, abs=0.001)
    assert solar == pytest.approx(15.708, abs=0.001)
    assert sidereal / 0.2625 == pytest.approx(60.0, rel=1e-3)


def test_printed_thirty_minute_drift() -> None:
    # M. A. Covington, Astrophotography for the Amateur, 2nd ed. 1999, app. B: 2', 30 min: 15.7".
    centred = declination_drift_arcsec(2.0, 86.25, 0.0, 30.0, 0.25)
    from_six_hours = declination_drift_arcsec(2.0, 90.0, 0.0, 30.0, 0.25)
    assert float(centred) == pytest.approx(15.7, abs=0.05)
    assert float(centred) == pytest.approx(15.697, abs=0.001)
    assert float(from_six_hours) == pytest.approx(15.663, abs=0.001)


@pytest.mark.parametrize(
    ("error", "angle", "minutes", "drift"),
    [(2.0, 86.25, 30, 15.6968), (60.0, 89.875, 1, 15.7072), (1.0, 89.375, 5, 1.30897),
     (15.0, 82.5, 60, 234.946)],
)  # fmt: skip
def test_exact_drift_of_covingtons_expression(error, angle, minutes, drift) -> None:
    # Covington 1999, app. B: change of arccos(sin d cos e + cos d sin e cos h), 15 degrees an
    # hour; values computed from it, tolerance 0.001".
    got = declination_drift_arcsec(error, angle, 0.0, minutes, 0.25)
    assert float(got) == pytest.approx(drift, abs=0.001)


def test_drift_does_not_depend_on_declination() -> None:
    # J. Scheiner, Die Photographie der Gestirne (1897), p. 100; vector model: 1.3126" in 5 min.
    for declination in (0.0, 30.0, 60.0):
        assert worst_declination_drift_arcsec(1.0, declination, 300.0) == pytest.approx(
            1.3126, abs=0.001
        )


def test_field_rotation_of_a_worked_example() -> None:
    # First order: error x turn / cos d; 10', 5 min, d 41: 0.004831 degrees, exact 0.004843; 1 %.
    turned = np.abs(field_rotation_deg(10.0, EVERY_HOUR_ANGLE, 41.0, 5.0)).max()
    assert turned == pytest.approx(0.004831, rel=0.01)
    assert turned == pytest.approx(0.004843, abs=2e-6)
    # R. N. Hook, JBAA 99 (Feb 1989), by secondary quotation: trail um = E t F A / (45000 cos d);
    # a forum's example: E 10', t 5 min, F 300 mm, A 3, d 41: 1.3 um (1.3250, exact 1.3257).
    hook = 10 * 5 * 300 * 3 / (45000 * math.cos(math.radians(41)))
    exact = math.radians(turned) * math.tan(math.radians(3.0)) * 300e3
    assert exact == pytest.approx(hook, rel=0.01)
    assert exact == pytest.approx(1.3, abs=0.05)


@settings(max_examples=60, deadline=None)
@given(
    error=st.floats(0.1, 600), h=st.floats(0, 360), d=st.floats(-85, 85), minutes=st.floats(1, 300)
)
def test_rotation_is_the_change_of_astropys_position_angle(error, h, d, minutes) -> None:
    axis = SkyCoord(0 * u.deg, (90 - error / 60) * u.deg)
    turn = minutes * 60 * 15.041068640 / 3600
    before, after = (SkyCoord((h + x) * u.deg, d * u.deg).position_angle(axis) for x in (0, turn))
    change = (after - before).wrap_at(180 * u.deg).deg
    got = float(field_rotation_deg(error, h, d, minutes))
    assert (got - change + 180) % 360 - 180 == pytest.approx(0.0, abs=1e-7)


@settings(max_examples=60, deadline=None)
@given(error=st.floats(0.1, 1800), h=st.floats(0, 360), d=st.floats(-89, 89), s=st.floats(1, 20000))
def test_picture_in_the_tube_against_scipy_rotations(error, h, d, s) -> None:
    star = SkyCoord(h * u.deg, d * u.deg).cartesian.xyz.value
    axis = SkyCoord(0 * u.deg, (90 - error / 60) * u.deg).cartesian.xyz.value
    turn = np.radians(s * 15.041068640 / 3600)
    sky = Rotation.from_rotvec(np.array([0, 0, -turn])).apply(star)
    mount = Rotation.from_rotvec(axis * turn)
    np.testing.assert_allclose(in_tube(star, error, s), mount.apply(sky), atol=1e-12)


def test_movement_is_error_times_turn_at_any_declination() -> None:
    for declination in (0.0, 45.0, 75.0):
        assert worst_movement_arcsec(1.0, declination, 600.0) == pytest.approx(2.625, rel=2e-3)
    assert in_tube(np.ones((4, 5, 3)), 10.0, np.ones(5)).shape == (4, 5, 3)
    assert worst_rotation_deg(10.0, 41.0, 300.0) == pytest.approx(0.004843, rel=2e-3)


def test_eye_with_a_motor_may_be_far_off() -> None:
    # By hand: half a degree of field, a quarter of it (7.5' = 450") in one minute at 0.26252"/min
    # for 1': 1714' to first order, 1732' exactly.
    first_order = 450.0 / 0.26252
    found = eye_tolerance(0.5, 60.0, motor=True)
    assert found.allowed_arcsec == 450.0
    assert found.largest_arcmin == pytest.approx(first_order, rel=0.03)
    # Two turns by w about axes e apart leave one of W: sin(W/4) = sin(w/2) sin(e/2) (quaternions).
    turn = math.radians(15.041068640 / 60)
    ratio = math.sin(math.radians(0.125) / 4) / math.sin(turn / 2)
    exact = math.degrees(2 * math.asin(ratio)) * 60
    assert found.largest_arcmin == pytest.approx(exact, rel=1e-3)
    # ten times rarer nudges allow a tenth
    assert eye_tolerance(0.5, 600.0, motor=True).largest_arcmin == pytest.approx(
        first_order / 10, rel=0.01
    )
    assert eye_tolerance(2.0, 10.0, motor=False).limited_by == "nothing"
    assert eye_tolerance(2.0, 10.0, motor=False).largest_arcmin == LARGEST_ERROR_ARCMIN


def test_unguided_camera_is_limited_by_drift() -> None:
    # 1' drifts 0.26252" a minute. 560 mm, 3.76 um: 1.3849" a pixel; two pixels in 60 s allow
    # 2 x 1.3849 / 0.26252 = 10.55'.
    found = camera_tolerance(CameraUse(560.0, 3.76, 3008, 3008, 60.0, guided=False, allowed_px=2.0))
    assert found.largest_arcmin == pytest.approx(2 * 1.3849 / 0.26252, rel=0.003)
    assert found.limited_by == "drift"
    assert found.by_rotation_arcmin is not None
    # the corner, 0.8182 degrees out, turns against the middle by that angle times the movement
    corner = math.radians(0.8182)
    assert found.by_rotation_arcmin == pytest.approx(found.largest_arcmin / corner, rel=0.2)


def test_guided_camera_is_limited_by_rotation() -> None:
    # Hook's form, solved for E: trail 3.76 um x 1 px, 10 min, F 560, A from the guide star's
    # corner to the opposite one (1.6364 degrees), d 60.
    found = camera_tolerance(CameraUse(560.0, 3.76, 3008, 3008, 600.0, guided=True, allowed_px=1.0))
    hook = 3.76 * 45018.6 * math.cos(math.radians(60)) / (10 * 560 * 1.6364)
    assert found.by_drift_arcmin is None
    assert found.limited_by == "field rotation"
    assert found.largest_arcmin == pytest.approx(hook, rel=0.01)
    near = camera_tolerance(
        CameraUse(560.0, 3.76, 3008, 3008, 600.0, guided=True, allowed_px=1.0, guide_star_deg=0.0)
    )
    assert near.largest_arcmin == pytest.approx(2 * found.largest_arcmin, rel=0.01)


def test_a_trail_that_is_not_seen() -> None:
    # Second moments: a line of half the width lengthens the image by sqrt(1 + 5.545 / 48) = 1.056.
    assert math.sqrt(1 + 5.545 * 0.25 / 12) == pytest.approx(1.056, abs=0.001)
    # Rayleigh 138.4 / D: 100 mm 1.384"
    assert allowed_trail_arcsec(0.5, 2.5, 100.0) == pytest.approx(math.hypot(2.5, 1.384) / 2)
    assert allowed_trail_arcsec(4.0, 2.5, 100.0) == 4.0


def test_circles() -> None:
    # A field of 1 degree reaches 30' from its middle.
    assert circles_tolerance_arcmin(1.0) == 30.0


@pytest.mark.parametrize(("a", "b"), [(1.0, 1.0), (5.0, 20.0), (33.0, 50.0), (0.5, 3.0)])
def test_chance_against_scipy(a: float, b: float) -> None:
    for r in (0.5 * a, a, 2.5 * b):

        def density(y: float, x: float) -> float:
            return math.exp(-0.5 * ((x / a) ** 2 + (y / b) ** 2)) / (2 * math.pi * a * b)

        expected, _ = integrate.dblquad(
            density, -r, r, lambda x, r=r: -math.sqrt(r * r - x * x),
            lambda x, r=r: math.sqrt(r * r - x * x),
        )  # fmt: skip
        assert chance_within(r, a, b) == pytest.approx(expected, abs=1e-6)
    # Rayleigh's law: 90 % of equal errors lie within sqrt(2 ln 10) = 2.146 sigma
    assert radius_of_chance(0.9, 1.0, 1.0) == pytest.approx(math.sqrt(2 * math.log(10)), abs=1e-6)
    # one error alone: the normal law, 68.27 % within one sigma
    assert chance_within(1.0, 1.0, 0.0) == pytest.approx(0.6827, abs=1e-4)


def target_of(name: str):
    site = demo_kit(name).site
    return pole_target(Observer(site.latitude_deg, site.longitude_deg, site.elevation_m))


def test_methods_of_the_demo_kits() -> None:
    found = methods(demo_kit("courtyard"), target_of("courtyard"), 37.2, 0.35, 120.0)
    assert [m.method for m in found] == [
        AligningMethod.ROUGH, AligningMethod.POLAR_SCOPE, AligningMethod.STILL_POINT,
        AligningMethod.DRIFT_TEST,
    ]  # fmt: skip
    best = quickest(found)
    assert best is not None
    assert best.method is not AligningMethod.DRIFT_TEST  # nobody aligns longer than needed
    south = methods(demo_kit("paddock"), target_of("paddock"), 69.0, 0.35, 3.0)
    assert any(m.method is AligningMethod.CAMERA_FRAMES for m in south)
    best = quickest(south)
    assert best is not None
    assert best.method is AligningMethod.CAMERA_FRAMES
    assert quickest(methods(demo_kit("paddock"), target_of("paddock"), 69.0, 0.35, 0.2)) is None


def test_a_hidden_pole_rules_out_its_methods() -> None:
    found = methods(
        demo_kit("courtyard"), target_of("courtyard"), 37.2, 0.35, 120.0, pole_in_view=False
    )
    scope = next(m for m in found if m.method is AligningMethod.POLAR_SCOPE)
    assert not scope.possible
    assert not scope.enough


def test_drift_long_enough() -> None:
    kit, target = demo_kit("courtyard"), target_of("courtyard")
    longer = drift_minutes_for(kit, target, 5.0)
    shorter = drift_minutes_for(kit, target, 20.0)
    assert longer is not None
    assert shorter is not None
    assert longer > shorter > 1.0
    assert drift_minutes_for(kit, target, 1.0) is None
    # a bolt stopped within 10 degrees, 0.8 turns a degree: +-1.04' of a rectangular law
    assert bolt_stop_sigma_arcmin(0.8) == pytest.approx(60 * 10 / 360 / 0.8 / math.sqrt(12))


@pytest.mark.parametrize(
    "call",
    [
        lambda: eye_tolerance(0.0, 60.0, motor=True),
        lambda: eye_tolerance(0.5, -1.0, motor=True),
        lambda: eye_tolerance(0.5, 60.0, motor=True, declination_deg=90.0),
        lambda: eye_tolerance(0.5, 60.0, motor=True, use_of_field=2.0),
        lambda: camera_tolerance(CameraUse(0.0, 3.76, 100, 100, 30.0, guided=True)),
        lambda: camera_tolerance(CameraUse(500.0, 3.76, 100, 100, math.nan, guided=True)),
        lambda: camera_tolerance(
            CameraUse(500.0, 3.76, 100, 100, 30.0, guided=True, allowed_px=-1.0)
        ),
    ],
)
def test_nonsense_is_refused_in_one_line(call) -> None:
    with pytest.raises(AxletreeError) as refused:
        call()
    assert "\n" not in str(refused.value)
