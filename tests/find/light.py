"""Light followed through finder and telescope to the eye, ray by ray; nothing of the house is used.

Local vectors are x east, y north, z up. Lenses and mirrors stand at the origin with focal length
1: the ray through a lens's middle goes straight on, that to a mirror's middle is thrown back, and
where it meets the focal plane lies the star's image. A flat mirror reflects the image point about
its plane, a roof does so twice. The eyepiece is a magnifier: the eye sees the image as it lies.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Vectors = NDArray[np.float64]


def unit(azimuth_deg: Vectors | float, altitude_deg: Vectors | float) -> Vectors:
    az, alt = np.radians(azimuth_deg), np.radians(altitude_deg)
    return np.stack([np.sin(az) * np.cos(alt), np.cos(az) * np.cos(alt), np.sin(alt)], axis=-1)


def _reflect(points: Vectors, normal: Vectors, where: Vectors) -> Vectors:
    n = normal / np.linalg.norm(normal)
    return points - 2.0 * ((points - where) @ n)[..., np.newaxis] * n


def _focal_plane(rays: Vectors, axis: Vectors) -> Vectors:
    return rays / (rays @ axis)[..., np.newaxis]


def _head(look: Vectors, facing: Vectors) -> tuple[Vectors, Vectors]:
    """Right and top for a head upright; who looks down has the way they face at the top."""
    up = np.array([0.0, 0.0, 1.0])
    if np.hypot(look[0], look[1]) < 0.1:
        up = facing
    top = up - (up @ look) * look
    top = top / np.linalg.norm(top)
    return np.cross(look, top), top


def newtonian(stars: Vectors, T: Vectors, barrel: Vectors) -> Vectors:
    """(n, 2) right and up, per unit of tan(angle off the axis)."""
    back = -stars + 2.0 * (stars @ T)[..., np.newaxis] * T  # thrown back by the main mirror
    images = _focal_plane(back, T)
    return _at_the_eye(_reflect(images, T - barrel, 0.8 * T),
                       _reflect(T, T - barrel, 0.8 * T), barrel, T)  # fmt: skip


def lens(stars: Vectors, T: Vectors, barrel: Vectors, roof: bool = False) -> Vectors:
    """The same through a lens: straight on (`barrel` is -T), by a diagonal, or by one with a
    roof, whose two faces stand square to each other along the fold."""
    images, axis = _focal_plane(-stars, -T), -T
    if barrel @ T < -0.999:
        return _at_the_eye(images, axis, barrel, T)
    where, fold = -0.8 * T, -T - barrel
    if not roof:
        return _at_the_eye(_reflect(images, fold, where), _reflect(axis, fold, where), barrel, T)
    side = np.cross(T, barrel)
    side, flat = side / np.linalg.norm(side), fold / np.linalg.norm(fold)
    for face in (flat + side, flat - side):
        images, axis = _reflect(images, face, where), _reflect(axis, face, where)
    return _at_the_eye(images, axis, barrel, T)


def bare(stars: Vectors, T: Vectors) -> Vectors:
    """The same without any glass."""
    right, top = _head(T, T)
    step = _focal_plane(stars, T) - T
    return np.stack([step @ right, step @ top], axis=-1)


def _at_the_eye(images: Vectors, axis: Vectors, barrel: Vectors, T: Vectors) -> Vectors:
    level = np.array([T[0], T[1], 0.0])
    right, top = _head(-barrel, level / np.linalg.norm(level))
    step = images - axis
    return np.stack([step @ right, step @ top], axis=-1)
