"""Where does one body stand at any moment of a day, asked many times?

The way to a place on the sky is long: light time, aberration, deflection, each with the planets'
kernel. Over a day all that is smooth. It is asked at `NODES` moments, and the direction between
them is that of the polynomial through them; turning it to the horizon is done as ever.

Source: Chebyshev's points and series: W. H. Press et al., Numerical Recipes, 3rd ed. 2007, 5.8.
"""

from __future__ import annotations

import functools
from datetime import datetime

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_places, see_body
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.positions.stars import Positions, positions_from_cirs
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

_erfa = erfa.ufunc
_DEG = np.pi / 180.0
# The Moon's parallax, a sine of 24 h, is the roughest of it: 24 points leave less than a
# hundred-thousandth of an arcsecond.
NODES = 24
BEFORE_S, HOURS = 60.0, 25.5
LENGTH_S = HOURS * 3600.0 + BEFORE_S


@dataclass(frozen=True, eq=False)
class BodyDay:
    """The places of a body from a minute before a moment until `HOURS` after it.

    `base` is the moment, `series` (NODES, 3) the direction's in the intermediate frame. Moments
    outside are answered as `body_places` does, which also tells what is refused.
    """

    name: str
    observer: Observer
    base: Instants
    series: Floats

    def __call__(self, instants: Instants) -> Positions:
        """Its places (1, instants)."""
        cirs = self._cirs(instants)
        if cirs is None:
            return body_places(self.name, instants, self.observer)
        ra, dec = _erfa.c2s(cirs)
        turned = orientation(instants, self.observer)
        return positions_from_cirs(ra[np.newaxis], dec[np.newaxis], turned, self.observer)

    def hour_angle_h(self, instants: Instants) -> Floats:
        """The hour angle (instants,) alone: no air is asked."""
        cirs = self._cirs(instants)
        if cirs is None:
            return np.asarray(self(instants).hour_angle_h[0])
        return wrap_h(self._observed(cirs, instants)[2] / (15.0 * _DEG))

    def altitude_true_deg(self, instants: Instants) -> Floats:
        """The altitude without air (instants,) alone."""
        cirs = self._cirs(instants)
        if cirs is None:
            return np.asarray(self(instants).altitude_true_deg[0])
        return np.asarray(90.0 - self._observed(cirs, instants)[1] / _DEG)

    def _observed(self, cirs: Floats, instants: Instants) -> tuple[Floats, ...]:
        """ERFA's azimuth, zenith distance, hour angle and so on (rad), without air."""
        ra, dec = _erfa.c2s(cirs)
        turned = orientation(instants, self.observer)
        return tuple(_erfa.atioq(ra, dec, turned.astrom))

    def _cirs(self, instants: Instants) -> Floats | None:
        """Directions (instants, 3) in the intermediate frame, None for moments outside."""
        x = (instants.seconds_since(self.base) + BEFORE_S) / LENGTH_S * 2.0 - 1.0
        if x.size and (x.min() < -1.0 or x.max() > 1.0):
            return None
        order = np.arange(NODES)
        return np.asarray(np.cos(np.arccos(x)[:, np.newaxis] * order) @ self.series)


@functools.lru_cache(maxsize=8)
def body_through_day(name: str, observer: Observer, at: datetime) -> BodyDay:
    """A body's places from the moment `at` on, through a day and a little more."""
    kernel = load_ephemeris()
    base = Instants.from_datetime(at)
    angle = (np.arange(NODES) + 0.5) * np.pi / NODES
    nodes = base.plus((np.cos(angle) + 1.0) / 2.0 * LENGTH_S - BEFORE_S)
    kernel.check(nodes)
    seen = see_body(name, nodes, orientation(nodes, observer), kernel).cirs
    order = np.arange(NODES)
    series = np.cos(order[:, np.newaxis] * angle) @ seen * (2.0 / NODES)
    series[0] /= 2.0
    return BodyDay(name, observer, base, series)
