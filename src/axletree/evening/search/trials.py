"""What are many orders of one task worth, with the nuisance of long waits counted in?

Public: ``merits_of``. All orders are gone through at once, stop by stop: thousands of them take a
hundredth of the time that `OrderProblem.run` takes one by one, to the same whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

import numpy as np

from axletree.evening.order.problem import OrderProblem
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Ints, Mask

# Orders that are gone through together: more don't fit into the cache.
_TOGETHER = 4096


@dataclass(frozen=True)
class WaitPrice:
    """Thousandths of points that a tick beyond `long` ticks of one wait costs, and the more the
    longer it lasts."""

    points: int
    long: int

    def of(self, ticks: Ints) -> Ints:
        """What waits of so many ticks cost."""
        beyond = np.maximum(ticks - self.long, 0)
        return np.asarray(self.points * (beyond + beyond * beyond // (2 * self.long)))


@dataclass(frozen=True)
class Merits:
    """Of n orders (n,): whether each fits, its must-see objects, and its points less what its waits
    cost."""

    fits: Mask
    musts: Ints
    points: Ints

    def best(self) -> int | None:
        """The first of those with most must-see objects, then points; None where none fits."""
        rows = np.flatnonzero(self.fits)
        rows = rows[self.musts[rows] == self.musts[rows].max(initial=0)]
        return int(rows[np.argmax(self.points[rows])]) if len(rows) else None


def merits_of(problem: OrderProblem, orders: Sequence[Sequence[int]], price: WaitPrice) -> Merits:
    """What each order of options is worth, every stop started as early as it can."""
    parts = [
        _merits(problem, orders[a : a + _TOGETHER], price) for a in range(0, len(orders), _TOGETHER)
    ]
    if not parts:
        return Merits(np.zeros(0, np.bool_), np.zeros(0, np.int64), np.zeros(0, np.int64))
    columns = zip(*((p.fits, p.musts, p.points) for p in parts), strict=True)
    return Merits(*map(np.concatenate, columns))


def _merits(problem: OrderProblem, orders: Sequence[Sequence[int]], price: WaitPrice) -> Merits:
    lengths = np.array([len(order) for order in orders])
    n, longest = len(orders), int(lengths.max(initial=0))
    filled = np.arange(longest) < lengths[:, np.newaxis]
    options = np.zeros((n, longest), np.int64)
    options[filled] = np.fromiter(chain.from_iterable(orders), np.int64, int(lengths.sum()))
    # The way to the first stop is the last row.
    move = np.vstack([problem.move, problem.first_move])
    nuisance = np.vstack([problem.nuisance, problem.first_nuisance])
    before = np.full(n, len(problem.show))
    time, points, musts = (np.zeros(n, np.int64) for _ in range(3))
    fits = np.ones(n, np.bool_)
    for k in range(longest):
        option, on = options[:, k], filled[:, k]
        there = time + move[before, option]
        begin = np.maximum(there, problem.early[option])
        fits &= (begin <= problem.late[option]) | ~on
        gain = problem.worth[option] - problem.delay_cost[option] * begin
        gain -= nuisance[before, option] + price.of(begin - there)
        points += np.where(on, gain, 0)
        musts += problem.must[option] & on
        time, before = np.where(on, begin + problem.show[option], time), option
    return Merits(fits, musts, points)
