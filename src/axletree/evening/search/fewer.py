"""Which stops, and in which order, where more fit than the host wants?

Every stop pays the same price; the order that is best with the price paid is the best of all with
as many stops as it has (H. Everett 1963, Oper. Res. 11, 399), and what no order with the price paid
can exceed, with the prices of the wanted number given back, no order of so many stops can exceed.
The price is the one at which a knapsack's bound is lowest. Then stops are taken out and better ones
put in, never more than are wanted.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from axletree.evening.order.problem import OrderProblem, Route
from axletree.evening.search.knapsack import quick_bound
from axletree.evening.search.quick import LOOK_ROUNDS, ROUNDS, Mender, solve_quickly
from axletree.kit.frozen import dataclass

# A better route and bound than these of a problem.
Improve = Callable[[OrderProblem, Route, int], tuple[Route, int]]
# Halvings of the span in which the price lies: to a thousandth of what a stop is worth.
_HALVINGS = 10
_NOTHING = Route((), (), (), 0, 0)


@dataclass(frozen=True)
class FewStops:
    """A route of no more stops than are wanted; thousandths of points that no such can exceed."""

    route: Route
    bound: int


def solve_for_few(problem: OrderProblem, most: int, better: Improve) -> FewStops | None:
    """The best route met of at most `most` stops, `better` makes one better; None where no more
    are worth a stop anyway."""
    full = solve_quickly(problem, LOOK_ROUNDS)
    if len(full.options) <= most:
        return None
    paid, price = _with_price(problem, most)
    priced = solve_quickly(paid, LOOK_ROUNDS)
    priced, bound = better(paid, priced, quick_bound(paid, priced))
    mender = Mender(problem, most)
    tried = [_NOTHING]
    for options in (priced.options, full.options):
        begun = _least_out(problem, options, most)
        tried.append(problem.run(mender.mend(begun, ROUNDS // 2)) or _NOTHING)
    route = max(tried, key=lambda r: r.rank)
    return FewStops(route, max(bound + most * price, route.points))


@lru_cache(maxsize=4)
def _with_price(problem: OrderProblem, most: int) -> tuple[OrderProblem, int]:
    """The problem with a stop's price paid, and that price."""
    price = _price(problem, most)
    return replace(problem, worth=problem.worth - price), price


def _price(problem: OrderProblem, most: int) -> int:
    """Thousandths of points a stop pays so that hardly more than `most` are worth it."""

    def out_of_reach(price: int) -> int:
        paid = replace(problem, worth=problem.worth - price)
        return quick_bound(paid, _NOTHING) + most * price

    low, high = 0, int(problem.worth.max(initial=0))
    for _ in range(_HALVINGS):
        third = (high - low) // 3
        # The bound is convex in the price.
        if out_of_reach(low + third) <= out_of_reach(high - third):
            high -= third
        else:
            low += third
    return (low + high) // 2


def _least_out(problem: OrderProblem, options: tuple[int, ...], most: int) -> list[int]:
    """The options of a route without the least of them that are too many and still fit."""
    kept = list(options)
    while len(kept) > most:
        worth = problem.ranked_worth[np.array(kept)]
        for at in np.argsort(worth, kind="stable").tolist():
            if problem.run(kept[:at] + kept[at + 1 :]) is not None:
                del kept[at]
                break
        else:
            return []
    return kept
