"""In which order are the objects shown?

Public: ``order_stops`` -> ``Order`` of ``OrderedStop`` and ``LeftOut``.

The task: from `targets`, each with openings (spans in which the object can be shown on one tube
side), choose stops and their order so that the audience sees the most. A stop lies wholly
within one opening, its queue included; moving takes time; nothing is shown during a break. What
counts, in points: the value of what is shown, less the nuisance of the moves, less `urgency` for
every hour that an object is kept waiting (so that what sets soon comes first). Must-see objects
come before any points.

Methods: `solve_exactly` (short lists: the best order, proven), `solve_quickly` (any list, a
fraction of a second), `bounded` (what no order can exceed, often the proof). Time runs in ticks of
`TICK_S`; openings are rounded inwards, what the hands do is rounded up. All methods give the same
order for the same input.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Literal

from axletree.evening.order.candidates import LeftOut, Method, Order, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import OrderProblem, Route, ordered_stops, problem_of
from axletree.evening.search.fewer import Improve
from axletree.evening.sequence.left_out import why_left_out
from axletree.kit.errors import AxletreeError

Effort = Literal["exact", "rough", "quick", "auto", "thorough"]

# What the two take of work where nobody says how long.
AUTO_S, THOROUGH_S = 0.4, 2.0
# How long a list the exact method takes on, and how many options (object and opening) in it.
EXACT_OBJECTS, EXACT_WAYS = 9, 24
_METHODS: dict[Effort, Method] = {
    "exact": "exact", "rough": "quick", "quick": "quick", "auto": "bounded",
    "thorough": "bounded",
}  # fmt: skip


def order_stops(
    targets: Sequence[Target],
    session: OrderSpan,
    handling: Handling,
    *,
    effort: Effort = "auto",
    seconds: float | None = None,
    reasons: bool = True,
) -> Order:
    """The best order that the chosen effort finds; never refuses an empty or impossible list.

    Where more stops fit than the session wants, the best of so many are found (`fewer`).

    "exact": refuses long lists. "rough": a hint of the order, for who asks again. "quick": a
    fraction of a second, with a loose bound. "auto": exact for short lists, otherwise quick and
    then about `seconds` (0.4) for a better bound. "thorough": about `seconds` (2), and a
    proof tried where it is near. Seconds are reckoned as work, not by a clock, so that the same
    task gives the same order everywhere.
    Without `reasons` nothing is said of what is left out: for whoever orders again.
    """
    problem = problem_of(targets, session, handling)
    lost = None if reasons else ()
    small = problem.objects_with_options <= EXACT_OBJECTS and len(problem.show) <= EXACT_WAYS
    if effort == "exact" and not small:
        raise AxletreeError(
            f"the exact method takes up to {EXACT_OBJECTS} objects in {EXACT_WAYS} openings; "
            f"here are {problem.objects_with_options} in {len(problem.show)}: use another effort"
        )
    if effort == "exact" or (small and effort not in ("rough", "quick")):
        from axletree.evening.search.exact import solve_exactly

        route, most = solve_exactly(problem, session.most), session.most
        return written(targets, problem, route, route.points, "exact", lost, most)
    from axletree.evening.search.knapsack import quick_bound
    from axletree.evening.search.quick import LOOK_ROUNDS, ROUNDS, solve_quickly

    if session.most is not None:
        from axletree.evening.search.fewer import solve_for_few

        few = solve_for_few(problem, session.most, _better(effort, seconds))
        if few is not None:
            method = _METHODS[effort]
            return written(targets, problem, few.route, few.bound, method, lost, session.most)
    route = solve_quickly(problem, LOOK_ROUNDS if effort == "rough" else ROUNDS)
    bound = quick_bound(problem, route)
    route, bound = _better(effort, seconds)(problem, route, bound)
    return written(targets, problem, route, bound, _METHODS[effort], lost)


def _better(effort: Effort, seconds: float | None) -> Improve:
    """How an effort makes a quick order and its bound better."""
    if effort in ("rough", "quick"):
        return lambda problem, route, bound: (route, bound)
    from axletree.evening.search.bound import bounded

    thorough = effort == "thorough"
    usual = THOROUGH_S if thorough else AUTO_S
    return partial(bounded, seconds=usual if seconds is None else seconds, thorough=thorough)


def written(
    targets: Sequence[Target],
    problem: OrderProblem,
    route: Route,
    bound: int,
    method: Method,
    left_out: tuple[LeftOut, ...] | None = None,
    most: int | None = None,
) -> Order:
    """A route as an order; the reasons for what it lacks are found unless they are given.

    No more than `most` stops were wanted (None: as many as fit).
    """
    bound = max(bound, route.points)
    gap = (bound - route.points) / max(abs(bound), 1)
    return Order(
        stops=ordered_stops(targets, problem, route),
        left_out=why_left_out(targets, problem, route, most) if left_out is None else left_out,
        points=problem.points(route.points),
        bound_points=problem.points(bound),
        gap=gap,
        proven_best=bound == route.points
        and (method in ("exact", "given") or route.musts == problem.musts_possible),
        method=method,
    )
