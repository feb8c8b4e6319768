"""How good could any order be?

Public: ``bounded``, ``BoundSearch``: a bound that no order can exceed, maybe a better route.

Lagrangian relaxation: an order may show an object more than once, but every showing pays the
object's price; with the right prices hardly any object is shown twice, and the best such order is
worth little more than the best real one. It is found by dynamic programming over time and the
last option, in which no object comes back right after its neighbour (N. Christofides, A. Mingozzi
and P. Toth 1981, Networks 11, 145); prices follow the subgradient (M. Held, P. Wolfe and
H. P. Crowder 1974, Math. Program. 6, 62). Numbers of passes are fixed by the size of the task, so
that the answer repeats.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from axletree.evening.order.problem import OrderProblem, Route
from axletree.evening.order.quick import Mender, beam, padded, price_of_time
from axletree.sky.arrays import Floats, Ints, Mask, Reals

_NEVER = -1e12
# Work of one pass on a machine of 2026, roughly: seconds an entry, and a block of ticks.
ENTRY_S, BLOCK_S = 2.0e-9, 8.0e-5
# Orders that grow on in the last search; the wider one where the gap is small.
BEAM, PROOF, WITHIN_PROOF = 300, 4000, 0.004
FEWEST_PASSES = 4  # fewer lower no bound


def bounded(problem: OrderProblem, route: Route, bound: int, seconds: float) -> tuple[Route, int]:
    """A route at least as good, and thousandths of points that no order can exceed.

    Orders with fewer must-see objects than the route don't count.
    """
    search = BoundSearch(problem, route, bound)
    search.coarse(0.5 * seconds)
    search.fine(0.4 * seconds)
    return search.certified(thorough=False)


class BoundSearch:
    """Prices, the best bound and the best route met so far.

    Start with a route that fits and thousandths of points known to be out of reach; `coarse`,
    then `fine` lower the bound; `offer` a better route in between; `certified` ends it. The
    bound holds for all orders with as many must-see objects as the route.
    """

    def __init__(self, problem: OrderProblem, route: Route, bound: int) -> None:
        self.problem = problem
        self.route = route
        self.bound = bound
        self.mender = Mender(problem)
        # With every possible must-see object in the route, orders without one need no bound.
        self.musts = route.musts if route.musts == problem.musts_possible else 0
        self.worth = problem.ranked_worth if self.musts else problem.worth
        self.empty = problem.objects_with_options < 2
        if self.empty:
            return
        self.table: _Table = _Table(problem, self.worth)
        self.pace = 0.3
        self.best_prices = self._first_prices()
        self.best = math.inf

    @property
    def proven(self) -> bool:
        """The route reaches the bound."""
        return self.empty or self.best - self._goal() < 0.5

    def offer(self, route: Route) -> None:
        """Keep this route if it is better."""
        if route.rank > self.route.rank:
            self.route = route

    def coarse(self, seconds: float) -> None:
        """Passes that may go back and forth between two objects; none where time is too short."""
        passes = round(seconds / self.table.seconds) if not self.empty else 0
        if passes >= FEWEST_PASSES and not self.proven:
            self._follow(passes)

    def fine(self, seconds: float) -> None:
        """Passes that may not; each takes about three times as long and bounds better."""
        if self.proven:
            return
        passes = round(seconds / self.table.seconds / 3.0)
        if passes < FEWEST_PASSES:
            return
        if not isinstance(self.table, _TableWithoutReturn):
            self.table = _TableWithoutReturn(self.problem, self.worth)
            self.pace = 0.15
        self._follow(passes)

    def _goal(self) -> float:
        extra = self.musts * self.problem.must_points
        return float(self.route.points + extra)

    def _first_prices(self) -> Floats:
        length, gain, spare, _ = padded(self.problem)
        price = price_of_time(length, gain, self.problem.ticks + spare)
        numbers = sorted(set(self.problem.target.tolist()))
        prices = np.zeros(self.problem.objects)
        prices[numbers] = np.maximum(0.0, gain - price * length)
        if self.musts:
            must = np.unique(self.problem.target[self.problem.must])
            prices[must] += self.problem.must_points
        return prices

    def _follow(self, passes: int) -> None:
        """So many steps along the subgradient, smaller whenever the bound stops falling."""
        prices = self.best_prices
        direction: Floats = np.zeros_like(prices)
        stalled = 0
        for turn in range(passes):
            value, options = self.table.best(prices)
            bound = value + float(prices.sum())
            if turn % 4 == 0:
                self._mend(options)
            if bound < self.best - 0.5:
                self.best, self.best_prices, stalled = bound, prices, 0
            else:
                stalled += 1
                if stalled >= 5:
                    self.pace, stalled, prices = self.pace * 0.7, 0, self.best_prices
            if self.proven:
                return
            numbers = self.problem.target[np.array(options, dtype=np.int64)]
            over = 1.0 - np.bincount(numbers, minlength=self.problem.objects)
            over[(prices <= 0) & (over > 0)] = 0.0
            direction = np.asarray(over if turn == 0 else 0.7 * direction + 0.3 * over)
            length = float(direction @ direction)
            if length == 0.0:
                return
            step = self.pace * (bound - self._goal()) / length
            prices = np.maximum(0.0, prices - step * direction)

    def _mend(self, options: list[int]) -> None:
        """Make a real order of one that may show numbers twice, and keep it if it is better."""
        seen: set[int] = set()
        once = []
        for option in options:
            if int(self.problem.target[option]) not in seen:
                seen.add(int(self.problem.target[option]))
                once.append(option)
        trial = self.problem.run(self.mender.fill(once))
        if trial is not None:
            self.offer(trial)

    def certified(self, *, thorough: bool = True) -> tuple[Route, int]:
        """The best route, and the best bound computed again in double precision.

        A beam that knows what can still be won on these terms looks for a better order. Where
        it could follow up every order that the bound does not rule out, the best is proven.
        """
        if self.empty or math.isinf(self.best):
            return self.route, max(self.bound, self.route.points)
        table = type(self.table)(self.problem, self.worth, np.float64)
        value, _ = table.best(self.best_prices)
        whole = value + float(self.best_prices.sum()) - self.musts * self.problem.must_points
        bound = min(self.bound, math.floor(whole + 1e-3))
        outlook = _ByPrices(self.problem, table, self.best_prices)
        all_musts = self.route.musts == self.problem.musts_possible
        for width in (BEAM, PROOF) if thorough else (BEAM,):
            if bound <= self.route.points:
                break
            # Without all must-see objects the bound is not one on what the beam counts.
            beat = self._goal() if all_musts else 0.0
            options, complete = beam(self.problem, outlook, width, beat)
            trial = self.problem.run(self.mender.mend(options, 40)) if options else None
            if trial is not None:
                self.offer(trial)
            if complete and all_musts:
                bound = self.route.points
            if not all_musts or bound > self.route.points * (1.0 + WITHIN_PROOF):
                break
        return self.route, max(bound, self.route.points)


class _ByPrices:
    """Hope by the prices: what the table says can still be won, and the prices of the unshown."""

    def __init__(self, problem: OrderProblem, table: _Table, prices: Floats) -> None:
        self.target, self.after, self.prices = problem.target, table.after, prices

    def __call__(self, shown: Mask, row: Ints, option: Ints, end: Ints) -> Floats:
        unshown = np.where(shown, 0.0, self.prices).sum(axis=1)
        return np.asarray(unshown[row] - self.prices[self.target[option]] + self.after[option, end])


class _Table:
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


class _TableWithoutReturn(_Table):
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
