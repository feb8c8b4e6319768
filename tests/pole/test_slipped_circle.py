"""A circle that slipped on its shaft is no error of the axis; against the simulator's shafts.

The declination shaft stands at d on side east and over the pole, at 180 - d, on side west, so a
circle that slipped by e shows d + e and d - e: the mean of both sides is free of the index error
and half their difference is it (J. N. Lockyer 1878, Stargazing: Past and Present, ch. XXI, whose
star near the meridian gives index error and altitude of the axis; the rule, not the figures).
"""

from __future__ import annotations

import numpy as np
import pytest
import simulator as sim
from hypothesis import given, settings
from hypothesis import strategies as st
from test_readings import NOMINAL, SIDES, observer_at, simulate

from axletree.axis.circles import circle_readings, folded_deg, pointed_angles
from axletree.axis.frame import seen_vectors
from axletree.kit.errors import AxletreeError
from axletree.pole.readings.model import one_setting, start_values
from axletree.pole.readings.observed import CircleErrors, CircleReadings
from axletree.pole.readings.solve import solve_readings
from axletree.pole.readings.suspects import SlipKind
from axletree.pole.rows.readings_file import read_circles

BOTH_POLES = pytest.mark.parametrize("latitude", [44.0, -33.0])
SIX = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])


def words(side):
    return [SIDES[s] for s in side]


def read(place, side, H, d, slip_h, slip_deg, cone=0.0, lean=0.0):
    """(hour angle, declination, hour circle, declination circle) without noise."""
    both = sim.shafts(side, H, d)
    return (*sim.tube_on(place, *both, cone, lean), *sim.shown(*both, slip_h, slip_deg))


def six_stars(latitude):
    H = np.array([4.0, -4.0, 0.5, -0.7, 2.5, -2.0])
    return H, np.array([20.0, 45.0, -8.0, 12.0, 55.0, 5.0]) * np.sign(latitude)


@settings(max_examples=200, deadline=None)
@given(
    st.floats(-180.0, 180.0), st.floats(-179.0, 179.0), st.floats(-60.0, 60.0),
    st.floats(-60.0, 60.0), st.floats(-180.0, 180.0), st.floats(-12.0, 12.0),
    st.sampled_from([40.0, -40.0]),
)  # fmt: skip
def test_circles_show_their_shafts(hour_shaft, dec_shaft, cone, lean, slip_deg, slip_h, latitude):
    """Any angle of both shafts, over the pole or not: the side follows from the shaft alone."""
    if abs(abs(dec_shaft) - 90.0) < 3.0:  # the tube can't look nearer to the axis than its faults
        return
    place = sim.Place(latitude, 0.0, 10.0, 0.0, 0.0)
    side = 1.0 if abs(dec_shaft) < 90.0 else -1.0
    H, d = sim.tube_on(place, hour_shaft, dec_shaft, cone, lean)
    to_north = lean if latitude > 0 else -lean
    faults = (side, cone, to_north, slip_h * 900.0, slip_deg * 60.0)
    hour, declination = circle_readings(H, d, *faults)
    right_h, right_deg = sim.shown(hour_shaft, dec_shaft, slip_h, slip_deg)
    assert (float(hour - right_h) + 3.0) % 12.0 - 3.0 == pytest.approx(0.0, abs=1e-7)
    assert float(folded_deg(declination)) == pytest.approx(float(right_deg), abs=1e-5)
    back_h, back_d = pointed_angles(hour, declination, *faults)
    assert (float(back_h - H) + 12.0) % 24.0 - 12.0 == pytest.approx(0.0, abs=1e-8)
    assert float(back_d) == pytest.approx(float(d), abs=1e-8)


@BOTH_POLES
@pytest.mark.parametrize("slip", [1.0, -2.0])
def test_a_slipped_circle_on_a_perfect_mount_is_an_index_error(latitude, slip):
    place = sim.Place(latitude, 1000.0, 5.0, 0.0, 0.0)
    h, d, shown_h, shown_d = read(place, SIX, *six_stars(latitude), 0.2, slip)
    found = solve_readings(
        CircleReadings(h, d, words(SIX), shown_h, shown_d),
        observer_at(place),
        CircleErrors(6.0, 6.0),
    )
    # Nothing but the two refraction formulas differ: 0.4" at 25 degrees.
    assert found.estimate.values == pytest.approx([0.0, 0.0], abs=0.05)
    assert found.widened == 1.0
    index = found.index("declination")
    assert index.shows_too_much_arcmin(1) == pytest.approx(60.0 * slip, abs=0.05)
    assert index.shows_too_much_arcmin(-1) == pytest.approx(-60.0 * slip, abs=0.05)
    hour = found.index("hour")
    assert hour.shows_too_much_arcmin(1) == hour.shows_too_much_arcmin(-1)
    assert hour.arcmin == pytest.approx(180.0, abs=0.05)


