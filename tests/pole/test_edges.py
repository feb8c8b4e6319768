"""What is seldom asked of the polar axis: edges, small steps, and the words that go with them."""

from __future__ import annotations

import math
from dataclasses import fields
from datetime import UTC, datetime, time

import numpy as np
import pytest
import simulator as sim
from scipy.spatial.transform import Rotation

from axletree.axis.frame import mount_angles, seen_vectors
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.axis_view import AxisView, limit_through
from axletree.pole.aim.target import pole_target
from axletree.pole.aim.view import pole_view
from axletree.pole.correct import next_star
from axletree.pole.correct.advice import advise
from axletree.pole.correct.after_turning import Base, expected_drift, star_move
from axletree.pole.correct.bolts import head_turns_deg
from axletree.pole.correct.next_star import _reading_rows, next_drift, next_reading
from axletree.pole.drift.solve import WatchedStars, solve_drift
from axletree.pole.enough.fields import strongest_eyepiece
from axletree.pole.enough.methods import (
    LOCKING_SIGMA_ARCMIN,
    READING_PART_OF_FIELD,
    AligningMethod,
    Obstacle,
    ScopePlacing,
    bolt_stop_sigma_arcmin,
    drift_minutes_for,
    methods,
)
from axletree.pole.enough.movement import worst_turn_arcsec
from axletree.pole.enough.rough import DriftTest
from axletree.pole.enough.tolerance import FieldPart, eye_tolerance
from axletree.pole.frames.attitude import axis_of, rotation_vector, turn_about
from axletree.pole.picture.fits_header import read_headers
from axletree.pole.readings.observed import CircleErrors, CircleReadings, UsualFaults
from axletree.pole.readings.solve import circle_sigmas_arcmin, solve_readings
from axletree.pole.rows.drift_file import read_drift
from axletree.pole.solution.candidates import MeasurableStars, stars_now
from axletree.pole.solution.combine import combine
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer

WATCHER = Observer(45.0, 0.0, pressure_hpa=1000.0, temperature_c=10.0)
EVENING = datetime(2026, 12, 5, 20, 0, tzinfo=UTC)
EVORA = Observer(38.57, -7.91, 292.0)


def test_the_two_bolts_together_move_the_star_as_both_say():
    moved = star_move(45.0, -80.0, 0.7, 15.0, Base(WATCHER))
    for k, whole in enumerate((moved.north_arcmin, moved.west_arcmin)):
        assert moved.by_altitude[k] + moved.by_azimuth[k] == pytest.approx(whole, abs=1e-9)
    # On the meridian the altitude bolt moves a star north or south, the azimuth bolt east or
    # west (common practice).
    there = star_move(45.0, -80.0, 0.0, 15.0, Base(WATCHER))
    assert abs(there.by_altitude[0]) > 40.0 > 5.0 > abs(there.by_altitude[1])
    assert abs(there.by_azimuth[1]) > 40.0 > 5.0 > abs(there.by_azimuth[0])


def test_sigma_of_the_expected_drift_against_a_drawn_crowd():
    """Axes drawn by their covariance and a tenth of each turn; drift by the simulator."""
    rng = np.random.default_rng(5)
    spread = np.array([[4.0, 1.0], [1.0, 9.0]])
    told = expected_drift(
        AxisEstimate(10.0, -20.0, np.linalg.inv(spread)), -3.0, 10.0, 300.0, WATCHER
    )
    left = rng.multivariate_normal([0.0, 0.0], spread + np.diag([1.0**2, 2.0**2]), 2000)
    drifts = [
        sim.drift_arcsec(sim.Place(45.0, 1000.0, 10.0, h, e), -3.0, 10.0, 300.0) for h, e in left
    ]
    assert told.sigma_arcsec == pytest.approx(np.std(drifts), rel=0.06)  # 2000 draws: 1.6 %


