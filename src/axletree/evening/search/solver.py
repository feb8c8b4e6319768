"""How much better can an order be made in a few seconds, and how good is it then?

Public: ``improve``. OR-tools' routing library (guided local search; the extra `axletree[order]`)
improves the quick order; `order_bound` says what no order can exceed and improves it further. The
library is loaded only when a solver was asked for (`solver_library`).

Measured on 40 objects in 6 hours (benchmarks/order_evening.py): the bound of OR-tools' constraint
solver on the relaxed task (an interval an object, padded by its cheapest move) leaves a gap of
2.7-5.7 %, hardly better than a knapsack; with a circuit through all options it did not improve the
order in 60 s. The bound by prices brings the gap to 0.4-1.1 %; the routing library's part in that
is 0.1 % at most.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.order.problem import OrderProblem, Route
from axletree.evening.search.bound import BoundSearch
from axletree.evening.search.solver_library import routing_library

# Branches that the routing library works through in a second, roughly. Its work is limited by
# them, not by the clock, so that the same task gives the same order.
BRANCHES_PER_S = 2000
NEEDED_BY = "a better order of the stops (--take-time)"


def improve(problem: OrderProblem, route: Route, bound: int, seconds: float) -> tuple[Route, int]:
    """A route at least as good as the given one and a bound at most as high.

    About a third of `seconds` goes to the routing library, the rest to the bound; if the order
    reaches the bound, it stops early. Refuses where the library can't be loaded, whatever the list.
    """
    routing_library(NEEDED_BY)
    if not route.options or route.points == bound:
        return route, bound
    search = BoundSearch(problem, route, bound)
    search.coarse(0.25 * seconds)
    search.fine(0.15 * seconds)
    if not search.proven:
        search.offer(routed(problem, search.route, 0.3 * seconds))
    search.fine(0.2 * seconds)
    return search.certified()


def routed(problem: OrderProblem, route: Route, seconds: float) -> Route:
    """What the routing library makes of a route; the route itself if that is no better."""
    pywrapcp, routing_enums_pb2 = routing_library(NEEDED_BY)
    K = len(problem.show)
    depot = K
    manager = pywrapcp.RoutingIndexManager(K + 1, 1, depot)
    model = pywrapcp.RoutingModel(manager)
    ticks = np.zeros((K + 1, K + 1), dtype=np.int64)
    ticks[:K, :K] = problem.show[:, None] + problem.move
    ticks[:K, depot] = problem.show
    ticks[depot, :K] = problem.first_move
    nuisance = np.zeros((K + 1, K + 1), dtype=np.int64)
    nuisance[:K, :K] = problem.nuisance
    nuisance[depot, :K] = problem.first_nuisance

    model.SetArcCostEvaluatorOfAllVehicles(model.RegisterTransitMatrix(nuisance.tolist()))
    transit = model.RegisterTransitMatrix(ticks.tolist())
    model.AddDimension(transit, problem.ticks, problem.ticks, True, "time")
    time = model.GetDimensionOrDie("time")
    options_of: dict[int, list[int]] = {}
    for option in range(K):
        index = manager.NodeToIndex(option)
        time.CumulVar(index).SetRange(int(problem.early[option]), int(problem.late[option]))
        if problem.delay_cost[option]:
            time.SetCumulVarSoftUpperBound(index, 0, int(problem.delay_cost[option]))
        options_of.setdefault(int(problem.target[option]), []).append(option)
    for options in options_of.values():
        # One penalty for the object; an option worth less than its best pays the difference.
        worth = problem.ranked_worth[options]
        best = int(worth.max())
        nodes = [manager.NodeToIndex(option) for option in options]
        model.AddDisjunction(nodes, max(best, 0), 1)
        for option, own in zip(options, worth.tolist(), strict=True):
            if own < best:
                nuisance[:, option] += best - own
    model.SetArcCostEvaluatorOfAllVehicles(model.RegisterTransitMatrix(nuisance.tolist()))

    parameters = pywrapcp.DefaultRoutingSearchParameters()
    parameters.local_search_metaheuristic = (
        routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    )
    parameters.time_limit.FromMilliseconds(int(max(10.0, 15.0 * seconds) * 1000))
    branches = max(100, int(seconds * BRANCHES_PER_S))
    model.AddSearchMonitor(model.solver().BranchesLimit(branches))
    model.CloseModelWithParameters(parameters)
    given = model.ReadAssignmentFromRoutes([list(route.options)], True)
    found = model.SolveFromAssignmentWithParameters(given, parameters) if given else None
    if found is None:
        return route
    options, index = [], found.Value(model.NextVar(model.Start(0)))
    while not model.IsEnd(index):
        options.append(manager.IndexToNode(index))
        index = found.Value(model.NextVar(index))
    better = problem.run(options)
    return better if better is not None and better.rank > route.rank else route
