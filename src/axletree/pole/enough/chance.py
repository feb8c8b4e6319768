"""How likely does an axis with these errors lie within a circle about the pole?"""

from __future__ import annotations

import math

import numpy as np


def chance_within(radius: float, sigma_high: float, sigma_east: float) -> float:
    """Probability that two independent normal errors together stay within this radius.

    The two-dimensional normal law, integrated outwards in closed form and around by the
    trapezoid rule (exact to rounding for a periodic function).
    """
    s1, s2 = max(sigma_high, 1e-9), max(sigma_east, 1e-9)
    if max(s1, s2) / min(s1, s2) > 1e3:
        return math.erf(radius / max(s1, s2) / math.sqrt(2.0))
    count = 256 + 16 * int(max(s1, s2) / min(s1, s2))
    angle = np.arange(count) * 2.0 * np.pi / count
    A = (np.cos(angle) / s1) ** 2 + (np.sin(angle) / s2) ** 2
    return float(np.mean(-np.expm1(-0.5 * radius * radius * A) / A) / (s1 * s2))


def radius_of_chance(chance: float, sigma_high: float, sigma_east: float) -> float:
    """The radius within which the axis lies with this chance; inverse of `chance_within`."""
    low, high = 0.0, 8.0 * math.hypot(sigma_high, sigma_east)
    for _ in range(60):
        middle = (low + high) / 2.0
        if chance_within(middle, sigma_high, sigma_east) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
