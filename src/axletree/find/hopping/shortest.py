"""Which way through a graph costs least?

Source: E. W. Dijkstra 1959, A note on two problems in connexion with graphs, Numerische
Mathematik 1, 269; here with edges that are worked out only where the search comes by, and led
by what the rest costs at least: P. E. Hart, N. J. Nilsson and B. Raphael 1968, IEEE Transactions on
Systems Science and Cybernetics 4, 100.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable

Costs = Iterable[tuple[int, float]]


def cheapest_path(
    begin: Costs,
    onward: Callable[[int], Costs],
    finish: Callable[[int], float | None],
    rest: Callable[[int], float] = lambda node: 0.0,
    most: float = float("inf"),
) -> tuple[float, tuple[int, ...]] | None:
    """Cost and nodes of the cheapest way from any beginning to any finish; None without one.

    `begin`: nodes with the cost to be there; `onward(node)`: nodes that can be reached from it
    with the cost of the move; `finish(node)`: cost of ending there, None where it isn't possible.
    Costs are not negative. Nodes are numbers from 0. `rest(node)`: what a way from there costs at
    least; it may drop by no more than a move's cost from one node to the next. Ways that cost more
    than `most` are none.
    """
    end = -1
    best: dict[int, float] = {}
    before: dict[int, int | None] = {}
    done: set[int] = set()
    heap: list[tuple[float, float, int]] = []  # what the whole costs at least, so far, node

    def offer(node: int, cost: float, via: int | None) -> None:
        if node in done or not cost < best.get(node, float("inf")):
            return
        whole = cost + (0.0 if node == end else rest(node))
        if whole <= most:
            best[node], before[node] = cost, via
            heapq.heappush(heap, (whole, cost, node))

    for node, cost in begin:
        offer(node, cost, None)
    while heap:
        _, cost, node = heapq.heappop(heap)
        if node in done:
            continue
        done.add(node)
        if node == end:
            return cost, _traced(before, before[end])
        last = finish(node)
        if last is not None:
            offer(end, cost + last, node)
        for other, price in onward(node):
            offer(other, cost + price, node)
    return None


def _traced(before: dict[int, int | None], node: int | None) -> tuple[int, ...]:
    path = []
    while node is not None:
        path.append(node)
        node = before[node]
    return tuple(reversed(path))
