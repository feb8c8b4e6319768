"""How did the camera turn from one frame to the next?

Rotations between sets of directions, and the common axis of several rotations. The same pixels
looked in other directions before and after; where the directions are those seen through the air,
the camera's rays turn as one rigid body, whatever the optics do to them.
Sources: G. Wahba 1965, SIAM Review 7, 409; F. L. Markley 1988, J. Astronaut. Sci. 36, 245 (the
solution by singular values).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats


def rotation_between(before: Floats, after: Floats) -> Floats:
    """Matrices (..., 3, 3) that turn directions (..., n, 3) `before` into `after`, best fit."""
    mixed = np.einsum("...ni,...nj->...ij", after, before)
    u, _, vt = np.linalg.svd(mixed)
    flip = np.ones((*mixed.shape[:-2], 3))
    flip[..., 2] = np.linalg.det(u) * np.linalg.det(vt)
    return np.asarray((u * flip[..., None, :]) @ vt)


def rotation_vector(matrix: Floats) -> Floats:
    """Turn vectors (..., 3) in radians of matrices; meant for turns well under 90 degrees."""
    skew = 0.5 * np.stack(
        [
            matrix[..., 2, 1] - matrix[..., 1, 2],
            matrix[..., 0, 2] - matrix[..., 2, 0],
            matrix[..., 1, 0] - matrix[..., 0, 1],
        ],
        axis=-1,
    )
    sine = np.linalg.norm(skew, axis=-1)
    cosine = 0.5 * (np.trace(matrix, axis1=-2, axis2=-1) - 1.0)
    angle = np.arctan2(sine, cosine)
    ratio = np.where(sine > 1e-12, angle / np.where(sine > 0, sine, 1.0), 1.0)
    return np.asarray(skew * ratio[..., None])


def turn_about(matrix: Floats, axis: Floats) -> Floats:
    """Angles (...) in radians, right-handed, of matrices that turn about this unit vector."""
    skew = np.stack(
        [
            matrix[..., 2, 1] - matrix[..., 1, 2],
            matrix[..., 0, 2] - matrix[..., 2, 0],
            matrix[..., 1, 0] - matrix[..., 0, 1],
        ],
        axis=-1,
    )
    cosine = 0.5 * (np.trace(matrix, axis1=-2, axis2=-1) - 1.0)
    return np.asarray(np.arctan2(0.5 * skew @ axis, cosine))


def axis_of(matrix: Floats) -> Floats:
    """Unit vectors (..., 3) that matrices leave where they are; the sign is arbitrary."""
    _, _, vt = np.linalg.svd(matrix - np.eye(3))
    return np.asarray(vt[..., 2, :])


def circle_centre(directions: ArrayLike) -> tuple[Floats, float]:
    """Centre (3,) and radius in degrees of the circle on the sphere through directions (n, 3).

    Three or more directions, least squares in the plane that cuts the circle out of the sphere;
    the nearer centre, so the radius is at most 90. A tube that only the hour axis turns draws
    such a circle about the axis.
    """
    v = np.asarray(directions, dtype=np.float64)
    v = v / np.linalg.norm(v, axis=-1, keepdims=True)
    middle = v.mean(axis=0)
    _, _, vt = np.linalg.svd(v - middle)
    normal = vt[2]
    height = float(normal @ middle)
    if height < 0:
        normal, height = -normal, -height
    across = np.linalg.norm(v - (v @ normal)[:, None] * normal, axis=-1)
    return normal, float(np.degrees(np.arctan2(across.mean(), height)))
