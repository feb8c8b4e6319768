"""How do the quick tables turn local directions into what is seen through the air?

The same refraction as `refraction`, put into a short polynomial and a table once an observer,
so that millions of directions take no more than a handful of passes over small arrays.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.polynomial import polynomial

from axletree.sky.air.refraction import (
    GONE_ALTITUDE_DEG,
    JOIN_ALTITUDE_DEG,
    refraction_deg,
    true_altitude_deg,
)
from axletree.sky.arrays import Reals
from axletree.sky.observer import Observer

_DEG = np.pi / 180.0
LOW_STEPS_PER_DEG = 240


class Buffers:
    """Working arrays of one chunk, shape (k, n), used over and over."""

    def __init__(self, k: int, n: int, dtype: Any) -> None:
        self.product = np.empty((3, k, n), dtype)
        self.east, self.north, self.up = self.product
        self.q, self.t, self.u, self.r = (np.empty((k, n), dtype) for _ in range(4))
        self.mask, self.low = (np.empty((k, n), np.bool_) for _ in range(2))


def fill_azimuth(work: Buffers, out: Reals) -> None:
    """Put the azimuth in degrees, 0-360, of the product's directions into `out`."""
    # The product holds minus east and minus north: the arc then runs from 0 to 360 by itself.
    np.arctan2(work.east, work.north, out=work.q)
    np.multiply(work.q, 180.0 / np.pi, out=work.q)
    np.add(work.q, 180.0, out=out)


class QuickAir:
    """The air of one observer, as t P(t^2) with t = cot(true altitude), and a table lower down."""

    def __init__(self, observer: Observer, dtype: Any) -> None:
        self.join_deg = float(true_altitude_deg(JOIN_ALTITUDE_DEG, observer))
        t_max = 1.0 / np.tan(self.join_deg * _DEG)
        # Nodes crowded at both ends, as Chebyshev's are; weighted so that arcseconds count.
        x = 0.5 * (1.0 - np.cos(np.pi * (np.arange(60) + 0.5) / 60.0)) * t_max**2
        true = np.arctan(1.0 / np.sqrt(x)) / _DEG
        g = refraction_deg(true, observer) / np.sqrt(x)
        degree = 3 if dtype == np.float64 else 2  # 0.003" and 0.05" at the join, less above
        scaled = polynomial.polyfit(x / t_max**2, g, degree, w=np.sqrt(x))
        self.coefficients = [float(c / t_max ** (2 * k)) for k, c in enumerate(scaled)]
        self.least_q = float(np.tan(self.join_deg * _DEG))
        steps = int((self.join_deg - GONE_ALTITUDE_DEG) * LOW_STEPS_PER_DEG)
        # Ends on the join, where the slope breaks.
        low = self.join_deg - np.arange(steps, -1, -1) / LOW_STEPS_PER_DEG
        self.low_start = float(low[0])
        self.low = refraction_deg(low, observer).astype(dtype)
        self.low_step = np.diff(self.low, append=self.low[-1:]).astype(dtype)

    def fill_altitude(self, work: Buffers, out: Reals) -> None:
        """Put the apparent altitude in degrees of the product's directions into `out`."""
        q, t, u, r = work.q, work.t, work.u, work.r
        np.multiply(work.east, work.east, out=t)
        np.multiply(work.north, work.north, out=u)
        np.add(t, u, out=t)
        np.sqrt(t, out=t)
        np.divide(work.up, t, out=q)  # tangent of the true altitude
        np.less(q, self.least_q, out=work.low)
        np.divide(1.0, q, out=t)
        np.arctan(q, out=q)
        np.multiply(q, 180.0 / np.pi, out=q)
        np.multiply(t, t, out=u)
        c = self.coefficients
        np.multiply(u, c[-1], out=r)
        for k in range(len(c) - 2, 0, -1):
            np.add(r, c[k], out=r)
            np.multiply(r, u, out=r)
        np.add(r, c[0], out=r)
        np.multiply(r, t, out=r)
        np.copyto(r, 0.0, where=work.low)
        np.greater(q, self.low_start, out=work.mask)
        np.logical_and(work.mask, work.low, out=work.mask)
        flat = np.flatnonzero(work.mask)
        if flat.size:
            place = (q.ravel()[flat] - self.low_start) * LOW_STEPS_PER_DEG
            index = place.astype(np.int32)
            r.ravel()[flat] = self.low[index] + self.low_step[index] * (place - index)
        np.add(q, r, out=out)