@pytest.mark.parametrize("declination", [0.0, 40.0])
def test_turn_of_the_picture_by_rotations_of_scipy(declination):
    """The tube turns about the leaning axis, the sky about the pole; what is left is a turn."""
    error, seconds, radius = 60.0, 3600.0, 1.0
    angle = 2.0 * np.pi * seconds / 86164.0905
    axis = [np.sin(np.radians(error / 60.0)), 0.0, np.cos(np.radians(error / 60.0))]
    sky = Rotation.from_rotvec([0.0, 0.0, angle])
    left = (sky * Rotation.from_rotvec(angle * np.array(axis)).inv()).as_matrix() - np.eye(3)
    worst = 0.0
    for hour in np.arange(0.0, 360.0, 5.0):
        look = Rotation.from_euler("YZ", [-declination, hour], degrees=True)
        for way in np.arange(0.0, 360.0, 10.0):
            point = Rotation.from_euler("X", way, degrees=True).apply(
                Rotation.from_euler("Z", radius, degrees=True).apply([1.0, 0.0, 0.0])
            )
            off = look.apply(point) - look.apply([1.0, 0.0, 0.0])
            worst = max(worst, float(np.linalg.norm(left @ off)))
    told = worst_turn_arcsec(error, declination, seconds, radius)
    assert told == pytest.approx(np.degrees(worst) * 3600.0, rel=0.02)


def test_hour_circle_index_moves_the_hour_circle_alone():
    # By what an index error is: the same for every star, nothing on the other circle.
    seen = seen_vectors(np.array([-3.0, 1.0]), np.array([10.0, 40.0]), WATCHER)
    rows = _reading_rows(seen, 1.0, WATCHER, "refracted")
    assert np.abs(rows[:, :, 2]) == pytest.approx(np.array([[1.0, 1.0], [0.0, 0.0]]), abs=1e-9)
    assert np.abs(rows[:, :, 3]) == pytest.approx(np.array([[0.0, 0.0], [1.0, 1.0]]), abs=1e-9)


def test_circles_are_read_to_a_tenth_of_a_division():
    # 10 minutes are 150 arcminutes of the circle, 2 degrees 120: by hand.
    assert circle_sigmas_arcmin(10.0, 2.0) == pytest.approx((15.0, 12.0))


def test_two_vague_measurements_still_tell_how_far_apart_they_are():
    vague = np.eye(2) / 30.0**2
    found = combine([AxisEstimate(0.0, 0.0, vague), AxisEstimate(60.0, 0.0, vague)])
    assert found.estimate.high_arcmin == pytest.approx(30.0)
    # 60 arcminutes apart, each known to 30: two thirds of the sigma of a difference, 42.4.
    assert found.misfit_sigmas == pytest.approx([60.0 / math.hypot(30.0, 30.0)] * 2)


def test_verdict_goes_by_nine_chances_in_ten():
    kit = demo_kit("courtyard")
    # A circle of 2.3 sigma holds 1 - exp(-2.3^2 / 2) = 0.929, one of 2.0 sigma 0.865 (Rayleigh).
    for sigma, verdict in ((5.0 / 2.3, "good"), (5.0 / 2.0, "open")):
        estimate = AxisEstimate(0.0, 0.0, np.eye(2) / sigma**2)
        told = advise(estimate, kit, Base(EVORA), None, good_arcmin=5.0)
        assert told.verdict == verdict
        within = 1.0 - math.exp(-((5.0 / sigma) ** 2) / 2.0)
        assert told.chance_good == pytest.approx(within, abs=1e-3)


def test_no_star_in_view_is_no_fault():
    nothing = MeasurableStars((), *(np.zeros(0) for _ in range(6)))
    told = advise(AxisEstimate(30.0, 5.0, np.eye(2)), demo_kit("courtyard"), Base(EVORA), nothing)
    assert told.moves is not None
    assert (told.move_star, told.proof_star, told.next_drift) == (None, None, None)


def test_stars_to_measure_stand_clear_of_the_skyline():
    found = stars_now(EVENING, EVORA, lambda azimuth: np.full(np.shape(azimuth), 40.0))
    every = stars_now(EVENING, EVORA, lambda azimuth: np.full(np.shape(azimuth), -90.0))
    # Two degrees over the edge of what hides them: leaves and the bend of the light.
    assert set(found.names) == {
        name for name, h in zip(every.names, every.altitude_deg, strict=True) if h > 42.0
    }
    assert np.any((every.altitude_deg > 38.0) & (every.altitude_deg < 42.0))


def test_a_scope_narrower_than_the_pupil_takes_nothing_away():
    assert limit_through(PolarScope(kind="scope", aperture_mm=5.0), 6.0) == 6.0
    # Light grasp: 5 log10(20 / 7) = 2.28 magnitudes.
    wider = PolarScope(kind="scope", aperture_mm=20.0)
    assert limit_through(wider, 6.0) == pytest.approx(8.28, abs=0.01)


