"""In which order are the objects shown?

Public: ``order_stops`` -> ``Order`` of ``OrderedStop`` and ``LeftOut``.

The task: from `targets`, each with openings (spans in which the object can be shown on one tube
side), choose stops and their order so that the audience sees the most. A stop lies wholly
within one opening, its queue included; moving takes time; nothing is shown during a break. What
counts, in points: the value of what is shown, less the nuisance of the moves, less `urgency` for
every hour that an object is kept waiting (so that what sets soon comes first). Must-see objects
come before any points.

Methods: `order_exact` (short lists: the best order, proven), `order_quick` (any list, a fraction
of a second), `order_bound` (what no order can exceed, often the proof), `order_solver` (OR-tools'
routing library improves the order between two rounds of bounding). Time runs in ticks of
`TICK_S`; openings are rounded inwards, what the hands do is rounded up. All methods give the same
order for the same input.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from axletree.evening.order.candidates import LeftOut, Method, Order, OrderSpan, Target
from axletree.evening.order.left_out import Why, why_left_out
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import OrderProblem, Route, ordered_stops, problem_of
from axletree.kit.errors import AxletreeError

Effort = Literal["exact", "quick", "auto", "solver"]

# How long a list the exact method takes on, and how many options (object and opening) in it.
EXACT_OBJECTS, EXACT_WAYS = 9, 24


def order_stops(
    targets: Sequence[Target],
    session: OrderSpan,
    handling: Handling,
    *,
    effort: Effort = "auto",
    seconds: float | None = None,
) -> Order:
    """The best order that the chosen effort finds; never refuses an empty or impossible list.

    Where more stops fit than the session wants, the least of them give way, and what is left is
    ordered again.

    "exact": refuses long lists. "quick": a fraction of a second, with a loose bound. "auto":
    exact for short lists, otherwise quick and then about `seconds` (0.4) for a better bound.
    "solver": about `seconds` (2) with OR-tools; refused where the extra `axletree[order]` is
    missing, unless the list is short. Seconds are reckoned as work, not by a clock, so that the
    same task gives the same order on every machine.
    """
    order = _as_many_as_fit(targets, session, handling, effort, seconds)
    if session.most is not None and len(order.stops) > session.most:
        return _fewer(order, targets, session, handling, session.most)
    return order


def _fewer(
    full: Order, targets: Sequence[Target], session: OrderSpan, handling: Handling, most: int
) -> Order:
    """The most valued of an order's stops in an order of their own, must-see ones before all.

    How good the order is stays what was known of the full one.
    """
    by_key = {target.key: target for target in targets}
    ranked = sorted(
        (by_key[stop.key] for stop in full.stops), key=lambda t: (not t.must, -t.value, t.key)
    )
    effort: Effort = "auto" if most <= EXACT_OBJECTS else "quick"
    order = _as_many_as_fit(ranked[:most], session, handling, effort, None)
    enough = tuple(LeftOut(t.key, Why.ENOUGH, t.must, t.show_s) for t in ranked[most:])
    places = {target.key: number for number, target in enumerate(targets)}
    left_out = sorted((*full.left_out, *order.left_out, *enough), key=lambda x: places[x.key])
    return replace(
        order, left_out=tuple(left_out), gap=full.gap, proven_best=full.proven_best,
        method=full.method,
    )  # fmt: skip


def _as_many_as_fit(
    targets: Sequence[Target],
    session: OrderSpan,
    handling: Handling,
    effort: Effort,
    seconds: float | None,
) -> Order:
    problem = problem_of(targets, session, handling)
    small = problem.objects_with_options <= EXACT_OBJECTS and len(problem.show) <= EXACT_WAYS
    if effort == "exact" and not small:
        raise AxletreeError(
            f"the exact method takes up to {EXACT_OBJECTS} objects in {EXACT_WAYS} openings; "
            f"here are {problem.objects_with_options} in {len(problem.show)}: use the solver"
        )
    if effort == "exact" or (small and effort != "quick"):
        from axletree.evening.order.exact import solve_exactly

        route = solve_exactly(problem)
        return written(targets, problem, route, route.points, "exact")
    from axletree.evening.order.quick import quick_bound, solve_quickly

    route = solve_quickly(problem)
    bound = quick_bound(problem, route)
    if effort == "quick":
        return written(targets, problem, route, bound, "quick")
    if effort == "auto":
        from axletree.evening.order.bound import bounded

        route, bound = bounded(problem, route, bound, 0.4 if seconds is None else seconds)
        return written(targets, problem, route, bound, "bounded")
    from axletree.evening.order.solver import improve

    route, bound = improve(problem, route, bound, 2.0 if seconds is None else seconds)
    return written(targets, problem, route, bound, "solver")


def written(
    targets: Sequence[Target],
    problem: OrderProblem,
    route: Route,
    bound: int,
    method: Method,
    left_out: tuple[LeftOut, ...] | None = None,
) -> Order:
    """A route as an order; the reasons for what it lacks are found unless they are given."""
    bound = max(bound, route.points)
    gap = (bound - route.points) / max(abs(bound), 1)
    return Order(
        stops=ordered_stops(targets, problem, route),
        left_out=why_left_out(targets, problem, route) if left_out is None else left_out,
        points=problem.points(route.points),
        bound_points=problem.points(bound),
        gap=gap,
        proven_best=bound == route.points
        and (method in ("exact", "given") or route.musts == problem.musts_possible),
        method=method,
    )
