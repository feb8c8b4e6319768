"""Distances to cylinders to half a micrometre, against a bounded search by scipy.

How far a point is from a solid cylinder is plane geometry; it is convex along a line, so that a
search for its least value finds it.
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import minimize_scalar

from axletree.mount.clearance.rods import Rod, line_to_rod, lines_to_rods, rod, stacked

CLOSE_M = 5e-7


def apart(one: Rod, start: np.ndarray, step: np.ndarray) -> float:
    """From a segment to a rod with flat ends, 0 inside."""

    def at(t: float) -> float:
        off = start + t * step - one.start
        z = float(off @ one.along)
        out = max(float(np.sqrt(max(off @ off - z * z, 0.0))) - one.radius, 0.0)
        return float(np.hypot(max(-z, z - one.length, 0.0), out))

    found = minimize_scalar(at, bounds=(0.0, 1.0), method="bounded", options={"xatol": 1e-12})
    return min(at(0.0), at(1.0), float(found.fun))


def test_segments_and_cylinders_anywhere() -> None:
    rng = np.random.default_rng(1)
    for _ in range(400):
        rods = [
            rod(*(rng.normal(size=(2, 3)) * 0.5), float(rng.uniform(0.01, 0.25)), True)
            for _ in range(10)
        ]
        start, end = rng.normal(size=(2, 3))
        step = end - start
        line = (*start[:, None], *step[:, None])
        expected = np.array([apart(one, start, step) for one in rods])
        found = [float(line_to_rod(line, float(step @ step), one)[0]) for one in rods]
        assert np.abs(found - expected).max() < CLOSE_M
        together = lines_to_rods(
            line, np.full((10, 1), float(step @ step)), stacked(rods), np.zeros((10, 1))
        )[:, 0]
        assert abs(together.min() - expected.min()) < CLOSE_M