def test_many_axes_with_slipped_circles():
    """Both hemispheres, both sides, index errors to 2 degrees; every answer counts. Long: 4,000."""
    rng = np.random.default_rng(1878)
    errors, covariances, pulls, south = [], [], [], 0
    runs = sim.of_runs(4000, 600)
    for _ in range(runs):
        place = sim.random_place(rng, 120.0)
        count = int(rng.integers(3, 9))
        side = np.where(rng.permutation(count) % 2, -1.0, 1.0)
        cone, lean = rng.normal(0.0, 20.0), rng.normal(0.0, 10.0)
        circle, centring = rng.uniform(2.0, 15.0), rng.uniform(0.5, 3.0)
        slip = rng.uniform(-2.0, 2.0)
        h, d, shown_h, shown_d = simulate(
            rng, place, side, count, cone, lean, circle, centring, rng.uniform(-6.0, 6.0), slip
        )
        found = solve_readings(
            CircleReadings(h, d, words(side), shown_h, shown_d),
            observer_at(place),
            CircleErrors(circle, circle, centring),
        )
        errors.append(found.estimate.values - [place.high_arcmin, place.east_arcmin])
        covariances.append(found.estimate.covariance)
        south += place.south
        index = found.index("declination")
        if index is not None and not found.set_anew:
            pulls.append((index.arcmin - 60.0 * slip) / index.sigma_arcmin)
    assert 0.43 < south / runs < 0.57
    off = np.abs(sim.coverage(errors, covariances) - NOMINAL)
    assert np.all(off < sim.tolerance(2.5, NOMINAL, runs)), off
    assert len(pulls) > 0.85 * runs
    assert (np.abs(pulls) < 1.0).mean() * 100.0 == pytest.approx(
        68.27, abs=sim.tolerance(2.5, 68.27, runs)
    )
    assert (np.abs(pulls) < 1.96).mean() * 100.0 == pytest.approx(
        95.0, abs=sim.tolerance(2.5, 95.0, runs)
    )


@BOTH_POLES
def test_one_star_near_the_meridian_on_both_sides(latitude):
    """Index error and altitude of the axis come out, the other error stays open: rank 1."""
    place = sim.Place(latitude, 0.0, 5.0, 25.0, 0.0)  # no air, so that the hand's sum is exact
    side, d = np.array([1.0, -1.0]), np.array([20.0, 20.0]) * np.sign(latitude)
    h, dec, shown_h, shown_d = read(place, side, np.array([-0.01, 0.01]), d, 0.1, 1.5)
    found = solve_readings(
        CircleReadings(h, dec, words(side), shown_h, shown_d),
        observer_at(place),
        CircleErrors(6.0, 6.0),
    )
    assert found.estimate.rank == 1
    # Half the difference and the mean, by hand; the two readings of the same star.
    assert found.index("declination").arcmin == pytest.approx(
        60.0 * (shown_d[0] - shown_d[1]) / 2.0, abs=1.0
    )
    assert found.index("declination").arcmin == pytest.approx(90.0, abs=1.0)
    high = 60.0 * np.mean(shown_d - dec) * np.sign(latitude)
    assert high == pytest.approx(25.0, abs=0.2)
    assert found.estimate.high_arcmin == pytest.approx(high, abs=0.2)
    assert found.estimate.east_arcmin == pytest.approx(0.0, abs=0.2)
    # Two readings of 6.3' each: their mean is known to 4.5'.
    assert found.estimate.information[0, 0] ** -0.5 == pytest.approx(
        np.hypot(6.0, 2.0) / np.sqrt(2.0), rel=0.02
    )


