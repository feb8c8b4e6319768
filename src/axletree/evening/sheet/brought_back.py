"""Which dimensions, measured, would let in again what is left out since something may touch?

The rigs on which something touches at a stop lie off in one direction of the dimensions more than
in others: their mean. What takes most of the variance along it is measured first, in thought: with
what that leaves open the same rigs are drawn narrower, and the chances counted anew.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.order.candidates import Order
from axletree.evening.sheet.sure_order import allowed_chance, followed_at
from axletree.evening.stops.windows import BarredSide, OrderTask
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.sure.room_doubt import touches_while
from axletree.sky.arrays import Floats, Mask
from axletree.sky.observer import Observer

MOST_MEASURED = 3  # more isn't done before one evening (our figure)
_NOTHING = 1e-3  # part of the variance that isn't worth a tape


@dataclass(frozen=True)
class BroughtBack:
    """Dimensions (keys of the kit), most telling first: once they are measured, and found as the
    kit has them, nothing touches too probably at stops with these `objects`."""

    dimensions: tuple[str, ...]
    objects: tuple[str, ...]


def brought_back(
    kit: Kit, observer: Observer, ground: Ground, task: OrderTask, order: Order
) -> BroughtBack | None:
    """What to measure for what lost its stop; None where nothing did, or nothing would help."""
    lost = _lost(task, order)
    if not lost:
        return None
    spread, allowed = ground.spread, allowed_chance(kit)
    followed = followed_at(observer, task, [*lost, *order.stops])
    touched = touches_while(spread, ground.table, followed[: len(lost)])
    lines = np.stack([_towards(spread.drawn, mask) for mask in touched])
    left, measured = np.eye(lines.shape[1]), list[int]()
    best: BroughtBack | None = None
    while len(measured) < MOST_MEASURED:
        taken = spread.variance_taken(lines, left).sum(axis=1)
        taken[measured] = 0.0
        if taken.max() < _NOTHING:
            break
        measured.append(int(taken.argmax()))
        left = spread.narrowed(left, measured[-1])
        touched = touches_while(spread.measured(left), ground.table, followed)
        back = _sure_enough(touched[: len(lost)], touched[len(lost) :], allowed)
        if len(back) > (0 if best is None else len(best.objects)):
            names = tuple(task.name(lost[k].key) for k in sorted(back))
            best = BroughtBack(tuple(spread.known.names[i] for i in measured), names)
        if len(back) == len(lost):
            break
    return best


def _lost(task: OrderTask, order: Order) -> list[BarredSide]:
    """Of each object that has no stop and lost a side, the side that touches least often."""
    shown = {stop.key for stop in order.stops}
    least: dict[str, BarredSide] = {}
    for side in task.barred:
        known = least.get(side.key, side)
        if side.key not in shown and side.touch_chance <= known.touch_chance:
            least[side.key] = side
    return list(least.values())


def _towards(drawn: Floats, touched: Mask) -> Floats:
    """The direction (r,) of the normal numbers in which the rigs that touch lie."""
    mean = drawn[:, touched].mean(axis=1) if touched.any() else np.zeros(len(drawn))
    return np.asarray(mean / max(float(np.linalg.norm(mean)), 1e-12))


def _sure_enough(lost: Mask, shown: Mask, allowed: float) -> list[int]:
    """Which of the lost ones (k, n), the surest first, may come back beside what is shown."""
    any_touches, back = shown.any(axis=0), list[int]()
    for k in lost.mean(axis=1).argsort(kind="stable").tolist():
        any_touches = any_touches | lost[k]
        if float(any_touches.mean()) > allowed:
            break
        back.append(k)
    return back
