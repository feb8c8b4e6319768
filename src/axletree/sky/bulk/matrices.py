"""What do all objects share at one instant, and what does one object keep all day?

The factors of the quick tables: a matrix of 3 rows and 4 columns an instant, a unit vector an
object and day, and hourly knots where a straight line between them is good enough.
"""

from __future__ import annotations

from typing import Any

import erfa
import numpy as np

from axletree.sky.arrays import Floats, Indices

_erfa = erfa.ufunc
_KNOT_S = 3600.0


def unit_vectors(places: tuple[Floats, ...], astrom: Any) -> Floats:
    """Natural directions (objects, 3): space motion, parallax and deflection at one instant."""
    proper = _erfa.pmpx(*places, astrom["pmt"], np.ascontiguousarray(astrom["eb"]))
    return np.asarray(_erfa.ldsun(proper, np.ascontiguousarray(astrom["eh"]), astrom["em"]))


def equatorial_matrices(astrom: Any) -> Floats:
    """(n, 3, 4): natural direction and a 1, to (meridian, west, pole) axes of hour angle.

    The fourth column is first-order aberration; polar motion is included.

    The turn is found by sending the three axes through ERFA's own `atioq`.
    """
    columns = []
    for ra, dec in ((0.0, 0.0), (0.5 * np.pi, 0.0), (0.0, 0.5 * np.pi)):
        _, _, H, d, _ = _erfa.atioq(ra, dec, astrom)
        columns.append(np.stack([np.cos(d) * np.cos(H), np.cos(d) * np.sin(H), np.sin(d)], -1))
    turn = np.stack(columns, axis=-1) @ astrom["bpn"]
    return np.concatenate([turn, turn @ astrom["v"][..., np.newaxis]], axis=-1)


def knot_values(matrices: Floats, four: Floats, turn_rad: Floats) -> tuple[Floats, Floats]:
    """Hour angle (h, growing on past 12) and declination (deg), both (objects, knots)."""
    knots = len(matrices)
    axes = (np.swapaxes(matrices, 0, 1).reshape(3 * knots, 4) @ four.T).reshape(3, knots, -1)
    to_meridian, west, pole = axes
    H = np.arctan2(west, to_meridian)
    ahead = H - H[0] - (np.unwrap(turn_rad) - turn_rad[0])[:, np.newaxis]
    H -= 2.0 * np.pi * np.round(ahead / (2.0 * np.pi))
    across = np.sqrt(to_meridian * to_meridian + west * west)
    return H.T * (12.0 / np.pi), np.arctan2(pole, across).T / (np.pi / 180.0)


def tents(seconds: Floats) -> tuple[Indices, Floats]:
    """Indices of about one instant an hour, and linear weights (knots, n) between them."""
    hour = np.floor((seconds - seconds[0]) / _KNOT_S)
    starts = np.flatnonzero(np.diff(hour, prepend=-1.0))
    last = len(seconds) - 1
    knots = starts if starts[-1] == last else np.append(starts, last)
    # Each row is the tent over its knot: interpolate the identity.
    eye = np.eye(len(knots))
    tent = np.array([np.interp(seconds, seconds[knots], row) for row in eye])
    return knots, tent