def anew(latitude, circle, told=None, size=None):
    """A circle moved between the sides; three readings on each, on a mount 20' and -30' off."""
    rng = np.random.default_rng(7)
    place = sim.Place(latitude, 1000.0, 5.0, 20.0, -30.0)
    side = np.array([1.0, 1.0, 1.0, -1.0, -1.0, -1.0])
    H = np.array([0.3, 3.5, 5.0, -0.5, -3.0, -5.5])
    d = np.array([5.0, 40.0, 20.0, 10.0, 50.0, 30.0])
    step = {"hour": 1.3, "declination": 2.5}[circle] if size is None else size
    moved = np.where(side > 0, 0.0, step)
    slip = (moved, 1.0) if circle == "hour" else (0.2, 1.0 + moved)
    h, dec, shown_h, shown_d = read(place, side, H, d * np.sign(latitude), *slip, 8.0, 4.0)
    shown_h, shown_d = shown_h + rng.normal(0, 4, 6) / 900, shown_d + rng.normal(0, 4, 6) / 60
    found = solve_readings(
        CircleReadings(h, dec, words(side), shown_h, shown_d, **told or {}),
        observer_at(place),
        CircleErrors(4.0, 4.0, 0.5),
    )
    return found, found.estimate.values - [20.0, -30.0]


@BOTH_POLES
@pytest.mark.parametrize("circle", ["declination", "hour"])
def test_a_circle_set_anew_between_the_sides_is_noticed(latitude, circle):
    found, error = anew(latitude, circle)
    assert found.set_anew == (circle,)
    assert found.left_out == ()
    assert found.widened == 1.0
    assert error @ found.estimate.information @ error < 9.2  # 99 % of two degrees of freedom
    own = {i.setting: i for i in found.indices if i.circle == circle}
    unit = {"hour": 900.0, "declination": 60.0}[circle]
    true = {"hour": (0.0, 1.3), "declination": (1.0, 3.5)}[circle]
    for setting, value in zip(("east", "west"), true, strict=True):
        assert abs(own[setting].arcmin - unit * value) < 3.0 * own[setting].sigma_arcmin


@BOTH_POLES
@pytest.mark.parametrize("circle", ["declination", "hour"])
def test_a_circle_said_to_be_set_anew_has_two_index_errors(latitude, circle):
    """A small move that nothing would notice, said in the file, no longer bends the axis."""
    told = {f"{circle}_settings": ["first"] * 3 + ["second"] * 3}
    size = {"hour": 0.1, "declination": 0.4}[circle]
    found, error = anew(latitude, circle, told, size)
    assert found.set_anew == ()
    assert circle not in dict(found.anew_seen_from_arcmin)
    assert error @ found.estimate.information @ error < 9.2
    own = {i.setting: i for i in found.indices if i.circle == circle}
    assert set(own) == {"first", "second"}
    unit = {"hour": 900.0, "declination": 60.0}[circle]
    between = own["second"].arcmin - own["first"].arcmin
    spread = np.hypot(own["first"].sigma_arcmin, own["second"].sigma_arcmin)
    assert abs(between - unit * size) < 3.0 * spread
    # The last setting is the one in force.
    assert found.index(circle).setting == "second"
    assert found.rank + len(found.assumed) == 7


def test_left_alone_circles_are_not_said_to_be_set_anew():
    found, _ = anew(44.0, "declination", size=0.0)
    assert found.set_anew == ()
    seen = dict(found.anew_seen_from_arcmin)
    assert 10.0 < seen["declination"] < 150.0
    larger, _ = anew(44.0, "declination", size=1.5 * seen["declination"] / 60.0)
    assert larger.set_anew == ("declination",)
    said, _ = anew(44.0, "declination", {"declination_settings": ["one"] * 6}, 2.5)
    assert said.set_anew == ()
    assert said.widened > 1.0 or said.left_out


def test_so_few_readings_cannot_tell_of_a_move():
    place = sim.Place(44.0, 1000.0, 5.0, 0.0, 0.0)
    side = np.array([1.0, 1.0, -1.0])
    H, d = np.array([1.0, 4.0, -3.0]), np.array([10.0, 30.0, 40.0])
    both = read(place, side, H, d, 0.0, 0.0)
    for sides, seen in ((side, {"declination": np.inf, "hour": np.inf}), (np.ones(3), {})):
        found = solve_readings(
            CircleReadings(both[0], both[1], words(sides), both[2], both[3]),
            observer_at(place),
            CircleErrors(4.0, 4.0),
        )
        assert dict(found.anew_seen_from_arcmin) == seen


