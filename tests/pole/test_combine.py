"""Combining measurements, counting those since the last turn, and what follows from them."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
import simulator as sim
from scipy.spatial.transform import Rotation
from scipy.stats import chi2 as chi2_of_scipy

from axletree.axis.frame import pole_altitude_deg
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.pole.correct.advice import advise, chance_within
from axletree.pole.correct.after_turning import Base, expected_drift, star_move
from axletree.pole.correct.bolts import head_turns_deg
from axletree.pole.solution.candidates import MeasurableStars
from axletree.pole.solution.combine import combine
from axletree.pole.solution.doubt import (
    Doubt,
    DoubtKind,
    Explanation,
    Mistake,
    shown_among,
    still_standing,
)
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.least_squares import chance_of_more, marginal_information
from axletree.pole.solution.record import (
    evening_of,
    measure_record,
    row_marks,
    tonight,
    turn_record,
    with_doubts,
    withdrawal_record,
)
from axletree.sky.observer import Observer


def test_sums_of_information_equal_stacked_least_squares():
    rng = np.random.default_rng(1)
    truth = np.array([12.0, -7.0])
    rows, told, estimates = [], [], []
    for _ in range(6):
        slopes = rng.normal(size=(int(rng.integers(1, 4)), 2))
        seen = slopes @ truth + rng.normal(size=len(slopes))
        information = slopes.T @ slopes
        values = np.linalg.pinv(slopes) @ seen
        estimates.append(AxisEstimate(values[0], values[1], information))
        rows.append(slopes)
        told.append(seen)
    # numpy's least squares on all rows at once is the yardstick.
    stacked, *_ = np.linalg.lstsq(np.vstack(rows), np.concatenate(told), rcond=None)
    found = combine(estimates)
    assert found.estimate.values == pytest.approx(stacked, abs=1e-9)
    everything = np.vstack(rows)
    assert np.linalg.inv(everything.T @ everything) == pytest.approx(
        found.estimate.covariance / found.widened**2, abs=1e-9
    )


def test_one_direction_and_another_make_both():
    a = AxisEstimate(10.0, 0.0, np.diag([1.0, 0.0]))
    b = AxisEstimate(0.0, -4.0, np.diag([0.0, 4.0]))
    assert (a.rank, b.rank) == (1, 1)
    assert math.isinf(a.high_sigma_arcmin)
    found = combine([a, b]).estimate
    assert found.values == pytest.approx([10.0, -4.0])
    assert (found.high_sigma_arcmin, found.east_sigma_arcmin) == pytest.approx((1.0, 0.5))


def test_an_outlier_is_named_and_left_out():
    good = [AxisEstimate(10.0 + d, 5.0 - d, np.eye(2)) for d in (-0.6, 0.2, 0.5)]
    found = combine([*good, AxisEstimate(10.0, 25.0, np.eye(2))])
    assert found.left_out == (3,)
    assert found.misfit_sigmas[3] == pytest.approx(20.0 / math.sqrt(4.0 / 3.0), rel=0.05)
    assert found.estimate.values == pytest.approx([10.0333, 4.9667], abs=1e-3)


def test_two_that_disagree_are_both_kept_and_widened():
    found = combine([AxisEstimate(0.0, 0.0, np.eye(2)), AxisEstimate(10.0, 0.0, np.eye(2))])
    assert found.left_out == ()
    assert found.at_odds
    assert found.estimate.high_arcmin == pytest.approx(5.0)
    # chi2 = 50 with 2 degrees of freedom: 5 times the 1 / sqrt(2) of two honest ones.
    assert found.estimate.high_sigma_arcmin == pytest.approx(5.0 / math.sqrt(2.0))


def test_combined_error_bars_hold():
    rng = np.random.default_rng(7)
    errors, covariances = [], []
    for _ in range(1000):
        truth = rng.normal(0.0, 20.0, 2)
        estimates = []
        for _ in range(3):
            root = rng.normal(size=(2, 2)) + np.eye(2)
            covariance = root @ root.T * rng.uniform(0.1, 3.0)
            values = rng.multivariate_normal(truth, covariance)
            estimates.append(AxisEstimate(values[0], values[1], np.linalg.inv(covariance)))
        found = combine(estimates)
        if found.left_out or found.at_odds:
            continue
        errors.append(found.estimate.values - truth)
        covariances.append(found.estimate.covariance)
    assert len(errors) > 970
    assert np.all(np.abs(sim.coverage(errors, covariances) - [68.27, 95.0, 68.27, 95.0]) < 3.0)


def test_nothing_to_combine():
    with pytest.raises(AxletreeError, match="no measurements"):
        combine([])
    with pytest.raises(AxletreeError, match="fix nothing"):
        combine([AxisEstimate(0.0, 0.0, np.zeros((2, 2)))])


@pytest.mark.parametrize("dof", [1, 2, 3, 4, 7, 12])
def test_chance_against_scipy(dof):
    for chi2 in (0.01, 0.5, 2.0, 7.7, 30.0, 200.0, 2000.0):
        assert chance_of_more(chi2, dof) == pytest.approx(chi2_of_scipy.sf(chi2, dof), rel=1e-9)


def test_marginal_information_is_the_inverse_of_the_covariance_block():
    root = np.random.default_rng(3).normal(size=(6, 6))
    information = root @ root.T + np.eye(6)
    block = np.linalg.inv(information)[:2, :2]
    assert marginal_information(information, (0, 1)) == pytest.approx(np.linalg.inv(block))


def test_ellipse_and_chance_against_a_million_throws():
    rng = np.random.default_rng(4)
    covariance = np.array([[9.0, 4.0], [4.0, 4.0]])
    estimate = AxisEstimate(3.0, -2.0, np.linalg.inv(covariance))
    throws = rng.multivariate_normal([3.0, -2.0], covariance, 1_000_000)
    assert chance_within(estimate, 5.0) == pytest.approx(
        (np.hypot(*throws.T) < 5.0).mean(), abs=0.003
    )
    ellipse = estimate.ellipse(0.95)
    turn = np.radians(ellipse.turn_deg)
    off = throws - [3.0, -2.0]
    along = off[:, 1] * np.cos(turn) + off[:, 0] * np.sin(turn)
    across = -off[:, 1] * np.sin(turn) + off[:, 0] * np.cos(turn)
    inside = (along / ellipse.long_arcmin) ** 2 + (across / ellipse.short_arcmin) ** 2 < 1.0
    assert inside.mean() == pytest.approx(0.95, abs=0.001)


# --- what counts tonight ------------------------------------------------------------------------

ZONE = ZoneInfo("Europe/Lisbon")
HERE = Observer(38.57, -7.91, 290.0)
EVENING = datetime(2026, 12, 5, 20, 0, tzinfo=UTC)


def record(minutes, high, key, observer=HERE, pole="refracted"):
    estimate = AxisEstimate(high, 0.0, np.eye(2))
    return measure_record(
        "drift", EVENING + timedelta(minutes=minutes), "x.csv", key, estimate, observer, pole
    )


def test_only_measurements_since_the_last_turn_of_this_evening_and_spot_count():
    records = [
        record(-1440, 1.0, "yesterday"),
        record(0, 2.0, "before"),
        turn_record(EVENING + timedelta(minutes=10), 0.2, -0.1, HERE),
        record(20, 3.0, "after"),
        record(300, 4.0, "past midnight"),
        record(30, 5.0, "elsewhere", Observer(41.0, -8.0)),
        {"kind": "something else", "at": EVENING.isoformat()},
        {"kind": "axis measured", "at": "when?"},
        {"kind": "axis measured", "at": EVENING.isoformat(), "latitude_deg": 38.57},
    ]
    found = tonight(records, evening_of(EVENING, ZONE), ZONE, HERE)
    assert [m.estimate.high_arcmin for m in found.since_turn] == [3.0, 4.0]
    assert found.before_turn == 1
    assert found.turns == (0.2, -0.1)
    assert evening_of(EVENING, ZONE) == date(2026, 12, 5)


def test_a_file_read_twice_counts_once_and_the_later_reading_wins():
    found = tonight(
        [record(0, 1.0, "a"), record(0, 1.5, "a")], evening_of(EVENING, ZONE), ZONE, HERE
    )
    assert [m.estimate.high_arcmin for m in found.since_turn] == [1.5]


def test_a_measurement_taken_back_does_not_count_and_may_come_again():
    withdrawn = withdrawal_record(EVENING, "a", HERE)
    records = [record(0, 1.0, "a"), record(1, 2.0, "b"), withdrawn]
    evening = evening_of(EVENING, ZONE)
    found = tonight(records, evening, ZONE, HERE)
    assert [m.estimate.high_arcmin for m in found.since_turn] == [2.0]
    found = tonight([*records, record(2, 3.0, "a")], evening, ZONE, HERE)
    assert [m.estimate.high_arcmin for m in found.since_turn] == [2.0, 3.0]


def test_a_measurement_from_the_true_pole_is_carried_to_the_refracted_one():
    told = record(0, 5.0, "a", pole="true")
    found = tonight([told], evening_of(EVENING, ZONE), ZONE, HERE).since_turn[0]
    lift = (pole_altitude_deg(HERE) - 38.57) * 60.0
    assert found.estimate.high_arcmin == pytest.approx(5.0 - lift)


# --- what stays doubtful ------------------------------------------------------------------------


def test_a_doubt_is_noted_and_read_again_whole():
    doubt = Doubt(
        DoubtKind.DISAGREEING, (0, 1, 2), (0.6, 0.5, 0.6), np.arange(6.0).reshape(3, 2),
        (Explanation(Mistake.REVERSED, (1,)), Explanation(Mistake.MISTAKEN, (0,), -41.5)),
        0.003, 12.0, ("Altair", "Vega", "Deneb"),
    )  # fmt: skip
    told = json.loads(json.dumps(with_doubts(record(0, 1.0, "a"), [doubt])))
    (found,) = tonight([told], evening_of(EVENING, ZONE), ZONE, HERE).since_turn[0].doubts
    assert found.slopes == pytest.approx(doubt.slopes)
    assert replace(found, slopes=doubt.slopes) == doubt


@pytest.mark.parametrize(
    ("key", "value"),
    [("kind", "?"), ("rows", [7]), ("rows", []), ("shown", None), ("chance", "nan"), ("names", 1)],
)
def test_a_damaged_doubt_is_passed_over_and_its_measurement_kept(key, value):
    doubt = Doubt(DoubtKind.UNCHECKED, (0,), (0.1,), np.ones((1, 2)), names=("Altair",))
    told = with_doubts(record(0, 1.0, "a"), [doubt])
    told["doubts"][0][key] = value
    (found,) = tonight([told], evening_of(EVENING, ZONE), ZONE, HERE).since_turn
    assert found.doubts == ()


def test_a_star_is_checked_by_another_measurement_as_if_both_were_solved_together():
    """The part that shows, against the projection matrix of all rows stacked (numpy's QR)."""
    rng = np.random.default_rng(6)
    rows, others = rng.normal(size=(2, 2)), rng.normal(size=(3, 2))
    q, _ = np.linalg.qr(np.vstack([rows, others]))
    stacked = np.sqrt(1.0 - np.sum(q**2, axis=1))[:2]
    alone = shown_among(rows, rows.T @ rows)
    assert alone == pytest.approx(0.0, abs=1e-6)
    together = shown_among(rows, rows.T @ rows + others.T @ others)
    assert together == pytest.approx(stacked)
    doubt = Doubt(DoubtKind.UNCHECKED, (0, 1), (0.0, 0.0), rows)
    left = still_standing(doubt, rows.T @ rows + others.T @ others)
    weak = tuple(int(k) for k in np.flatnonzero(stacked < 0.5))
    assert (() if left is None else left.rows) == weak
    same = still_standing(doubt, rows.T @ rows)
    assert same is not None
    assert same.rows == (0, 1)


def test_a_list_to_which_a_row_was_added_replaces_the_shorter_one():
    short, long_ = ("x", "y"), ("x", "y", "z")
    told = [
        {**record(0, 1.0, "a"), "rows": list(short)}, {**record(1, 2.0, "b"), "rows": list(long_)},
        {**record(2, 3.0, "c"), "rows": ["w"]}, record(3, 4.0, "d"),
    ]  # fmt: skip
    found = tonight(told, evening_of(EVENING, ZONE), ZONE, HERE)
    assert [m.estimate.high_arcmin for m in found.since_turn] == [2.0, 3.0, 4.0]
    assert row_marks("a,b\n\n# no\n1,2\n") == row_marks("a,b\n 1,2")
    assert len(row_marks("a,b\n1,2\n")) == 2


# --- after the turn -----------------------------------------------------------------------------


@pytest.mark.parametrize("latitude", [38.0, -44.0])
@pytest.mark.parametrize("lean", [(0.0, 0.0), (1.5, -2.0)])
def test_the_turn_brings_the_axis_onto_the_pole_by_rotations_of_scipy(latitude, lean):
    """The head turned about its hinge and its base's vertical, with rotation vectors."""
    place = sim.Place(latitude, 1000.0, 10.0, 45.0, -80.0)
    watcher = Observer(latitude, 0.0, pressure_hpa=1000.0, temperature_c=10.0)
    up, east = (float(v) for v in head_turns_deg(45.0, -80.0, pole_altitude_deg(watcher), *lean))
    sense = np.sign(latitude)
    vertical = np.array([np.tan(np.radians(lean[1])), sense * np.tan(np.radians(lean[0])), 1.0])
    vertical /= np.linalg.norm(vertical)
    hinge = np.cross(place.axis, vertical)
    hinge /= np.linalg.norm(hinge)
    head = Rotation.from_rotvec(-sense * np.radians(east) * vertical) * Rotation.from_rotvec(
        np.radians(up) * hinge
    )
    left = head.apply(place.axis) - place.pole
    assert np.degrees(np.linalg.norm(left)) * 3600.0 < 0.1
    # A star in the middle of the field: the tube turns with the head, the star stays behind.
    H, d = 0.7, 15.0 * sense
    star = place.seen(sim.star(H, d, latitude))
    moved = star_move(45.0, -80.0, H, d, Base(watcher, "refracted", *lean))
    tube = place.unseen(head.apply(star)[None])[0]
    tube_h, tube_d = sim.hour_angle_declination(tube, latitude)
    # The star is north of the new middle by the difference of declinations, west by hour angle.
    assert moved.north_arcmin == pytest.approx((d - tube_d) * 60.0, abs=1.2)
    assert moved.west_arcmin == pytest.approx((H - tube_h) * 900.0 * np.cos(np.radians(d)), abs=1.2)


def test_expected_drift_after_a_good_turn_is_that_of_a_true_axis():
    watcher = Observer(45.0, 0.0, pressure_hpa=1000.0, temperature_c=10.0)
    estimate = AxisEstimate(10.0, -20.0, np.eye(2) * 4.0)
    told = expected_drift(estimate, 0.0, 10.0, 300.0, watcher, bolt_fault=0.0)
    place = sim.Place(45.0, 1000.0, 10.0, 10.0, -20.0)
    perfect = sim.Place(45.0, 1000.0, 10.0, 0.0, 0.0)
    assert told.before_arcsec == pytest.approx(sim.drift_arcsec(place, 0.0, 10.0, 300.0), abs=0.05)
    assert told.after_arcsec == pytest.approx(sim.drift_arcsec(perfect, 0.0, 10.0, 300.0), abs=0.05)
    # 0.5' of sigma times 1.31 arcsec an arcminute in five minutes (reference row A1).
    assert told.sigma_arcsec == pytest.approx(0.5 * 1.3126, rel=0.02)


def test_advice_turns_what_is_known_and_only_then():
    kit = demo_kit("courtyard")
    watcher = Observer(38.57, -7.91, 292.0)
    near = MeasurableStars(
        ("One", "Two"), np.array([0.1, -5.0]), np.array([10.0, 20.0]), np.array([180.0, 90.0]),
        np.array([60.0, 30.0]), np.array([1, 2]), np.array([1.0, 2.0]),
    )  # fmt: skip
    known = AxisEstimate(30.0, -50.0, np.eye(2) * 4.0)
    told = advise(known, kit, Base(watcher), near, good_arcmin=5.0)
    assert told.verdict == "bad"
    assert told.moves is not None
    assert told.moves.raise_deg * 60.0 == pytest.approx(-30.0, abs=1.0)
    assert told.moves.move_east_deg > 0
    assert told.move_star is not None
    assert told.move_star.name == "One"
    one_direction = AxisEstimate(30.0, 0.0, np.diag([4.0, 0.0]))
    told = advise(one_direction, kit, Base(watcher), near, good_arcmin=5.0)
    assert told.moves is None
    assert told.next_name == "One"  # on the meridian: tells what isn't known, `east`
    close = AxisEstimate(0.5, 0.2, np.eye(2) * 25.0)
    assert advise(close, kit, Base(watcher), None, good_arcmin=5.0).verdict == "good"
    unsure = AxisEstimate(5.0, 0.2, np.eye(2) * 0.2)
    assert advise(unsure, kit, Base(watcher), None, good_arcmin=5.0).verdict == "open"
