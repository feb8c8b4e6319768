"""Which matrix turns directions about an axis by an angle?

Source: O. Rodrigues 1840, J. Math. Pures Appl. 5, 380.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats


def rotation_about(axis: ArrayLike, angle_rad: ArrayLike) -> Floats:
    """Matrices (..., 3, 3) of right-handed turns about unit vectors (..., 3)."""
    k = np.asarray(axis, dtype=np.float64)
    angle = np.asarray(angle_rad, dtype=np.float64)[..., None, None]
    cross = cross_matrix(k)
    outer = k[..., :, None] * k[..., None, :]
    c, s = np.cos(angle), np.sin(angle)
    return np.asarray(c * np.eye(3) + s * cross + (1.0 - c) * outer)


def cross_matrix(v: Floats) -> Floats:
    """Matrices (..., 3, 3) that take a vector w to v x w."""
    zero = np.zeros(v.shape[:-1])
    x, y, z = v[..., 0], v[..., 1], v[..., 2]
    rows = (
        np.stack([zero, -z, y], axis=-1),
        np.stack([z, zero, -x], axis=-1),
        np.stack([-y, x, zero], axis=-1),
    )
    return np.stack(rows, axis=-2)


def small_rotation(vector_rad: Floats) -> Floats:
    """Matrices (..., 3, 3) of the turns about `vector_rad` (..., 3) by its length."""
    size = np.linalg.norm(vector_rad, axis=-1)
    unit = vector_rad / np.where(size > 0, size, 1.0)[..., None]
    return rotation_about(unit, size)