@BOTH_POLES
@pytest.mark.parametrize("mistaken", range(6))
def test_the_solver_sets_out_near_the_slip(latitude, mistaken):
    """Not from a plain median: half of the stars are off the other way, and one is mistaken."""
    place = sim.Place(latitude, 1000.0, 5.0, 30.0, -20.0)
    h, d, shown_h, shown_d = read(place, SIX, *six_stars(latitude), 0.2, 2.0)
    shown_d[mistaken] -= 10.0
    watcher = observer_at(place)
    start = start_values(
        seen_vectors(h, d, watcher), SIX, shown_h, shown_d, one_setting(6), watcher, "refracted"
    )
    # As near as the axis is: its error is in every reading.
    assert start[3] == pytest.approx(120.0, abs=np.hypot(30.0, 20.0) + 1.0)
    assert start[2] == pytest.approx(180.0, abs=60.0)
    assert not start[[0, 1, 4, 5]].any()


@BOTH_POLES
@pytest.mark.parametrize("mistaken", range(6))
def test_a_misread_star_is_found_under_a_slipped_circle(latitude, mistaken):
    place = sim.Place(latitude, 1000.0, 5.0, 30.0, -20.0)
    h, d, shown_h, shown_d = read(place, SIX, *six_stars(latitude), 0.2, 2.0)
    shown_d[mistaken] -= 10.0
    found = solve_readings(
        CircleReadings(h, d, words(SIX), shown_h, shown_d),
        observer_at(place),
        CircleErrors(6.0, 6.0),
    )
    assert found.left_out == (mistaken,)
    (slip,) = found.slips
    assert slip.kind is SlipKind.DECLINATION_MISREAD
    assert slip.degrees == pytest.approx(-10.0, abs=0.6)
    assert found.estimate.values == pytest.approx([30.0, -20.0], abs=0.2)
    assert found.index("declination").arcmin == pytest.approx(120.0, abs=0.2)


@BOTH_POLES
def test_a_circle_that_slipped_past_its_ninety(latitude):
    """Numbers fall again past 90; a circle numbered right round says the same."""
    place = sim.Place(latitude, 1000.0, 5.0, 0.0, 0.0)
    H, d = six_stars(latitude)
    d[:2] = 86.5 * np.sign(latitude), 85.0 * np.sign(latitude)
    both = sim.shafts(SIX, H, d)
    star = sim.tube_on(place, *both, 0.0, 0.0)
    shown_h, shown_d = sim.shown(*both, 0.0, 8.0)
    round_d = (both[1] + 8.0 + 180.0) % 360.0 - 180.0
    assert np.max(np.abs(round_d)) > 90.0
    for declinations in (shown_d, round_d):
        found = solve_readings(
            CircleReadings(*star, words(SIX), shown_h, declinations),
            observer_at(place),
            CircleErrors(6.0, 6.0),
        )
        assert found.left_out == ()
        assert found.estimate.values == pytest.approx([0.0, 0.0], abs=0.1)
        assert found.index("declination").arcmin == pytest.approx(480.0, abs=0.1)


def settings_in(rows, head="declination_circle_setting"):
    text = f"hour_angle_h,declination_deg,tube_side,hour_circle_h,declination_circle_deg,{head}\n"
    lines = [f"1,10,east,1,10,{row}" for row in rows]
    place = sim.Place(44.0, 1000.0, 5.0, 0.0, 0.0)
    return read_circles(text + "\n".join(lines), "c.csv", observer_at(place), lambda _: None)


def test_settings_in_a_file():
    assert settings_in(["a", "", "b", ""]).declination_settings == ("a", "a", "b", "b")
    assert settings_in(["", "2", ""]).declination_settings == ("first", "2", "2")
    assert settings_in(["", ""]).declination_settings is None
    told = settings_in(["1", "2"], "hour_circle_setting")
    assert told.hour_settings == ("1", "2")
    assert told.declination_settings is None
    with pytest.raises(AxletreeError, match="no column 'declination_setting'"):
        settings_in(["1"], "declination_setting")