def test_a_hidden_pole_is_the_reason_given():
    kit = demo_kit("courtyard")
    site = kit.site
    target = pole_target(Observer(site.latitude_deg, site.longitude_deg, site.elevation_m))
    for seen, obstacle in ((True, None), (False, Obstacle.POLE_HIDDEN)):
        found = methods(kit, target, 37.2, 0.35, 120.0, pole_in_view=seen)
        scope = next(m for m in found if m.method is AligningMethod.POLAR_SCOPE)
        assert scope.obstacle is obstacle
        assert isinstance(scope.basis, ScopePlacing)


def test_after_the_minutes_told_nine_in_ten_are_good_enough():
    """Axes drawn with the two parts of the error that the page names; Rayleigh's law."""
    kit = demo_kit("courtyard")
    site = kit.site
    target = pole_target(Observer(site.latitude_deg, site.longitude_deg, site.elevation_m))
    minutes = drift_minutes_for(kit, target, 5.0)
    assert minutes is not None
    field, _ = strongest_eyepiece(kit)
    by_drift = DriftTest(READING_PART_OF_FIELD * field * 3600.0, minutes).sigma_arcmin
    by_bolts = bolt_stop_sigma_arcmin(kit.mount.bolts.altitude_turns_per_degree)
    sigma = math.hypot(by_drift, by_bolts, LOCKING_SIGMA_ARCMIN)
    crowd = np.hypot(*np.random.default_rng(3).normal(0.0, sigma, (2, 100_000)))
    assert np.mean(crowd < 5.0) == pytest.approx(0.9, abs=0.005)


HERE = Observer(38.57, -7.91, 292.0)


def moment(words: str) -> datetime:
    return datetime.combine(datetime(2026, 12, 5), time.fromisoformat(words), tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("star,star,watched_s\nVega,Vega,3\n", "line 1: column 'star' stands twice"),
        ("# first\n\nstar,star\nVega,Vega\n", "line 3: column 'star' stands twice"),
        ("hour_angle_h,declination_deg,watched_s,drift_arcsec\n1,90.5,300,1\n", "declination_deg"),
        (
            "hour_angle_h,declination_deg,watched_s,field_arcmin\n1,10,300,30\n",
            "towards: is missing",
        ),
        (
            "hour_angle_h,declination_deg,watched_s,divisions,division_arcsec\n1,10,300,2,5\n",
            "towards: is missing",
        ),
        ("hour_angle_h,declination_deg,watched_s,drift_arcsec\n1,-90.5,300,1\n", "declination_deg"),
    ],
)
def test_rows_that_cannot_be_are_named(text, words):
    with pytest.raises(AxletreeError, match=words):
        read_drift(text, "stars.csv", HERE, moment)


def test_a_series_is_placed_where_its_first_reading_was():
    """15.041 arcseconds a second: the hour angle grows by 1.0027 h an hour."""
    head = "star,read_at,offset_arcsec\n"
    one = read_drift(head + "Altair,20:00,0\nAltair,20:10,3\n", "a.csv", HERE, moment)
    late = read_drift(head + "Altair,20:30,0\nAltair,20:40,3\n", "a.csv", HERE, moment)
    assert late.hour_angle_h[0] - one.hour_angle_h[0] == pytest.approx(0.5 * 1.0027379, abs=1e-6)
    assert one.lines == (2,)
    # Uneven readings: the watch that is told has its middle where theirs is, 5 minutes after 20:00.
    uneven = read_drift(
        head + "Altair,20:00,0\nAltair,20:03,1\nAltair,20:12,4\n", "a.csv", HERE, moment
    )
    middle = uneven.hour_angle_h[0] + uneven.watched_s[0] / 2.0 * 1.0027379 / 3600.0
    assert middle - one.hour_angle_h[0] == pytest.approx(5.0 / 60.0 * 1.0027379, abs=1e-6)
    # A star that did not move went in no direction.
    still = "hour_angle_h,declination_deg,watched_s,divisions,division_arcsec\n1,10,300,0,5\n"
    assert read_drift(still, "a.csv", HERE, moment).drift_arcsec[0] == 0.0


def test_turns_of_matrices_against_scipy():
    rng = np.random.default_rng(8)
    axis = rng.normal(size=(40, 3))
    axis /= np.linalg.norm(axis, axis=1)[:, None]
    angle = rng.uniform(-3.1, 3.1, 40)
    matrices = Rotation.from_rotvec(axis * angle[:, None]).as_matrix()
    for matrix, about, turned in zip(matrices, axis, angle, strict=True):
        assert float(turn_about(matrix, about)) == pytest.approx(turned, abs=1e-12)
        assert np.abs(axis_of(matrix) @ about) == pytest.approx(1.0, abs=1e-12)
    assert rotation_vector(matrices) == pytest.approx(axis * angle[:, None], abs=1e-9)


