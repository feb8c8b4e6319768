"""Which order keeps it improbable that anything touches, and what is lost by that?

The rigs that this one may be are drawn once, so that stops share them: the chance counts the rigs
on which any stop of the evening touches. Where it is too large, the hours at which the stop that
touches most often would touch are cut from its tube side, which is barred where none are left, and
the evening is ordered again: one at a time, for in a new order others come at another hour and
touch no more.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np

from axletree.evening.ground_here import Ground
from axletree.evening.order.candidates import Opening, Order, OrderedStop, Target
from axletree.evening.order.moving import Side
from axletree.evening.sequence.best import Effort
from axletree.evening.stops.windows import BarredSide, OrderTask
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import side_sign
from axletree.mount.room.table import HOURS_PER_SECOND
from axletree.mount.sure.room_doubt import Followed, SkyCourse, touches_while
from axletree.sky.arrays import Mask
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

# The chance that any stop of an evening touches stays under this; a newcomer doesn't see it come
# (our figures).
ALLOWED, ALLOWED_NEWCOMER = 0.02, 0.005
_MOST_ROUNDS, _ONE_BY_ONE = 8, 3
# How often in an opening it is asked whether a stop that begins there would touch, seconds.
_STEP_S = 600.0
# What one stop may have of the evening's chance, and of the chance that it had before (ours).
_PART = 0.5

Ordering = Callable[[tuple[Target, ...], Effort], Order]


def allowed_chance(kit: Kit) -> float:
    """How probable it may be that any stop of an evening touches."""
    percent = kit.habits.touch_chance_percent
    if percent is not None:
        return percent / 100.0
    return ALLOWED_NEWCOMER if kit.habits.observer == "newcomer" else ALLOWED


def surely_ordered(
    kit: Kit, observer: Observer, ground: Ground, task: OrderTask, ordering: Ordering,
    effort: Effort,
) -> tuple[Order, OrderTask]:  # fmt: skip
    """The order of the task's objects with no more than the allowed chance of a touch, and the task
    without the hours and sides that it can't use for that. What must be seen keeps its only side.

    Rough orders find what is to be barred, then the effort that was asked for is made. The worst
    side is cut alone, so that an object may still come earlier or later; where an order of many
    stops isn't sure after so many rounds, as many of the worst as make the rest sure are cut.
    """
    allowed, known = allowed_chance(kit), _Touches(observer, ground)
    efforts: tuple[Effort, ...] = ("rough", effort)
    for made_with in efforts:
        order = ordering(task.targets, made_with)
        rounds = _MOST_ROUNDS if made_with == "rough" else 2 * _MOST_ROUNDS
        for turn in range(rounds):
            worst = _worst(task, order, known, allowed)
            if not worst:
                break
            for side in worst if turn >= _ONE_BY_ONE else worst[:1]:
                task = _cut(task, side, known, allowed)
            order = ordering(task.targets, made_with)
    return order, task


def _worst(task: OrderTask, order: Order, known: _Touches, allowed: float) -> list[BarredSide]:
    """The sides on which an order touches, the most probable first, so many that the rest would be
    sure enough; none where all is, or where nothing may be barred."""
    touched = dict(enumerate(known.of(task, order.stops)))
    worst: list[BarredSide] = []
    for k in sorted(touched, key=lambda k: -float(touched[k].mean())):
        if float(np.any(list(touched.values()), axis=0).mean()) <= allowed:
            break
        if _may_bar(task, order, k):
            chance = float(touched[k].mean())
            worst.append(_side_of(order.stops[k], chance))
        del touched[k]
    return worst


def _side_of(stop: OrderedStop, chance: float) -> BarredSide:
    return BarredSide(stop.key, stop.side, chance, stop.start_s, stop.end_s)


def _may_bar(task: OrderTask, order: Order, k: int) -> bool:
    stop = order.stops[k]
    target = next(t for t in task.targets if t.key == stop.key)
    return not target.must or any(o.side != stop.side for o in target.openings)


class _Touches:
    """Of each rig drawn, whether something touches while a stop lasts; asked once a stop."""

    def __init__(self, observer: Observer, ground: Ground) -> None:
        self._observer, self._ground = observer, ground
        self._known: dict[tuple[str, Side, float, float], Mask] = {}

    def of(self, task: OrderTask, stops: Sequence[OrderedStop | BarredSide]) -> list[Mask]:
        keys = [(stop.key, stop.side, stop.start_s, stop.end_s) for stop in stops]
        new = {key: stop for key, stop in zip(keys, stops, strict=True) if key not in self._known}
        if new:
            followed = followed_at(self._observer, task, list(new.values()))
            touched = touches_while(self._ground.spread, self._ground.table, followed)
            self._known.update(zip(new, touched, strict=True))
        return [self._known[key] for key in keys]


def followed_at(
    observer: Observer, task: OrderTask, stops: Sequence[OrderedStop | BarredSide]
) -> list[Followed]:
    """What is followed at these stops, on which side, for how long."""
    things = {c.thing.catalogue_id: c.thing for c in task.chosen.candidates}
    at = Instants.from_datetimes([task.at(stop.start_s) for stop in stops])
    seen = object_positions([things[stop.key] for stop in stops], at, observer)
    places = zip(
        np.diagonal(seen.hour_angle_h).tolist(), np.diagonal(seen.declination_deg).tolist(),
        strict=True,
    )  # fmt: skip
    return [
        Followed(
            int(side_sign(stop.side)), SkyCourse(H, d, HOURS_PER_SECOND), stop.end_s - stop.start_s
        )
        for stop, (H, d) in zip(stops, places, strict=True)
    ]


def _cut(task: OrderTask, worst: BarredSide, known: _Touches, allowed: float) -> OrderTask:
    """The task without the hours at which a stop on this side touches too probably; where it does
    at all hours, without the side, the least probable of them kept for who asks why."""
    target = next(t for t in task.targets if t.key == worst.key)
    sure = _PART * min(allowed, worst.touch_chance)
    left: list[Opening] = []
    least = worst
    for opening in target.openings:
        if opening.side != worst.side:
            left.append(opening)
            continue
        tried = _tried(opening, target)
        chances = [float(mask.mean()) for mask in known.of(task, tried)]
        rows = [replace(one, touch_chance=c) for one, c in zip(tried, chances, strict=True)]
        least = min([least, *rows], key=lambda one: one.touch_chance)
        left += [
            replace(opening, start_s=run[0].start_s, end_s=run[-1].end_s)
            for good, group in groupby(rows, key=lambda one: one.touch_chance <= sure)
            if good and (run := list(group))
        ]
    gone = all(opening.side != worst.side for opening in left)
    targets = tuple(
        replace(t, openings=tuple(left)) if t.key == worst.key else t for t in task.targets
    )
    return replace(task, targets=targets, barred=(*task.barred, least) if gone else task.barred)


def _tried(opening: Opening, target: Target) -> list[BarredSide]:
    """Stops spread over an opening; none where it is too short for one."""
    free_s = opening.end_s - opening.start_s - target.show_s
    if free_s < 0.0:
        return []
    begins = np.linspace(opening.start_s, opening.start_s + free_s, 2 + int(free_s / _STEP_S))
    return [
        BarredSide(target.key, opening.side, 0.0, float(s), float(s) + target.show_s)
        for s in begins
    ]
