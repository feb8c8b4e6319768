"""How likely does what was aimed at lie inside the field?

The aim is a point with a covariance, the field a disc: the chance is the integral of the normal
density over the disc, taken exactly along the angle by turning into the covariance's own axes
and summing over strips. Source of the distribution: any handbook of probability; for no offset
and equal errors it is Rayleigh's, 1 - exp(-r^2 / 2 s^2).
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats, distinct

_SQRT2 = math.sqrt(2.0)
_FAR = 9.0  # standard deviations beyond which the normal density adds nothing

_TAIL_STEPS = 4096  # a standard deviation


@cache
def _tail() -> Floats:
    """Share of a normal beyond 0 to `_FAR` standard deviations, `_TAIL_STEPS` to each."""
    at = np.arange(int(_FAR) * _TAIL_STEPS) / _TAIL_STEPS / _SQRT2
    return np.asarray(0.5 * np.array(list(map(math.erfc, at.tolist()))))


@cache
def _nodes_and_weights() -> tuple[Floats, Floats]:
    """Gauss and Legendre's for an integral over a smooth piece."""
    nodes, weights = np.polynomial.legendre.leggauss(64)
    return nodes, weights


def normal_tail(x: ArrayLike) -> Floats:
    """Share of a normal beyond x standard deviations, x >= 0, arrays; good to 1e-4."""
    tail = _tail()
    at = np.minimum(np.asarray(x, dtype=np.float64) * _TAIL_STEPS, len(tail) - 1)
    return np.asarray(tail[at.astype(np.intp)])


def in_field_around(sigma_deg: ArrayLike, radius_deg: ArrayLike) -> Floats:
    """`in_field` for aims at the middle that err alike in every direction, arrays: Rayleigh."""
    sigma = np.maximum(np.asarray(sigma_deg, dtype=np.float64), 1e-12)
    return np.asarray(-np.expm1(-0.5 * (np.asarray(radius_deg, dtype=np.float64) / sigma) ** 2))


def in_field(offset_deg: ArrayLike, covariance_deg2: ArrayLike, radius_deg: float) -> float:
    """Chance 0-1 that a point lies within `radius_deg` of the field's middle.

    `offset_deg` (2,): its mean place from the middle; `covariance_deg2` (2, 2) of that place, in
    the same two square directions. A covariance of nothing makes it 0 or 1. Good to 1e-6.
    """
    mean = np.asarray(offset_deg, dtype=np.float64)
    values, axes = np.linalg.eigh(np.asarray(covariance_deg2, dtype=np.float64))
    narrow, wide = (math.sqrt(max(float(v), 0.0)) for v in values)
    x0, y0 = (float(v) for v in axes.T @ mean)
    if wide <= 1e-12 * max(radius_deg, 1e-30):
        return 1.0 if math.hypot(x0, y0) <= radius_deg else 0.0
    # Strips across the wide direction; inside each the narrow one is an error function.
    low = max(-radius_deg, y0 - _FAR * wide)
    high = min(radius_deg, y0 + _FAR * wide)
    if high <= low:
        return 0.0
    # The integrand bends where the density is steep and where the disc's edge crosses the narrow
    # spread; between such places it is smooth.
    edges = np.abs(x0) + narrow * np.arange(-4.0, 5.0, 2.0)
    bends = np.sqrt(np.maximum(radius_deg**2 - edges**2, 0.0))
    steep = y0 + wide * np.array([-2.0, 0.0, 2.0])
    cuts = distinct(np.clip([low, *-bends, *steep, *bends, high], low, high))
    nodes, weights = _nodes_and_weights()
    begin, end = cuts[:-1, None], cuts[1:, None]
    y = 0.5 * (begin + end) + 0.5 * (end - begin) * nodes
    half = np.sqrt(np.maximum(radius_deg**2 - y**2, 0.0))
    density = np.exp(-0.5 * ((y - y0) / wide) ** 2) / (wide * math.sqrt(2.0 * math.pi))
    inside = _normal_between(-half - x0, half - x0, narrow)
    pieces = 0.5 * (end - begin)[:, 0] * ((density * inside) @ weights)
    return min(max(float(pieces.sum()), 0.0), 1.0)


def _normal_between(low: Floats, high: Floats, sigma: float) -> Floats:
    """Share of a normal of this width between two values; 0 or 1 where it has no width."""
    if sigma <= 0.0:
        return np.asarray((low <= 0.0) & (high >= 0.0), dtype=np.float64)
    return 0.5 * (
        _error_function(high / (sigma * _SQRT2)) - _error_function(low / (sigma * _SQRT2))
    )


def _error_function(x: Floats) -> Floats:
    return np.array(list(map(math.erf, x.ravel().tolist()))).reshape(x.shape)
