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

from axletree.evening.order.problem import OrderProblem, Route
from axletree.evening.search.beam import beam
from axletree.evening.search.knapsack import padded, price_of_time
from axletree.evening.search.price_table import PriceTable, TableWithoutReturn
from axletree.evening.search.quick import Mender
from axletree.sky.arrays import Floats, Ints, Mask

# Orders that grow on in the last search; the wider one where the gap is small.
BEAM, PROOF, WITHIN_PROOF = 300, 4000, 0.004
FEWEST_PASSES = 4  # fewer lower no bound


def bounded(
    problem: OrderProblem, route: Route, bound: int, seconds: float, *, thorough: bool = False
) -> tuple[Route, int]:
    """A route at least as good, and thousandths of points that no order can exceed.

    Orders with fewer must-see objects than the route don't count. `thorough`: of an order that is
    nearly proven the proof is tried, which takes a second more.
    """
    search = BoundSearch(problem, route, bound)
    search.coarse(0.5 * seconds)
    search.fine(0.4 * seconds)
    return search.certified(thorough=thorough)


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
        self.table: PriceTable = PriceTable(problem, self.worth)
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
        if not isinstance(self.table, TableWithoutReturn):
            self.table = TableWithoutReturn(self.problem, self.worth)
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

    def certified(self, *, thorough: bool) -> tuple[Route, int]:
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

    def __init__(self, problem: OrderProblem, table: PriceTable, prices: Floats) -> None:
        self.target, self.after, self.prices = problem.target, table.after, prices

    def __call__(self, shown: Mask, row: Ints, option: Ints, end: Ints) -> Floats:
        unshown = np.where(shown, 0.0, self.prices).sum(axis=1)
        return np.asarray(unshown[row] - self.prices[self.target[option]] + self.after[option, end])
