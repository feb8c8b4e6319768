"""Into which cells of poses is the clearance map divided, larger ones first?"""

from __future__ import annotations

import math

import numpy as np

from axletree.mount.clearance.nearest import Bodies
from axletree.sky.arrays import Floats

STEP_DEG = 0.5
ACROSS = 720  # steps around either axis
CELLS = (16, 4, 1)  # steps along either side of a cell


def angles(cell: int) -> tuple[Floats, Floats]:
    """Middles of cells of both axes, degrees: of the tube's end, and of the swing."""
    start = np.arange(0, ACROSS, cell, dtype=np.float64) * STEP_DEG + (cell - 1) / 2 * STEP_DEG
    return start - 180.0, start - 180.0 + STEP_DEG / 2


class Level:
    """Sines and cosines of both axes at the middles of one size of cells."""

    def __init__(self, cell: int) -> None:
        ends, swings = angles(cell)
        h, w = np.radians(ends), np.radians(swings)
        self.cos_h, self.sin_h = np.cos(h), np.sin(h)
        self.cos_w, self.sin_w = np.cos(w), np.sin(w)
        self.across = ACROSS // cell
        self.half_rad = math.radians((cell - 1) / 2 * STEP_DEG)


def by_axes(b: Bodies) -> tuple[list[int], list[int], list[int]]:
    """Numbers of the pairs that only the hour axis moves, only the swing, and both."""
    hour = [k for k, p in enumerate(b.pairs) if not p.on_tube]
    swing = [k for k, p in enumerate(b.pairs) if p.swing_only]
    both = [k for k, p in enumerate(b.pairs) if p.on_tube and not p.swing_only]
    return hour, swing, both
