"""Where the laws of an imperfect mount begin and end: no fault, next to the pole, refusals."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.axis.circles import circle_readings, pointed_angles
from axletree.axis.model import PointingModel, learned, roll_of_east, unmeasured
from axletree.axis.shown import circles_shown, pointed_at
from axletree.axis.sides import SideCircles, SideOutOfReach, circles_of_sides
from axletree.axis.spread import propagated
from axletree.axis.unknowns import UNKNOWNS, ModelPart
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import Observer

AT = datetime(2026, 10, 10, 20, tzinfo=UTC)
BOTH_POLES = pytest.mark.parametrize("pole", [1.0, -1.0], ids=["north", "south"])


def mount(spread: float = 0.0, **faults: float) -> PointingModel:
    """A mount whose six figures are known to so many arcminutes each."""
    values = np.array([faults.get(name, 0.0) for name in UNKNOWNS])
    return unmeasured(0.0, 0.0).with_values(values, np.eye(6) * spread**2)


def airless(pole: float) -> Observer:
    return Observer(45.0 * pole, 0.0, pressure_hpa=0.0)


@pytest.mark.parametrize("side", [1, -1])
def test_the_circles_of_a_perfect_mount_show_the_star(side):
    """By definition of hour angle and declination: to a hair, there and back."""
    hours, degrees = np.array([-5.0, 0.0, 4.5]), np.array([-30.0, 0.0, 71.0])
    for law in (circle_readings, pointed_angles):
        h, d = law(hours, degrees, side)
        assert h == pytest.approx(hours, abs=1e-12)
        assert d == pytest.approx(degrees, abs=1e-12)


def test_what_is_known_for_certain_has_no_error_on_the_sky():
    at = pointed_at(mount(high=30.0, cone=12.0), (2.0, 40.0), 1.0, airless(1.0))
    assert at.covariance_arcmin2 == pytest.approx(np.zeros((2, 2)), abs=1e-9)


def test_an_uneven_measurement_adds_its_information():
    """C. F. Gauss 1823: informations add up, also those a thousand times smaller than others.

    One direction is measured to 1 arcminute, one to 30, which is still better than the 60 before.
    """
    before = mount(60.0)
    turn = np.linalg.qr(np.random.default_rng(4).normal(size=(6, 6)))[0]
    information = turn @ np.diag([1.0, 30.0**-2, 0.0, 0.0, 0.0, 0.0]) @ turn.T
    values = np.array([20.0, -10.0, 5.0, 3.0, -8.0, 2.0])
    after = learned(before, values, information, (ModelPart.AXIS,), AT)
    prior = np.eye(6) / 60.0**2
    exact = np.linalg.inv(prior + information)
    assert after.covariance == pytest.approx(exact, rel=1e-6, abs=1e-6)
    assert after.values == pytest.approx(exact @ information @ values, abs=1e-6)


def test_covariances_that_differ_by_a_thousandth_are_refused():
    """A covariance is the same both ways round (by definition)."""
    rows = np.eye(6)
    rows[0, 1], rows[1, 0] = 0.5, 0.5005
    good = mount()
    with pytest.raises(AxletreeError, match="both ways round"):
        PointingModel(0, 0, 0, 0, 0, 0, tuple(map(tuple, rows.tolist())), good.known)


@BOTH_POLES
def test_how_near_the_axis_a_leaning_tube_comes(pole):
    """Cone and lean are angles of one triangle: the tube turns about an axis of the declination
    that stands out by `lean`, so that it passes the one pole at |cone - lean|, the other at the
    sum (spherical trigonometry; the lean counts to the elevated pole)."""
    model = mount(cone=120.0, lean=-60.0)
    found = circles_shown(
        model, 1.0, np.array([89.5, 87.1, 86.9, -89.5, -89.1, -88.9]) * pole, 1.0, airless(pole)
    )
    assert found.reached.tolist() == [False, False, True, False, False, True]
    assert found.least_from_axis_deg == pytest.approx([3.0] * 3 + [1.0] * 3, abs=1e-9)
    assert found.from_axis_deg == pytest.approx([0.5, 2.9, 3.1, 0.5, 0.9, 1.1], abs=1e-9)


@BOTH_POLES
@pytest.mark.parametrize("end", [1.0, -1.0])
def test_next_to_what_the_tube_reaches_the_error_is_told(pole, end):
    """The star is in reach by 3 arcminutes while cone and lean are known to 20: many of the mounts
    that the model holds possible don't get there, and take the nearest that they can. The hour
    circle is then nearly open, yet within the twelve hours that even chances would give; the
    declination circle is as uncertain as the cone at most turns it (about the lean's 20)."""
    model = mount(20.0, cone=120.0, lean=40.0)
    reach = 80.0 if end > 0 else 160.0
    found = circles_shown(model, 1.0, (90.0 - (reach + 3.0) / 60.0) * end * pole, 1.0,
                          airless(pole))  # fmt: skip
    assert found.reached
    even_chances = 24.0 * 900.0 / np.sqrt(12.0)
    assert 300.0 < float(found.hour_sigma_arcmin) < even_chances
    assert 20.0 < float(found.declination_sigma_arcmin) < 80.0


@BOTH_POLES
def test_both_sides_halve_to_the_star(pole):
    """J. N. Lockyer 1878, ch. XXI: the half sum of both sides is the star, the half difference the
    slip; a tube that leans out puts the hour circle off by as much either way."""
    model = mount(index_declination=30.0, cone=40.0)
    east, west = circles_of_sides(model, -2.0, 20.0 * pole, airless(pole), 5.0)
    assert isinstance(east, SideCircles)
    assert isinstance(west, SideCircles)
    assert (east.side, west.side) == ("east", "west")
    shown = east.declination_circle_deg, west.declination_circle_deg
    assert (shown[0] - shown[1]) / 2.0 == pytest.approx(0.5, abs=1e-9)
    assert (east.hour_circle_h + west.hour_circle_h) / 2.0 == pytest.approx(22.0, abs=1e-9)
    assert (east.hour_circle_h - west.hour_circle_h) * 450.0 == pytest.approx(
        40.0 / np.cos(np.radians(20.0)), rel=1e-3
    )
    # Sidereal time is right ascension plus hour angle: 3 h.
    assert (east.right_ascension_h + west.right_ascension_h) / 2.0 == pytest.approx(5.0, abs=1e-9)
    near = circles_of_sides(model, -2.0, 89.9 * pole, airless(pole), 5.0)
    assert all(isinstance(one, SideOutOfReach) for one in near)


def test_the_variance_of_what_bends_is_that_of_a_normal_law() -> None:
    """Of x^2 it is 2 sigma^4, of x y sigma_x^2 sigma_y^2 (moments of the normal law; fourth degree,
    which the rule holds); squares of an even law have a mean, which counts for nothing."""
    bent = propagated(mount(3.0), lambda v: np.stack([v[4] ** 2, v[4] * v[5]], axis=-1))
    np.testing.assert_allclose(bent, np.diag([2.0 * 3.0**4, 3.0**4]), atol=1e-9)


def test_what_nobody_measured_is_as_ordinary_mounts_have_it() -> None:
    """A third of a degree of cone, half of that of lean, circles set by the level and the eye to a
    degree (common practice, no source)."""
    usual = unmeasured(30.0, 45.0).sigmas_arcmin
    assert usual == pytest.approx([30.0, 45.0, 60.0, 60.0, 20.0, 10.0])


@pytest.mark.parametrize(("spread_deg", "lost"), [(14.5, False), (15.5, True)])
def test_a_circle_known_no_better_than_an_hour_helps_nobody(spread_deg: float, lost: bool) -> None:
    """15 degrees are an hour; the errors are those of the two circles themselves."""
    spreads = np.array([0.0, 0.0, spread_deg * 60.0, spread_deg * 60.0, 0.0, 0.0])
    model = mount().with_values(np.zeros(6), np.diag(spreads**2))
    for side in circles_of_sides(model, -2.0, 20.0, airless(1.0), 5.0):
        assert isinstance(side, SideCircles)
        assert side.hour_lost is lost
        assert side.declination_lost is lost


def test_a_head_turned_about_the_vertical_carries_its_axis_along_up_to_89_degrees() -> None:
    """At 45 degrees it rolls as much as it carries (plane geometry)."""
    assert roll_of_east(45.0) == pytest.approx(-1.0)
    assert roll_of_east(88.9) == pytest.approx(-np.tan(np.radians(88.9)))
    for altitude in (89.0, 93.0):
        with pytest.raises(AxletreeError, match="0 to 89"):
            roll_of_east(altitude)
