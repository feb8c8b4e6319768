"""Where does one body stand at any moment of a day, asked many times?

The way to a place on the sky is long: light time, aberration, deflection, each with the planets'
kernel. Over a day all that is smooth. It is asked at `NODES` moments, and the direction between
them is that of the polynomial through them; turning it to the horizon is done as ever.

Source: Chebyshev's points and series: W. H. Press et al., Numerical Recipes, 3rd ed. 2007, 5.8.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from datetime import datetime

import erfa
import numpy as np

from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_places, see_body
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.positions.stars import Positions, positions_from_cirs
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

_erfa = erfa.ufunc
# The Moon's parallax, a sine of 24 h, is the roughest of it: 24 points leave less than a
# hundred-thousandth of an arcsecond.
NODES = 24
BEFORE_S, HOURS = 60.0, 25.5


@functools.lru_cache(maxsize=8)
def body_through_day(
    name: str, observer: Observer, at: datetime
) -> Callable[[Instants], Positions]:
    """The places of a body, (1, instants), from a minute before `at` until `HOURS` after it.

    Moments outside are answered as `body_places` does, which also tells what is refused.
    """
    kernel = load_ephemeris()
    base, length = Instants.from_datetime(at), HOURS * 3600.0 + BEFORE_S
    angle = (np.arange(NODES) + 0.5) * np.pi / NODES
    nodes = base.plus((np.cos(angle) + 1.0) / 2.0 * length - BEFORE_S)
    kernel.check(nodes)
    seen = see_body(name, nodes, orientation(nodes, observer), kernel).cirs
    order = np.arange(NODES)
    series = np.cos(order[:, np.newaxis] * angle) @ seen * (2.0 / NODES)
    series[0] /= 2.0

    def places(instants: Instants) -> Positions:
        x = (instants.seconds_since(base) + BEFORE_S) / length * 2.0 - 1.0
        if x.size and (x.min() < -1.0 or x.max() > 1.0):
            return body_places(name, instants, observer)
        cirs: Floats = np.cos(np.arccos(x)[:, np.newaxis] * order) @ series
        ra, dec = _erfa.c2s(cirs)
        turned = orientation(instants, observer)
        return positions_from_cirs(ra[np.newaxis], dec[np.newaxis], turned, observer)

    return places
