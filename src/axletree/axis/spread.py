"""How uncertain are figures that follow from a pointing model, by laws that bend?

The four figures that turn the shafts (axis, cone, lean) are tried at the points of a rule that is
right for polynomials to the fifth degree under a normal law; the index errors add up in a straight
line. So the error of the hour circle near the pole is felt as far as it reaches.
Source of the rule: J. McNamee and F. Stenger 1967, Construction of fully symmetric numerical
integration formulas, Numerische Mathematik 10, 327; for four dimensions all its weights are
positive, so that no variance comes out negative.
"""

from __future__ import annotations

import functools
import itertools
import math
from collections.abc import Callable

import numpy as np

from axletree.axis.model import Matrix, PointingModel
from axletree.axis.unknowns import INDEX_DECLINATION, INDEX_HOUR, UNKNOWNS
from axletree.sky.arrays import Floats

_INDICES = (INDEX_HOUR, INDEX_DECLINATION)
_TURNS = tuple(k for k in range(len(UNKNOWNS)) if k not in _INDICES)
_MIDDLE_WEIGHT, _PAIR_WEIGHT = 1.0 / 3.0, 1.0 / 36.0


def _rule() -> Floats:
    """The middle and two coordinates at a time (25, 4), in standard deviations."""
    points = [np.zeros(4)]
    for one, other in itertools.combinations(range(4), 2):
        for signs in itertools.product((1.0, -1.0), repeat=2):
            point = np.zeros(4)
            point[[one, other]] = np.array(signs) * math.sqrt(3.0)
            points.append(point)
    return np.array(points)


_POINTS = _rule()
_WEIGHTS = np.array([_MIDDLE_WEIGHT] + [_PAIR_WEIGHT] * (len(_POINTS) - 1))


def propagated(model: PointingModel, figures: Callable[[Floats], Floats]) -> Floats:
    """Covariance (..., k, k) of `figures`, from the model's own.

    `figures` takes the six values as an array (6, points) and returns (points, ..., k), k figures
    of every object.
    """
    found = figures((model.values + _steps(model.covariance_arcmin2)).T)
    off = found - found[0]
    bent, straight = off[: len(_POINTS)], (off[-4:-2] - off[-2:]) / 2.0
    bent = bent - np.einsum("p,p...->...", _WEIGHTS, bent)
    return np.asarray(
        np.einsum("p,p...i,p...j->...ij", _WEIGHTS, bent, bent)
        + np.einsum("p...i,p...j->...ij", straight, straight)
    )


@functools.lru_cache(maxsize=64)  # a finding asks the same model for several ways
def _steps(covariance_arcmin2: Matrix) -> Floats:
    """What is added to the six values, (points, 6), to feel their covariance."""
    covariance = np.array(covariance_arcmin2, dtype=np.float64)
    turns = covariance[np.ix_(_TURNS, _TURNS)]
    cross = covariance[np.ix_(_INDICES, _TURNS)] @ np.linalg.pinv(turns, hermitian=True)
    left = covariance[np.ix_(_INDICES, _INDICES)] - cross @ turns @ cross.T
    steps = np.zeros((len(_POINTS) + 4, len(UNKNOWNS)))
    steps[: len(_POINTS), _TURNS] = _POINTS @ _roots(turns)
    # What the index errors share with the rest goes along with it; the remainder is their own.
    steps[:, _INDICES] = steps[:, _TURNS] @ cross.T
    own = _roots(left)
    steps[len(_POINTS) :, _INDICES] = np.concatenate([own, -own])
    steps.setflags(write=False)
    return steps


def _roots(covariance: Floats) -> Floats:
    """Rows that are the covariance's independent standard deviations."""
    sizes, directions = np.linalg.eigh(covariance)
    return np.asarray((directions * np.sqrt(np.maximum(sizes, 0.0))).T)


def each_of(values: Floats, dimensions: int) -> Floats:
    """Six values (6, ...) with so many more dimensions of one, so that they broadcast on arrays."""
    return values.reshape(values.shape + (1,) * dimensions)
