"""What can no order exceed, whatever the sequence?

Public: ``quick_bound``, ``padded``, ``cheapest_moves``, ``price_of_time``. The knapsack of all
objects, each made longer by its cheapest move.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.order.problem import OrderProblem, Route
from axletree.sky.arrays import Ints

_NEVER = np.int64(1) << 40


def quick_bound(problem: OrderProblem, route: Route) -> int:
    """Thousandths of points that no order with as many must-see objects can exceed.

    Knapsack over the ticks of the session: an object takes its show and the cheapest move that
    leads to any of its options, and brings its best worth less the least nuisance.
    """
    if len(problem.show) == 0:
        return 0
    length, gain, spare, bonus = padded(problem)
    room = problem.ticks + spare
    best = np.zeros(room + 1, dtype=np.int64)
    for ticks, points in zip(length, gain, strict=True):
        if points > 0 and ticks <= room:
            best[ticks:] = np.maximum(best[ticks:], best[: room + 1 - ticks] + points)
    return max(int(best[-1]) + bonus, route.points)


def padded(problem: OrderProblem) -> tuple[Ints, Ints, int, int]:
    """Per object with options: least ticks with its move and most points; then what the first stop
    of an order, which no such move precedes, may save in ticks and in points."""
    into, annoy = cheapest_moves(problem)
    lengths = problem.show + into
    gains = (
        problem.worth
        - problem.delay_cost * np.maximum(problem.early, problem.first_move.min())
        - annoy
    )
    numbers = sorted(set(problem.target.tolist()))
    length = np.array([lengths[problem.target == t].min() for t in numbers])
    gain = np.array([gains[problem.target == t].max() for t in numbers])
    spare = int(np.maximum(into - problem.first_move, 0).max())
    bonus = int(np.maximum(annoy - problem.first_nuisance, 0).max())
    return length, gain, spare, bonus


def cheapest_moves(problem: OrderProblem) -> tuple[Ints, Ints]:
    """Per option: the least ticks and the least nuisance of a move from another object."""
    same = problem.target[:, None] == problem.target[None, :]
    move = np.where(same, _NEVER, problem.move).min(axis=0)
    nuisance = np.where(same, _NEVER, problem.nuisance).min(axis=0)
    alone = move >= _NEVER  # a single object: nothing ever precedes it
    return (
        np.where(alone, problem.first_move, move),
        np.where(alone, problem.first_nuisance, nuisance),
    )


def price_of_time(length: Ints, gain: Ints, room: int) -> float:
    """Points a tick is worth when the evening is full: the density of the last object in."""
    order = np.argsort(-gain / length)
    used = np.cumsum(length[order])
    over = np.flatnonzero(used > room)
    if len(over) == 0:
        return 0.0
    last = order[over[0]]
    return max(0.0, float(gain[last] / length[last]))
