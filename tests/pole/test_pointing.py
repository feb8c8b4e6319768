"""Do the circles show what a model says that was solved from their own readings?"""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest
import simulator as sim

from axletree.axis.model import KnownBy, unmeasured
from axletree.axis.shown import circles_shown
from axletree.axis.unknowns import USUAL_CONE_ARCMIN, ModelPart
from axletree.axis.voids import Moved, void
from axletree.pole.readings.observed import CircleErrors, CircleReadings
from axletree.pole.readings.pointing import with_axis, with_readings
from axletree.pole.readings.solve import solve_readings
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer

AT = datetime(2026, 10, 10, 21, tzinfo=UTC)
RUNS = sim.of_runs(2000, 80)
SLIPS = 0.3, -1.2  # hours, degrees


def observer_at(place):
    return Observer(
        place.latitude_deg, 0.0, pressure_hpa=place.pressure_hpa, temperature_c=place.temperature_c
    )


def words(sides):
    return ["east" if side > 0 else "west" for side in sides]


def read_six(rng, place, faults, noise_arcmin, sides):
    """Six stars read on these sides, and the solution."""
    H, d = sim.random_stars(rng, place, 6, lowest_deg=25.0)
    both = sim.shafts(sides, H, d)
    star_h, star_d = sim.tube_on(place, *both, *faults)
    shown_h, shown_d = sim.shown(*both, *SLIPS)
    return solve_readings(
        CircleReadings(
            star_h, star_d, words(sides),
            shown_h + rng.normal(0.0, noise_arcmin, 6) / 900.0,
            shown_d + rng.normal(0.0, noise_arcmin, 6) / 60.0,
        ),
        observer_at(place), CircleErrors(noise_arcmin, noise_arcmin, 0.001),
    )  # fmt: skip


def test_circles_of_mounts_that_were_read():
    """Six stars read to 6 arcminutes on both sides, or one; then any other star, on any side.

    The true circles within one and 1.96 printed errors, 68 and 95 % as well as so many runs tell
    (2,000 in the long run), and six times nearer than those of the mount as it was set.
    """
    rng = np.random.default_rng(21)
    misses, far, near = [], [], []
    for run in range(RUNS):
        place = sim.random_place(rng, size_arcmin=180.0)
        faults = rng.normal(0.0, 20.0), rng.normal(0.0, 10.0)
        sides = np.array([1, 1, 1, -1, -1, -1.0]) if run % 4 else np.ones(6)
        solved = read_six(rng, place, faults, 6.0, sides)
        model = with_readings(unmeasured(60.0, 60.0, AT), solved, AT)
        assert model.known_of(ModelPart.AXIS).by is KnownBy.MEASURED
        H, d = sim.random_stars(rng, place, 4, lowest_deg=25.0)
        side = rng.choice([1.0, -1.0], len(H))
        both = sim.shafts(side, H, d)
        star = sim.tube_on(place, *both, *faults)
        right_h, right_d = sim.shown(*both, *SLIPS)
        found = circles_shown(model, *star, side, observer_at(place))
        off_h = np.mod(found.hour_circle_h - right_h + 6.0, 12.0) - 6.0
        off_d = (found.declination_circle_deg - right_d) * 60.0
        misses += [off_h * 900.0 / found.hour_sigma_arcmin, off_d / found.declination_sigma_arcmin]
        perfect = circles_shown(unmeasured(60.0, 60.0, AT), *star, side, observer_at(place))
        near.append(off_d)
        far.append((perfect.declination_circle_deg - right_d) * 60.0)
    shares = np.abs(np.concatenate(misses))
    # Four stars of a run share its errors: as if each run told of two.
    assert 100 * (shares < 1.0).mean() == pytest.approx(68.27, abs=sim.tolerance(3, 68.27, RUNS))
    assert 100 * (shares < 1.96).mean() == pytest.approx(95.0, abs=sim.tolerance(3, 95.0, RUNS))
    assert np.median(np.abs(far)) > 6.0 * np.median(np.abs(near))


