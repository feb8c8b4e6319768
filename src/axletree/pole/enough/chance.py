"""How likely does an axis with these errors lie within a circle about the pole?"""

from __future__ import annotations

import math

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.sky.arrays import Floats

# One error so many times the other is an error along a line.
_A_LINE = 1e3


def chance_within(radius: float, sigma_high: float, sigma_east: float) -> float:
    """Probability that two independent normal errors together stay within this radius.

    The two-dimensional normal law, integrated outwards in closed form and around by the
    trapezoid rule (exact to rounding for a periodic function).
    """
    s1, s2 = max(sigma_high, 1e-9), max(sigma_east, 1e-9)
    if max(s1, s2) / min(s1, s2) > _A_LINE:
        return math.erf(radius / max(s1, s2) / math.sqrt(2.0))
    A = _around(s1, s2)
    return float(np.mean(-np.expm1(-0.5 * radius * radius * A) / A) / (s1 * s2))


def radius_of_chance(chance: float, sigma_high: float, sigma_east: float) -> float:
    """The radius within which the axis lies with this chance; inverse of `chance_within`.

    Newton's steps in the squared radius: with it the chance grows ever more slowly, so that steps
    from below never go too far. Refuses a chance that is not from 0 to less than 1.
    """
    if not 0.0 <= chance < 1.0:
        raise AxletreeError(f"a chance of {chance:g}: it must be 0 or more and less than 1")
    s1, s2 = max(sigma_high, 1e-9), max(sigma_east, 1e-9)
    if max(s1, s2) / min(s1, s2) > _A_LINE:
        return _halved(chance, s1, s2)
    A, squared = _around(s1, s2), 0.0
    for _ in range(60):
        beyond = np.exp(-0.5 * squared * A)
        short = chance * s1 * s2 - float(np.mean((1.0 - beyond) / A))
        step = 2.0 * short / float(np.mean(beyond))
        squared += step
        if step <= 1e-13 * squared:
            break
    return math.sqrt(squared)


def _around(s1: float, s2: float) -> Floats:
    """How steeply the law falls off in each direction (n,)."""
    count = 256 + 16 * int(max(s1, s2) / min(s1, s2))
    angle = np.arange(count) * 2.0 * np.pi / count
    return np.asarray((np.cos(angle) / s1) ** 2 + (np.sin(angle) / s2) ** 2)


def _halved(chance: float, s1: float, s2: float) -> float:
    low, high = 0.0, 8.0 * math.hypot(s1, s2)
    for _ in range(60):
        middle = (low + high) / 2.0
        if chance_within(middle, s1, s2) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
