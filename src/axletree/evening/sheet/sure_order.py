"""Which order keeps it improbable that anything touches, and what is lost by that?

The rigs that this one may be are drawn once, so that stops share them: the chance counts the rigs
on which any stop of the evening touches. Where it is too large, the tube side of the stop that
touches most often is barred and the evening ordered again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.order.candidates import Order, OrderedStop, Target
from axletree.evening.stops.windows import BarredSide, OrderTask
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import side_sign
from axletree.mount.room.table import HOURS_PER_SECOND
from axletree.mount.sure.room_doubt import SkyCourse, touches_while
from axletree.sky.arrays import Mask
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

# The chance that any stop of an evening touches stays under this; a newcomer doesn't see it come
# (our figures).
ALLOWED, ALLOWED_NEWCOMER = 0.02, 0.005
_MOST_ROUNDS = 4

Ordering = Callable[[tuple[Target, ...]], Order]


def allowed_chance(kit: Kit) -> float:
    """How probable it may be that any stop of an evening touches."""
    percent = kit.habits.touch_chance_percent
    if percent is not None:
        return percent / 100.0
    return ALLOWED_NEWCOMER if kit.habits.observer == "newcomer" else ALLOWED


def surely_ordered(
    kit: Kit, observer: Observer, ground: Ground, task: OrderTask, ordering: Ordering
) -> tuple[Order, OrderTask]:
    """The order of the task's objects with no more than the allowed chance of a touch, and the task
    without the sides that were barred for it. What must be seen keeps its only side."""
    allowed, order = allowed_chance(kit), ordering(task.targets)
    for _ in range(_MOST_ROUNDS):
        touched = [_touched(observer, ground, task, stop) for stop in order.stops]
        if not touched or float(np.any(touched, axis=0).mean()) <= allowed:
            break
        chances = [float(one.mean()) for one in touched]
        worst = next(
            (k for k in np.argsort(chances)[::-1] if chances[k] > 0.0 and _may_bar(task, order, k)),
            None,
        )
        if worst is None:
            break
        stop = order.stops[worst]
        task = _barred(task, BarredSide(stop.key, stop.side, chances[worst]))
        order = ordering(task.targets)
    return order, task


def _may_bar(task: OrderTask, order: Order, k: int) -> bool:
    stop = order.stops[k]
    target = next(t for t in task.targets if t.key == stop.key)
    return not target.must or any(o.side != stop.side for o in target.openings)


def _touched(observer: Observer, ground: Ground, task: OrderTask, stop: OrderedStop) -> Mask:
    """Of each rig drawn, whether something touches while the stop lasts."""
    thing = next(c.thing for c in task.chosen.candidates if c.thing.catalogue_id == stop.key)
    seen = object_positions([thing], Instants.from_datetime(task.at(stop.start_s)), observer)
    H, d = float(seen.hour_angle_h[0, 0]), float(seen.declination_deg[0, 0])
    course = SkyCourse(H, d, HOURS_PER_SECOND)
    lasts_s = stop.end_s - stop.start_s
    return touches_while(ground.spread, ground.table, int(side_sign(stop.side)), course, lasts_s)


def _barred(task: OrderTask, side: BarredSide) -> OrderTask:
    targets = tuple(
        replace(t, openings=tuple(o for o in t.openings if o.side != side.side))
        if t.key == side.key else t
        for t in task.targets
    )  # fmt: skip
    return replace(task, targets=targets, barred=(*task.barred, side))
