"""What does a turn from one pose to another pass through?

One axis after the other, as hands do it: either lock is opened alone. The hour axis turns by way
of the weights hanging down, the tube by way of the elevated pole, so that neither passes the
pose with the weights straight up or the tube looking at the other pole.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.nearest import Bodies, least_distance
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.rig.kinematics import Axes
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_h

Angles = tuple[float, float]  # tube_end_h, swing_deg

SAMPLE_DEG = 1.0


class TurnOrder(Enum):
    """Which axis is turned first."""

    HOUR_FIRST = "hour_first"
    DECLINATION_FIRST = "declination_first"


HOUR_FIRST, DECLINATION_FIRST = TurnOrder.HOUR_FIRST, TurnOrder.DECLINATION_FIRST


@dataclass(frozen=True)
class TurnPath:
    """One way from pose to pose: its order, what comes nearest on it, and what the barrel does.

    `least_m` and `pair` are for the whole way, `end_m` and `end_pair` for its last pose.

    `lowest_barrel_deg` is the barrel's lowest altitude on the way, ends included; the eyepiece
    can fall where it is negative. `hour_turn_deg` and `swing_turn_deg` are the turns, signed as
    the axis angles are.
    """

    order: TurnOrder
    tube_end_h: Floats
    swing_deg: Floats
    least_m: float
    pair: int
    end_m: float
    end_pair: int
    lowest_barrel_deg: float
    hour_turn_deg: float
    swing_turn_deg: float

    @property
    def can_fall(self) -> bool:
        """True where the barrel points below the horizontal somewhere on the way."""
        return self.lowest_barrel_deg < -1e-9


def turn_path(
    rig: Rig, axes: Axes, pairs: Bodies, start: Angles, goal: Angles, order: TurnOrder = HOUR_FIRST
) -> TurnPath:
    """The turn between two poses (tube_end_h, swing_deg) in the given order of axes."""
    return _turns(rig, axes, pairs, [(start, goal, order)])[0]


def best_path(
    rig: Rig, axes: Axes, pairs: Bodies, start: Angles, goal: Angles, margin_m: float
) -> TurnPath:
    """The better order of the two axes: clear of contact first, then with the barrel kept up."""
    return best_paths(rig, axes, pairs, [(start, goal)], margin_m)[0]


def best_paths(
    rig: Rig, axes: Axes, pairs: Bodies, turns: Sequence[tuple[Angles, Angles]], margin_m: float
) -> list[TurnPath]:
    """`best_path` of many turns (start, goal), several times as fast as one by one."""
    asked = [(*turn, order) for turn in turns for order in (HOUR_FIRST, DECLINATION_FIRST)]
    ways = _turns(rig, axes, pairs, asked)
    return [
        max(
            both,
            key=lambda p: (
                min(p.least_m, margin_m),
                not p.can_fall,
                min(p.lowest_barrel_deg, 0.0),
                p.order == HOUR_FIRST,
            ),
        )
        for both in zip(ways[::2], ways[1::2], strict=True)
    ]


def _turns(
    rig: Rig, axes: Axes, pairs: Bodies, asked: Sequence[tuple[Angles, Angles, TurnOrder]]
) -> list[TurnPath]:
    if not asked:
        return []
    runs = [_samples(*turn) for turn in asked]
    ends, swings = (np.concatenate([run[i] for run in runs]) for i in range(2))
    apart, pair = least_distance(pairs, ends, swings)
    barrel = eye_place(rig, axes, ends, swings, (0.0, 1.0)).barrel_altitude_deg
    edges = np.cumsum([len(run[0]) for run in runs])[:-1]
    split = (np.split(values, edges) for values in (ends, swings, apart, pair, barrel))
    made = []
    for (start, goal, order), h, w, near, which, low in zip(asked, *split, strict=True):
        nearest = int(near.argmin())
        made.append(
            TurnPath(
                order=order,
                tube_end_h=h,
                swing_deg=w,
                least_m=float(near[nearest]),
                pair=int(which[nearest]),
                end_m=float(near[-1]),
                end_pair=int(which[-1]),
                lowest_barrel_deg=float(low.min()),
                hour_turn_deg=(float(wrap_h(goal[0])) - float(wrap_h(start[0]))) * 15.0,
                swing_turn_deg=float(goal[1]) - float(start[1]),
            )
        )
    return made


def _samples(start: Angles, goal: Angles, order: TurnOrder) -> tuple[Floats, Floats]:
    """Poses along the turn, a degree or less apart."""
    h0, h1 = (float(wrap_h(p[0])) for p in (start, goal))
    w0, w1 = float(start[1]), float(goal[1])
    n_h = max(2, int(np.ceil(abs(h1 - h0) * 15.0 / SAMPLE_DEG)) + 1)
    n_w = max(2, int(np.ceil(abs(w1 - w0) / SAMPLE_DEG)) + 1)
    h, w = np.linspace(h0, h1, n_h), np.linspace(w0, w1, n_w)
    if order == HOUR_FIRST:
        return np.r_[h, np.full(n_w, h1)], np.r_[np.full(n_h, w0), w]
    return np.r_[np.full(n_w, h0), h], np.r_[w, np.full(n_h, w1)]