@pytest.mark.parametrize("latitude", [47.0, -33.0])
def test_readings_without_noise_give_the_circles_to_the_hundredth_degree(latitude):
    place = sim.Place(latitude, 1000.0, 10.0, 150.0, -170.0)
    sides = np.array([1, 1, 1, -1, -1, -1.0])
    H, d = (
        np.array([-4, -1.5, 1, -2, 2, 4.0]),
        np.array([5, 30, 60, -5, 20, 55.0]) * np.sign(latitude),
    )
    faults = 100.0, -60.0
    both = sim.shafts(sides, H, d)
    star = sim.tube_on(place, *both, *faults)
    solved = solve_readings(
        CircleReadings(*star, words(sides), *sim.shown(*both, *SLIPS)), observer_at(place),
        CircleErrors(0.05, 0.05, 0.01),
    )  # fmt: skip
    model = with_readings(unmeasured(60.0, 60.0, AT), solved, AT)
    assert all(one.by is KnownBy.MEASURED for one in model.known)
    side = np.array([1, -1, 1, -1.0])
    there = sim.shafts(
        side, np.array([-3, -1, 2, 4.0]), np.array([25, 50, 10, 40.0]) * np.sign(latitude)
    )
    right_h, right_d = sim.shown(*there, *SLIPS)
    found = circles_shown(model, *sim.tube_on(place, *there, *faults), side, observer_at(place))
    off_h = np.mod(found.hour_circle_h - right_h + 6.0, 12.0) - 6.0
    assert np.abs(off_h * 15.0).max() < 0.01
    assert np.abs(found.declination_circle_deg - right_d).max() < 0.01


def test_what_the_readings_left_open_stays_as_it_was():
    """Two stars on one side don't tell a cone: the model keeps what it had, and counts it once."""
    place = sim.Place(45.0, 1000.0, 10.0, 30.0, -20.0)
    H, d = np.array([-3.0, 1.0]), np.array([10.0, 25.0])
    both = sim.shafts(np.ones(2), H, d)
    star = sim.tube_on(place, *both, 0.0, 0.0)
    solved = solve_readings(
        CircleReadings(*star, ["east", "east"], *sim.shown(*both, *SLIPS)), observer_at(place),
        CircleErrors(3.0, 3.0),
    )  # fmt: skip
    assert set(solved.assumed) == {"cone", "lean"}
    before = void(unmeasured(60.0, 60.0, AT), Moved.TUBE, AT)
    model = with_readings(before, solved, AT)
    assert model.known_of(ModelPart.CONE) == before.known_of(ModelPart.CONE)
    assert model.sigmas_arcmin[4] == pytest.approx(USUAL_CONE_ARCMIN, rel=0.03)
    assert model.sigmas_arcmin[5] == pytest.approx(10.0, rel=0.03)
    assert model.known_of(ModelPart.INDEX_DECLINATION).by is KnownBy.MEASURED


def test_a_drift_alone_moves_the_axis_alone():
    """Two independent measurements of the axis add their informations (Gauss 1823)."""
    before = unmeasured(30.0, 30.0, AT)
    estimate = AxisEstimate(12.0, -9.0, np.diag([1 / 4.0, 1 / 9.0]))
    model = with_axis(before, estimate, AT)
    assert model.values == pytest.approx([12.0 * 900 / 904, -9.0 * 900 / 909, 0, 0, 0, 0], rel=1e-9)
    assert model.sigmas_arcmin[:2] == pytest.approx(
        [(1 / 4 + 1 / 900) ** -0.5, (1 / 9 + 1 / 900) ** -0.5]
    )
    assert model.sigmas_arcmin[2:] == pytest.approx(before.sigmas_arcmin[2:])
    half = with_axis(before, AxisEstimate(5.0, 0.0, np.diag([1.0, 0.0])), AT)
    assert half.known_of(ModelPart.AXIS).by is KnownBy.SET
    assert half.east_arcmin == 0.0
    assert half.sigmas_arcmin[1] == pytest.approx(30.0)