@pytest.mark.parametrize("latitude", [52.0, -37.0])
def test_guides_stand_where_the_great_circle_to_them_begins(latitude):
    """Direction of a great circle from the pole as seen, clockwise from up: spherical trigonometry.

    tan theta = sin A cos h / (sin h cos p - cos h sin p cos A), A counted from the pole's azimuth
    (W. M. Smart, Textbook on Spherical Astronomy, 6th ed. 1977, ch. 1: four-parts formula).
    """
    view = pole_view(Observer(latitude, 0.0), EVENING, AxisView(look="erect"))
    altitude = np.radians(pole_target(Observer(latitude, 0.0)).altitude_deg)
    for guide in view.guides:
        A = np.radians(guide.azimuth_deg - (0.0 if latitude > 0 else 180.0))
        h = np.radians(guide.altitude_deg)
        right = np.sin(A) * np.cos(h)
        up = np.sin(h) * np.cos(altitude) - np.cos(h) * np.sin(altitude) * np.cos(A)
        hour = np.degrees(np.arctan2(right, up)) / 30.0
        assert (guide.clock_hour - hour + 6.0) % 12.0 - 6.0 == pytest.approx(0.0, abs=1e-6)


def test_the_field_is_named_in_its_arcminutes():
    assert eye_tolerance(1.5, 60.0, motor=True).reason == FieldPart(0.5, 1.5)


@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_circles_of_a_mount_far_off_the_pole_by_rotations_of_scipy(sense):
    """The frame of the axis is that of the pole, carried along the great circle between them."""
    observer = Observer(sense * 40.0, 0.0, pressure_hpa=0.0)
    high, east = 25.0, -18.0  # degrees: as a mount stands before anybody has looked
    pole = np.array([0.0, sense * np.cos(np.radians(40.0)), np.sin(np.radians(40.0))])
    up = np.array([0.0, -sense * np.sin(np.radians(40.0)), np.cos(np.radians(40.0))])
    towards = high * up + east * np.array([1.0, 0.0, 0.0])
    across = np.cross(pole, towards / np.hypot(high, east))
    carried = Rotation.from_rotvec(np.radians(np.hypot(high, east)) * across)
    for hour, declination in ((-4.0, 20.0), (1.0, -30.0), (5.0, 70.0)):
        seen = seen_vectors(hour, declination * sense, observer)
        H, dec = mount_angles(seen, high * 60.0, east * 60.0, observer)
        v = carried.inv().apply(seen)
        assert float(dec) * sense == pytest.approx(np.degrees(np.arcsin(v @ pole)), abs=1e-9)
        west = -v[0]
        assert float(H) * 15.0 == pytest.approx(np.degrees(np.arctan2(west, v @ up)), abs=1e-9)


def test_ellipse_lies_along_the_less_known_direction():
    # By hand: known badly along a line 30 degrees up from east, well across it.
    for turn in (30.0, -60.0, 90.0, 0.0, 89.0, -89.0):
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        along, across = np.array([s, c]), np.array([c, -s])  # (high, east)
        spread = 25.0 * np.outer(along, along) + 4.0 * np.outer(across, across)
        ellipse = AxisEstimate(0.0, 0.0, np.linalg.inv(spread)).ellipse(1.0 - math.exp(-0.5))
        assert ellipse is not None
        found = [getattr(ellipse, f.name) for f in fields(ellipse)]
        assert found[:2] == pytest.approx([5.0, 2.0])
        assert found[2] == pytest.approx(turn, abs=1e-9) or abs(found[2]) == pytest.approx(90.0)
        assert -90.0 <= found[2] <= 90.0


def test_coarse_circles_promise_less():
    H, dec = np.array([-4.0, 0.0, 3.0, 5.0]), np.array([50.0, 10.0, 20.0, 60.0])
    nothing = np.zeros((6, 6))
    first = next_reading(np.eye(6) / 30.0**2, H, dec, (6.0, 6.0), WATCHER)
    coarse = next_reading(np.eye(6) / 30.0**2, H, dec, (60.0, 60.0), WATCHER)
    assert first.worst_now_arcmin == coarse.worst_now_arcmin
    assert first.worst_then_arcmin < coarse.worst_then_arcmin < coarse.worst_now_arcmin
    assert next_reading(nothing, H, dec, (6.0, 6.0), WATCHER).worst_now_arcmin > 500.0


