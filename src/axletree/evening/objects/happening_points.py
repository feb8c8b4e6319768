"""How much happens on each object in the session: the part `tonight` of its worth?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.sky.arrays import Floats
from axletree.sky.happenings.ask import happenings, turns_between
from axletree.sky.moons.systems import SYSTEMS
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

# The first passage of a moon that begins or ends in the session, and each further one (ours).
FIRST_POINTS, MORE_POINTS = 50.0, 25.0


def tonight_points(keys: Sequence[str], instants: Instants, observer: Observer) -> Floats:
    """Points (n,) from 0 to 100 by catalogue key: what the moons of Jupiter and Saturn do.

    Counted are passages of which a moment that can be seen lies between the first and the last
    instant. Where nothing is known to happen, 0.
    """
    points = np.zeros(len(keys))
    bodies = [k for k, key in enumerate(keys) if key in SYSTEMS]
    if not bodies:
        return points
    start, stop = Instants.to_datetimes(instants[[0, -1]])
    if stop <= start:
        return points
    for k in bodies:
        told = happenings(keys[k], start, stop, observer)
        seen = {(h.kind, h.actor) for h, _ in turns_between(told, start, stop)}
        if seen:
            points[k] = min(FIRST_POINTS + MORE_POINTS * (len(seen) - 1), 100.0)
    return points
