"""Which orders are the most promising, as they grow stop by stop?

Public: ``beam``, ``Outlook``, ``ByPrice``. Of partial orders with equally many stops the `BEAM`
most promising are kept; promising means points so far plus what is still to be hoped for.
"""

from __future__ import annotations

from typing import Protocol

import numpy as np

from axletree.evening.order.problem import OrderProblem
from axletree.evening.search.knapsack import cheapest_moves, padded, price_of_time
from axletree.sky.arrays import Floats, Ints, Mask

BEAM = 160
_SEED = 2718


class Outlook(Protocol):
    """What partial orders may still bring: parents by `row`, each extended by `option`."""

    def __call__(self, shown: Mask, row: Ints, option: Ints, end: Ints) -> Floats:
        """Points still to be hoped for; `shown` is (parents, objects), `end` when option ends."""
        ...


class ByPrice:
    """Hope by a price of time: what each object that is still to close would bring beyond it."""

    def __init__(self, problem: OrderProblem) -> None:
        length, gain, spare, _ = padded(problem)
        self.price = price_of_time(length, gain, problem.ticks + spare)
        self.target = problem.target
        self.promise = np.zeros(problem.objects)
        self.closing = np.full(problem.objects, -1, dtype=np.int64)
        into, annoy = cheapest_moves(problem)
        own = problem.ranked_worth - annoy - self.price * (problem.show + into)
        np.maximum.at(self.promise, problem.target, own)
        np.maximum.at(self.closing, problem.target, problem.late)
        self.by_closing = np.argsort(self.closing, kind="stable")

    def __call__(self, shown: Mask, row: Ints, option: Ints, end: Ints) -> Floats:
        open_promise = np.where(shown, 0.0, self.promise)[:, self.by_closing]
        total = np.cumsum(open_promise, axis=1)
        total = np.concatenate([np.zeros((len(shown), 1)), total], axis=1)
        past = np.searchsorted(self.closing[self.by_closing], end)
        hope = total[row, -1] - total[row, past]
        own = self.target[option]
        hope -= np.where(self.closing[own] >= end, self.promise[own], 0.0)
        return np.asarray(hope - self.price * end)


def beam(
    problem: OrderProblem, outlook: Outlook, width: int = BEAM, beat: float = 0.0
) -> tuple[list[int], bool]:
    """The best order met when of equally many stops the `width` most promising orders grow on.

    Orders without the prospect of more than `beat` (points, must-see objects weighed in) are
    dropped. True with it: no other order was dropped for want of width, so that if the outlook
    never promises too little, no order beats `beat` except the one given (empty: none does).
    """
    K = len(problem.show)
    worth, number = problem.ranked_worth, problem.target
    mark = np.random.default_rng(_SEED).integers(1, 1 << 62, problem.objects, dtype=np.int64)
    move = np.vstack([problem.move, problem.first_move])
    nuisance = np.vstack([problem.nuisance, problem.first_nuisance])
    time, last, points = np.array([0]), np.array([K]), np.array([0], dtype=np.int64)
    shown = np.zeros((1, problem.objects), dtype=bool)
    hashes = np.zeros(1, dtype=np.int64)
    history: list[tuple[Ints, Ints]] = []
    best, best_at, complete = max(0.0, beat), (-1, 0), True
    while True:
        start = np.maximum(time[:, None] + move[last], problem.early)
        fits = (start <= problem.late) & ~shown[:, number]
        row, option = np.nonzero(fits)
        begin = start[row, option]
        new = (
            points[row]
            + worth[option]
            - problem.delay_cost[option] * begin
            - nuisance[last[row], option]
        )
        end = begin + problem.show[option]
        hope = new + outlook(shown, row, option, end)
        order = np.flatnonzero(hope > best)
        complete &= len(order) <= width * 20
        order = _highest(hope, order, width * 20)
        key = hashes[row[order]] ^ mark[number[option[order]]]
        kept = order[_unbeaten(key, option[order], end[order], new[order])]
        complete &= len(kept) <= width
        kept = kept[:width]
        if len(kept) == 0:
            break
        row, option = row[kept], option[kept]
        history.append((row, option))
        time, points, last = end[kept], new[kept], option
        shown = shown[row]
        shown[np.arange(len(option)), number[option]] = True
        hashes = hashes[row] ^ mark[number[option]]
        top = int(np.argmax(points))
        if points[top] > best:
            best, best_at = float(points[top]), (len(history) - 1, top)
    options: list[int] = []
    level, at = best_at
    while level >= 0:
        row, option = history[level]
        options.append(int(option[at]))
        at, level = int(row[at]), level - 1
    return options[::-1], complete


def _highest(hope: Floats, order: Ints, most: int) -> Ints:
    """At most so many of these places, the highest hope first, of equal ones the first."""
    if len(order) > most:  # only those are sorted that are kept
        own = hope[order]
        least = np.partition(own, len(own) - most)[len(own) - most]
        kept = own > least
        kept[np.flatnonzero(own == least)[: most - int(kept.sum())]] = True
        order = order[kept]
    return np.asarray(order[np.argsort(-hope[order], kind="stable")])


def _unbeaten(key: Ints, option: Ints, end: Ints, points: Ints) -> Ints:
    """Places of the orders that no other one with the same objects and the same last option beats
    in both time and points, in their given order."""
    if len(key) == 0:
        return np.empty(0, dtype=np.int64)
    by = np.lexsort((-points, end, option, key))
    group = np.cumsum(np.diff(key[by], prepend=key[by[0]]) != 0)
    group += np.cumsum(np.diff(option[by], prepend=option[by[0]]) != 0)
    # A running maximum that starts afresh in every group.
    spread = np.int64(points.max() - points.min() + 1)
    level = points[by] - points.min() + group * spread
    top = np.maximum.accumulate(level)
    better = np.concatenate([[True], level[1:] > top[:-1]])
    return np.sort(by[better])