def test_readings_that_scatter_more_than_stated_widen_the_answer():
    """Ten times the stated scatter: the same data with ten times the sigma say the same."""
    rng = np.random.default_rng(12)
    place = sim.Place(45.0, 1000.0, 10.0, 40.0, -25.0)
    H = np.array([-4.0, -2.0, -1.0, 1.0, 2.0, 4.0, -3.0, 3.0])
    d = np.array([10.0, 40.0, -5.0, 30.0, 5.0, 55.0, 20.0, -8.0])
    side = np.where(np.arange(8) % 2, 1.0, -1.0)
    h, dec = sim.centred_star(place, side, H, d, 0.0, 0.0)
    shown = H + rng.normal(0.0, 30.0, 8) / 900.0, d + rng.normal(0.0, 30.0, 8) / 60.0
    words = ["east" if s > 0 else "west" for s in side]

    def solved(sigma):  # nothing is assumed of the mount's own faults, however coarse the circles
        return solve_readings(
            CircleReadings(h, dec, words, *shown),
            WATCHER,
            CircleErrors(sigma, sigma, 0.01),
            usual=UsualFaults(1e4, 1e4),
        )

    stated = solved(3.0)
    assert stated.widened > 3.0
    assert stated.left_out == ()
    honest = solved(3.0 * stated.widened)
    assert honest.widened == 1.0
    assert np.sqrt(np.diag(stated.estimate.covariance)) == pytest.approx(
        np.sqrt(np.diag(honest.estimate.covariance)), rel=0.1
    )


def test_the_shortest_watch_that_is_enough(monkeypatch):
    # `east` is known; a star in the east tells `high` the better the longer it is watched.
    known = np.diag([1.0 / 50.0**2, 1.0 / 0.5**2])
    told = next_drift(known, [-5.5], [10.0], 4.0, 2.0, WATCHER)
    assert told.enough
    assert told.worst_then_arcmin <= 2.0
    assert 120.0 < told.watch_s < 1200.0
    shorter = tuple(w for w in next_star.WATCHES_S if w < told.watch_s)
    monkeypatch.setattr(next_star, "WATCHES_S", shorter)
    assert not next_drift(known, [-5.5], [10.0], 4.0, 2.0, WATCHER).enough


def test_two_mistaken_stars_are_told_as_scatter():
    place = sim.Place(35.0, 990.0, 10.0, 8.0, 5.0)
    H, d = np.array([-4.5, -2.0, 0.5, 3.5, 1.5]), np.array([20.0, 30.0, -5.0, 25.0, 40.0])
    watcher = Observer(35.0, 0.0, pressure_hpa=990.0, temperature_c=10.0)
    drift = sim.drift_arcsec(place, H, d, 600.0) + np.array([70.0, -55.0, 0.0, 90.0, 0.0])
    found = solve_drift(WatchedStars(H, d, 600.0, drift, 1.0), watcher)
    assert found.left_out == ()
    assert found.widened > 5.0


def test_each_fault_of_the_mount_has_its_own_usual_size():
    place = sim.Place(44.0, 1000.0, 5.0, 15.0, 12.0)
    watcher = Observer(44.0, 0.0, pressure_hpa=1000.0, temperature_c=5.0)
    side = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])
    H = np.array([-4.0, -2.0, 1.0, 3.0, 4.0, -1.0])
    d = np.array([10.0, 50.0, 20.0, 5.0, 60.0, 35.0])
    h, dec = sim.centred_star(place, side, H, d, 0.0, 0.0)
    words = ["east" if s > 0 else "west" for s in side]
    for cone, lean, assumed in ((1e4, 0.5, {"lean"}), (0.5, 1e4, {"cone"}), (1e4, 1e4, set())):
        found = solve_readings(
            CircleReadings(h, dec, words, H, d),
            watcher,
            CircleErrors(6.0, 6.0),
            usual=UsualFaults(cone, lean),
        )
        assert set(found.assumed) == assumed


def test_a_base_of_which_nothing_is_said_is_level():
    level = head_turns_deg(30.0, -50.0, 40.0, 0.0, 0.0)
    assert head_turns_deg(30.0, -50.0, 40.0) == pytest.approx(level, abs=1e-12)
    star = star_move(45.0, -80.0, 0.7, 15.0, Base(WATCHER, leans_to_pole_deg=0.0))
    assert star_move(45.0, -80.0, 0.7, 15.0, Base(WATCHER)) == star


def test_what_cannot_be_opened_says_why(tmp_path):
    with pytest.raises(AxletreeError, match=r"cannot be read \(Is a directory"):
        read_headers(tmp_path)
