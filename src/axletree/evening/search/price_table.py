"""What could still be won from any stop on, where an object may come again for its price?

Public: ``PriceTable``, ``TableWithoutReturn``. Dynamic programming over time and the last option,
backwards (N. Christofides, A. Mingozzi and P. Toth 1981, Networks 11, 145).
"""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from axletree.evening.order.problem import OrderProblem
from axletree.sky.arrays import Floats, Ints, Reals

_NEVER = -1e12
# Work of one pass on a machine of 2026, roughly: seconds an entry, and a block of ticks.
ENTRY_S, BLOCK_S = 2.0e-9, 8.0e-5


class PriceTable:
    """The best order in which an object may come again, for given prices, backwards in time.

    `after[k, e]`: what can still be won once option k has ended at tick e. `ending[k, e]`: the same
    with option k's own points, where it ends at e or, having waited for its opening, later.
    """

    def __init__(self, problem: OrderProblem, worth: Ints, kind: type = np.float32) -> None:
        p = self.problem = problem
        K = self.K = len(p.show)
        self.worth = worth
        same = p.target[:, None] == p.target[None, :]
        self.ahead = p.move + p.show[None, :]  # from the end of k to the end of l
        # Ends within one step don't depend on each other: they are worked out together.
        self.step = int(self.ahead[~same].min())
        self.T = -(-(p.ticks + 1) // self.step) * self.step
        width = self.T + int(max(self.ahead.max(), (p.first_move + p.show).max())) + self.step
        self.cost: Reals = np.where(same, -_NEVER, p.nuisance).astype(kind)[:, :, None]
        self.ending: Reals = np.full((K, width), _NEVER, kind)
        self.after: Reals = np.zeros((K, self.T), kind)
        self.windows = sliding_window_view(self.ending, self.step, axis=1)
        self.column = np.broadcast_to(np.arange(K)[None, :], (K, K)).copy()
        self.row = np.arange(K)[:, None]
        ends = np.arange(self.T)
        real = np.maximum(ends, (p.early + p.show)[:, None])
        self.real = np.minimum(real, self.T - 1)
        closed = ends > (p.late + p.show)[:, None]
        delay_cost = p.delay_cost[:, None] * (real - p.show[:, None])
        self.base: Reals = np.where(closed, _NEVER, -delay_cost).astype(kind)

    @property
    def seconds(self) -> float:
        """What a pass takes, roughly."""
        return self.K**2 * self.T * ENTRY_S + self.T / self.step * BLOCK_S

    def best(self, prices: Floats) -> tuple[float, list[int]]:
        """Thousandths of points of the best such order, prices paid, and its options."""
        own = (self.worth - prices[self.problem.target]).astype(self.base.dtype)[:, None]
        self._fill(self.base + own)
        return self._trace()

    def _fill(self, own: Reals) -> None:
        for low in range(self.T - self.step, -1, -self.step):
            span = slice(low, low + self.step)
            won = self.windows[self.column, self.ahead + low]
            won -= self.cost
            np.maximum(won.max(axis=1), 0, out=self.after[:, span])
            self.ending[:, span] = own[:, span] + self.after[self.row, self.real[:, span]]

    def _onward(self, option: int, before: int, end: int) -> Reals:
        """What each next option would win after this one, which ended then."""
        del before
        won = self.ending[np.arange(self.K), end + self.ahead[option]]
        return np.asarray(won - self.cost[option, :, 0])

    def _trace(self) -> tuple[float, list[int]]:
        p = self.problem
        first = self.ending[np.arange(self.K), p.first_move + p.show] - p.first_nuisance
        option, before = int(np.argmax(first)), -1
        value = float(first[option])
        if value <= 0:
            return 0.0, []
        options, time = [], int(p.first_move[option])
        while True:
            options.append(option)
            time = max(time, int(p.early[option])) + int(p.show[option])
            onward = self._onward(option, before, time)
            best = int(np.argmax(onward))
            if onward[best] <= 0 or len(options) > p.ticks:
                return value, options
            time += int(p.move[option, best])
            before, option = option, best


class TableWithoutReturn(PriceTable):
    """The same, but never from one object to another and straight back.

    Keeps, beside the best continuation, which object it shows next, and the best one that shows
    another object next.
    """

    def __init__(self, problem: OrderProblem, worth: Ints, kind: type = np.float32) -> None:
        super().__init__(problem, worth, kind)
        self.ending2 = np.full_like(self.ending, _NEVER)
        self.after2 = np.zeros_like(self.after)
        self.next = np.full(self.ending.shape, -1, np.int32)
        self.after_next = np.full(self.after.shape, -1, np.int32)
        self.windows2 = sliding_window_view(self.ending2, self.step, axis=1)
        self.windows_next = sliding_window_view(self.next, self.step, axis=1)
        self.target = problem.target.astype(np.int32)

    def _fill(self, own: Reals) -> None:
        for low in range(self.T - self.step, -1, -self.step):
            span = slice(low, low + self.step)
            at = self.ahead + low
            won = self.windows[self.column, at]
            back = self.windows_next[self.column, at] == self.target[:, None, None]
            np.copyto(won, self.windows2[self.column, at], where=back)
            won -= self.cost
            top = won.argmax(axis=1)
            best = np.take_along_axis(won, top[:, None, :], axis=1)[:, 0, :]
            shown = self.target[top]
            np.copyto(won, _NEVER, where=self.target[None, :, None] == shown[:, None, :])
            self.after[:, span] = np.maximum(best, 0)
            self.after2[:, span] = np.maximum(won.max(axis=1), 0)
            self.after_next[:, span] = np.where(best > 0, shown, -1)
            real = self.real[:, span]
            self.ending[:, span] = own[:, span] + self.after[self.row, real]
            self.ending2[:, span] = own[:, span] + self.after2[self.row, real]
            self.next[:, span] = self.after_next[self.row, real]

    def _onward(self, option: int, before: int, end: int) -> Reals:
        rows, at = np.arange(self.K), end + self.ahead[option]
        back = self.next[rows, at] == self.target[option]
        won = np.where(back, self.ending2[rows, at], self.ending[rows, at])
        won = won - self.cost[option, :, 0]
        if before >= 0:
            won[self.target == self.target[before]] = _NEVER
        return np.asarray(won)
