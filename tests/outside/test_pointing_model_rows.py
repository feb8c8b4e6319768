"""The pointing model against published and independently computed rows, both sides, both poles.

Rows of the project's reference table: X1-X4 and X8-X11 (circle readings of an imperfect mount,
computed with rotation matrices; first-order forms of W. Chauvenet 1876, vol. 2 pp. 367-390, as
cited by M. A. Covington 1999), the rule of the slipped circle (J. N. Lockyer 1878), A1-A3 (drift
of a misaligned axis) and K10 (rate about the refracted pole). The southern half mirrors the
northern: declinations change sign, hour angles don't.
"""

from __future__ import annotations

import numpy as np
import pytest

from axletree.axis.model import PointingModel, unmeasured
from axletree.axis.rates import shaft_rates
from axletree.axis.shown import circles_shown, instrument_angles, pointed_at
from axletree.axis.unknowns import UNKNOWNS
from axletree.sky.observer import Observer

BOTH_POLES = pytest.mark.parametrize("pole", [1.0, -1.0], ids=["north", "south"])
BOTH_SIDES = pytest.mark.parametrize("side", [1.0, -1.0], ids=["east", "west"])


def mount(**faults: float) -> PointingModel:
    """A mount that is known exactly, with some faults in arcminutes."""
    values = np.array([faults.get(name, 0.0) for name in UNKNOWNS])
    return unmeasured(0.0, 0.0).with_values(values, np.zeros((6, 6)))


def airless(pole: float) -> Observer:
    return Observer(45.0 * pole, 0.0, pressure_hpa=0.0)


def off(model: PointingModel, hour: float, declination: float, side: float, pole: float):
    """Reading minus true, arcminutes: declination as in the northern half, hour angle."""
    shown = circles_shown(model, hour, declination * pole, side, airless(pole))
    d = (float(shown.declination_circle_deg) * pole - declination) * 60.0
    return d, float(shown.hour_circle_h - hour) * 900.0


@BOTH_SIDES
@BOTH_POLES
@pytest.mark.parametrize(
    ("hour", "declination", "d_dec", "d_hour"),
    [(0, 0, 10.000, 0.058), (0, 40, 9.951, 16.881), (-6, 0, 20.0, 0.0), (6, 0, -20.0, 0.0)],
)
def test_x1_to_x4_axis_high_10_east_20(hour, declination, d_dec, d_hour, side, pole):
    d, h = off(mount(high=10.0, east=20.0), hour, declination, side, pole)
    assert d == pytest.approx(d_dec, abs=0.1)
    assert h == pytest.approx(d_hour, abs=0.1)


@BOTH_SIDES
@BOTH_POLES
@pytest.mark.parametrize(
    ("declination", "d_dec", "d_hour"),
    [(0, 0.0, 5.000), (30, -0.002, 5.774), (60, -0.006, 10.000), (80, -0.021, 28.793)],
)
def test_x8_x10_cone(declination, d_dec, d_hour, side, pole):
    """The rows' change of declination is that of where the tube points; circles show the other."""
    d, h = off(mount(cone=5.0), 0.0, declination, side, pole)
    assert h == pytest.approx(side * d_hour, abs=0.01)
    assert d == pytest.approx(-d_dec, abs=0.01)


@BOTH_SIDES
@BOTH_POLES
@pytest.mark.parametrize(
    ("declination", "d_dec", "d_hour"),
    [(0, 0.0, 0.0), (30, -0.002, -2.887), (60, -0.006, -8.660), (80, -0.021, -28.356)],
)
def test_x9_x11_axes_not_square(declination, d_dec, d_hour, side, pole):
    _, h = off(mount(lean=5.0), 0.0, declination, side, pole)
    assert h == pytest.approx(side * d_hour, abs=0.01)
    at = pointed_at(mount(lean=5.0), (0.0, declination * pole), side, airless(pole))
    assert (float(at.declination_deg) * pole - declination) * 60.0 == pytest.approx(d_dec, abs=0.01)


@BOTH_POLES
@pytest.mark.parametrize("slip", [-120.0, 5.0, 90.0])
@pytest.mark.parametrize("declination", [-40, 0, 30, 60])
def test_slipped_circles(declination, slip, pole):
    """Lockyer 1878, ch. XXI: the mean of both sides is free of the declination circle's slip, half
    their difference is it; the hour circle's index error is the same on both, its numbers 12 h
    off on the side where it wasn't set."""
    model = mount(index_hour=30.0, index_declination=slip)
    for set_on, hours in ((0, (1.0, 1.0)), (1, (1.0, -11.0)), (-1, (-11.0, 1.0))):
        east, west = (
            circles_shown(model.set_on(set_on), 1.0, declination, side, airless(pole), 20.0)
            for side in (1.0, -1.0)
        )
        shown = float(east.declination_circle_deg), float(west.declination_circle_deg)
        assert (shown[0] + shown[1]) / 2.0 == pytest.approx(declination, abs=1e-9)
        assert (shown[0] - shown[1]) * 30.0 == pytest.approx(slip, abs=1e-9)
        for circles, hour in zip((east, west), hours, strict=True):
            assert float(circles.hour_circle_h) == pytest.approx(hour + 30.0 / 900.0, abs=1e-9)
            assert circles.right_ascension_h is not None
            # A circle marked in right ascension: sidereal time less the hour angle.
            right = (20.0 - hour - 30.0 / 900.0) % 24.0
            assert float(circles.right_ascension_h) == pytest.approx(right, abs=1e-9)


