"""Are the Moon's angles read as they were written?"""

from __future__ import annotations

import numpy as np

from axletree.data import data_path
from axletree.sky.lunar.turn import euler_angles_rad, to_mean_earth_axes

ARCSEC = np.pi / 180 / 3600


def test_the_series_is_summed_as_numpy_sums_it() -> None:
    with np.load(data_path("moon_turn.npz")) as file:
        rows, start, length = file["angles_rad"].astype(float), file["start_jd"], file["days"]
        spin, rate = float(file["spin_rad"]), float(file["spin_rad_per_day"])
    days = np.random.default_rng(1).uniform(7310.0, 18310.0, 500)
    place = (days + 2451545.0 - start) / length
    k = place.astype(int)
    table = np.polynomial.chebyshev.chebvander(2.0 * (place - k) - 1.0, rows.shape[2] - 1)
    angles = np.einsum("nij,nj->ni", rows[k], table)
    angles[:, 2] += spin + rate * days
    assert np.abs(angles - euler_angles_rad(days)).max() < 1e-9


def test_the_rows_join() -> None:
    """JPL's rows meet within a thousandth of an arcsecond; single precision adds 0.01."""
    seams = 2458816.5 - 2451545.0 + 8.0 * np.arange(1, 1381)
    step = 1e-5
    before, after = euler_angles_rad(seams - step), euler_angles_rad(seams + step)
    earlier = euler_angles_rad(seams - 3.0 * step)
    jump = after - before - (before - earlier)
    assert np.abs(jump).max() < 0.03 * ARCSEC


def test_outside_the_excerpt_nothing_is_made_up() -> None:
    angles = euler_angles_rad(np.array([7000.0, 9000.0, 19000.0]))
    assert np.isnan(angles).all(axis=1).tolist() == [True, False, True]
    matrix = to_mean_earth_axes(np.array([9000.0]))[0]
    assert np.abs(matrix @ matrix.T - np.eye(3)).max() < 1e-12
