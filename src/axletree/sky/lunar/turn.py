"""How is the Moon turned in space?

From an excerpt of the lunar angles of JPL DE421 (W. M. Folkner, J. G. Williams and D. H. Boggs
2009, IPN Progress Report 42-178): integrated with the ephemeris and good to 0.0001 degrees. Maps
of the Moon count from the mean direction of the Earth and the mean axis of its turning ("mean-Earth
axes"), which lie 0.03 degrees off the principal axes of the angles; the report's equation (5)
joins them (its three small angles from memory, checked by a test against the IAU's own series).
"""

from __future__ import annotations

import functools

import numpy as np

from axletree.data import data_path
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.time.instants import J2000_JD

_ARCSEC = np.pi / (180.0 * 3600.0)


@dataclass(frozen=True)
class _Angles:
    """Chebyshev rows (rows, 3, coefficients) of `days` each from day `start` (from J2000.0)."""

    start: float
    days: float
    spin_rad: float
    spin_rad_per_day: float
    rows: Floats


@functools.cache
def _angles() -> _Angles:
    with np.load(data_path("moon_turn.npz")) as file:
        return _Angles(
            start=float(file["start_jd"]) - J2000_JD,
            days=float(file["days"]),
            spin_rad=float(file["spin_rad"]),
            spin_rad_per_day=float(file["spin_rad_per_day"]),
            rows=file["angles_rad"].astype(np.float64),
        )


def euler_angles_rad(days: Floats) -> Floats:
    """The three Euler angles phi, theta, psi (n, 3), radians, of the Moon's principal axes.

    phi and theta place the equator on that of the ICRS, psi counts the turn; not wrapped. `days`
    (n,) of dynamical time from J2000.0, 2019-12 to 2050-03; others get nan.
    """
    data = _angles()
    d = np.asarray(days, dtype=np.float64)
    place = (d - data.start) / data.days
    inside = (place >= 0.0) & (place < len(data.rows))
    k = np.where(inside, place, 0.0).astype(np.int64)
    x = 2.0 * (place - k) - 1.0
    rows = data.rows[k]
    # Clenshaw's recurrence.
    b1 = b2 = np.zeros((len(d), 3))
    for j in range(rows.shape[2] - 1, 0, -1):
        b1, b2 = rows[:, :, j] + 2.0 * x[:, np.newaxis] * b1 - b2, b1
    angles = rows[:, :, 0] + x[:, np.newaxis] * b1 - b2
    angles[:, 2] += data.spin_rad + data.spin_rad_per_day * d
    angles[~inside] = np.nan
    return np.asarray(angles)


def _about(axis: int, angle: Floats) -> Floats:
    """Turns of the axes by `angle` (n,) about one of them, matrices (n, 3, 3)."""
    c, s = np.cos(angle), np.sin(angle)
    matrix = np.zeros((len(angle), 3, 3))
    i, j = (axis + 1) % 3, (axis + 2) % 3
    matrix[:, axis, axis] = 1.0
    matrix[:, i, i], matrix[:, j, j] = c, c
    matrix[:, i, j], matrix[:, j, i] = s, -s
    return matrix


def _to_mean_earth() -> Floats:
    small = [np.array([a * _ARCSEC]) for a in (-67.92, -78.56, -0.30)]
    return np.asarray((_about(0, small[2]) @ _about(1, small[1]) @ _about(2, small[0]))[0])


def to_mean_earth_axes(days: Floats) -> Floats:
    """Matrices (n, 3, 3) that turn vectors of the ICRS into the Moon's mean-Earth axes.

    x to the mean direction of the Earth, z to the mean north pole; so longitude is positive to
    the east as on maps of the Moon. `days` as in `euler_angles_rad`. Error 0.001 degrees.
    """
    phi, theta, psi = euler_angles_rad(days).T
    return np.asarray(_to_mean_earth() @ _about(2, psi) @ _about(0, theta) @ _about(2, phi))
