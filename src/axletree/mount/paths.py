"""What does a turn from one pose to another pass through?

One axis after the other, as hands do it: either lock is opened alone. The hour axis turns by way
of the weights hanging down, the tube by way of the elevated pole, so that neither passes the
pose with the weights straight up or the tube looking at the other pole.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from axletree.mount.clearance import Bodies, least_distance
from axletree.mount.eyepiece import eye_place
from axletree.mount.kinematics import Axes
from axletree.mount.parts import Rig
from axletree.sky.directions import wrap_h

Floats = NDArray[np.float64]

SAMPLE_DEG = 1.0
HOUR_FIRST, DECLINATION_FIRST = "hour axis first", "declination axis first"


@dataclass(frozen=True)
class TurnPath:
    """One way from pose to pose: its order, what comes nearest on it, and what the barrel does.

    `lowest_barrel_deg` is the barrel's lowest altitude on the way, ends included; the eyepiece
    can fall where it is negative. `hour_turn_deg` and `swing_turn_deg` are the turns, signed as
    the axis angles are.
    """

    order: str
    tube_end_h: Floats
    swing_deg: Floats
    least_m: float
    pair: int
    lowest_barrel_deg: float
    hour_turn_deg: float
    swing_turn_deg: float

    @property
    def can_fall(self) -> bool:
        """True where the barrel points below the horizontal somewhere on the way."""
        return self.lowest_barrel_deg < -1e-9


def turn_path(
    rig: Rig, axes: Axes, pairs: Bodies, start: tuple[float, float], goal: tuple[float, float],
    order: str = HOUR_FIRST,
) -> TurnPath:  # fmt: skip
    """The turn between two poses (tube_end_h, swing_deg) in the given order of axes."""
    h0, h1 = (float(wrap_h(p[0])) for p in (start, goal))
    w0, w1 = float(start[1]), float(goal[1])
    n_h = max(2, int(np.ceil(abs(h1 - h0) * 15.0 / SAMPLE_DEG)) + 1)
    n_w = max(2, int(np.ceil(abs(w1 - w0) / SAMPLE_DEG)) + 1)
    h, w = np.linspace(h0, h1, n_h), np.linspace(w0, w1, n_w)
    if order == HOUR_FIRST:
        ends, swings = np.r_[h, np.full(n_w, h1)], np.r_[np.full(n_h, w0), w]
    else:
        ends, swings = np.r_[np.full(n_w, h0), h], np.r_[w, np.full(n_h, w1)]
    apart, pair = least_distance(pairs, ends, swings)
    nearest = int(apart.argmin())
    barrel = eye_place(rig, axes, ends, swings, (0.0, 1.0)).barrel_altitude_deg
    return TurnPath(
        order=order,
        tube_end_h=ends,
        swing_deg=swings,
        least_m=float(apart[nearest]),
        pair=int(pair[nearest]),
        lowest_barrel_deg=float(barrel.min()),
        hour_turn_deg=(h1 - h0) * 15.0,
        swing_turn_deg=w1 - w0,
    )


def best_path(
    rig: Rig, axes: Axes, pairs: Bodies, start: tuple[float, float], goal: tuple[float, float],
    margin_m: float,
) -> TurnPath:  # fmt: skip
    """The better order of the two axes: clear of contact first, then with the barrel kept up."""
    ways = [turn_path(rig, axes, pairs, start, goal, o) for o in (HOUR_FIRST, DECLINATION_FIRST)]
    return max(
        ways,
        key=lambda p: (
            min(p.least_m, margin_m),
            not p.can_fall,
            min(p.lowest_barrel_deg, 0.0),
            p.order == HOUR_FIRST,
        ),
    )