@BOTH_SIDES
@BOTH_POLES
@pytest.mark.parametrize("hour", [-6.0, -2.0, 0.0, 3.0, 6.0])
@pytest.mark.parametrize("declination", [-30.0, 0.0, 60.0])
def test_a1_a7_declination_knob(hour, declination, side, pole):
    """A1, A7, A9: 0.26252 arcseconds a minute for each arcminute, whatever the declination."""
    high, east = 0.6, -0.8
    found = shaft_rates(
        mount(high=high, east=east), hour, declination * pole, side, airless(pole)
    ).declination_arcsec_per_min
    H = np.radians(15.0 * hour)
    small = -(high * np.sin(H) + east * np.cos(H)) * 0.26252
    assert pole * float(found) == pytest.approx(small, abs=0.0005)


def test_a2_a_degree_of_error_takes_0_26_arcminutes_a_minute():
    """A2: 15.751 arcseconds a minute for each degree at most; the trade's 0.26 arcminutes."""
    hours = np.linspace(-6.0, 6.0, 97)
    for high, east in ((60.0, 0.0), (0.0, 60.0), (-42.4264, 42.4264)):
        rates = shaft_rates(mount(high=high, east=east), hours, 0.0, 1.0, airless(1.0))
        most = float(np.abs(rates.declination_arcsec_per_min).max())
        assert most == pytest.approx(15.751, abs=0.01)
        assert most / 60.0 == pytest.approx(0.26, abs=0.003)


@pytest.mark.parametrize("latitude", [30.0, 50.0, -40.0])
def test_k10_the_hour_knob_about_the_refracted_pole(latitude):
    """K10: 15.0368 arcseconds a second at declination 0 on the meridian, in 1010 hPa and 10 C."""
    watcher = Observer(latitude, 0.0, pressure_hpa=1010.0, temperature_c=10.0)
    rates = shaft_rates(mount(), 0.0, 0.0, 1.0, watcher)
    assert float(rates.hour_arcsec_per_s) == pytest.approx(15.0368, abs=0.0003)
    assert float(rates.declination_arcsec_per_min) == pytest.approx(0.0, abs=1e-9)


@BOTH_SIDES
@BOTH_POLES
def test_the_knobs_are_the_difference_of_where_the_shafts_stand(side, pole):
    """Derived and differenced: half a minute before and after, errors of up to three degrees.

    The object moves among the stars as well, as the Moon does.
    """
    rng = np.random.default_rng(5)
    watcher = Observer(47.0 * pole, 0.0)
    for _ in range(20):
        faults = dict(zip(UNKNOWNS, rng.uniform(-180.0, 180.0, 6), strict=True))
        model = mount(**faults)
        H, d = float(rng.uniform(-5, 5)), float(rng.uniform(-25, 75)) * pole
        rate, own = 14.5, 0.2
        step = np.array([-30.0, 30.0])
        h, dec = instrument_angles(
            model, H + step * rate / 54000.0, d + step * own / 3600.0, side, watcher
        )
        found = shaft_rates(model, H, d, side, watcher, rate, own)
        assert float(found.hour_arcsec_per_s) == pytest.approx(
            (h[1] - h[0]) * 54000.0 / 60.0, abs=2e-4
        )
        assert float(found.declination_arcsec_per_min) == pytest.approx(
            (dec[1] - dec[0]) * 3600.0, abs=2e-3
        )


@BOTH_POLES
def test_near_the_pole_a_tube_out_of_the_square_reaches_no_star(pole):
    """A cone of two degrees leaves two degrees around the axis that no shaft angles reach."""
    model = mount(cone=120.0)
    declinations = np.array([80.0, 87.9, 88.1, 89.5]) * pole
    found = circles_shown(model, 1.0, declinations, 1.0, airless(pole))
    assert found.reached.tolist() == [True, True, False, False]
    assert np.isnan(found.hour_circle_h[2:]).all()
    assert np.isnan(found.declination_sigma_arcmin[2:]).all()
    assert np.isfinite(found.declination_circle_deg[:2]).all()
    first, _, third, last = found.refusals
    assert first is None
    assert third is not None
    assert last is not None
    assert last.from_axis_deg == pytest.approx(0.5)
    assert last.least_from_axis_deg == pytest.approx(2.0)
    # A lean to the same side makes up for it at the elevated pole, and doubles it at the other.
    square = mount(cone=120.0, lean=120.0)
    assert circles_shown(square, 1.0, 89.99 * pole, 1.0, airless(pole)).reached
    assert not circles_shown(square, 1.0, -86.1 * pole, 1.0, airless(pole)).reached
    assert circles_shown(square, 1.0, -85.9 * pole, 1.0, airless(pole)).reached
