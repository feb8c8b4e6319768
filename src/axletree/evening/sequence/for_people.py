"""How is the best order by points made one that people like: fewer long waits, a splendid end?

Public: ``for_people``, ``LONG_WAIT_S``, ``with_less_waiting``, ``with_splendid_end``,
``wait_seconds``.

The points of an order don't ask whether people stand idle before a stop that waits for its minute,
nor with what they go home. Where a wait grows long, the stops are moved, exchanged and filled in as
long as that saves more nuisance than it costs in points. Nobody minds a wait that isn't long; of a
longer one each minute beyond that is as much of a nuisance as a minute of moving, and the more the
longer it lasts: two of a quarter of an hour are better than one of half an hour. Then a splendid
stop comes last, if that costs no more than `END_POINTS`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.candidates import LeftOut, Order, OrderedStop, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import (
    MILLI,
    TICK_S,
    OrderProblem,
    Route,
    ordered_stops,
    problem_of,
    waiting_points,
)
from axletree.evening.search.quick import Mender

# From here on people ask what they are waiting for (common practice, no source).
LONG_WAIT_S = 600.0
# What it is worth to end on something splendid instead of a smudge (ours).
END_POINTS = 12.0
_MOST_ROUNDS = 12
_MOVED_FREELY = 12
_MOST_EXCHANGES = 4


def wait_seconds(stop: OrderedStop, span: OrderSpan) -> float:
    """For how long a stop waits, found and ready, before it begins; breaks left out."""
    within = (
        max(0.0, min(high, stop.start_s) - max(low, stop.arrive_s)) for low, high in span.breaks
    )
    return max(0.0, stop.start_s - stop.arrive_s - sum(within))


def for_people(
    order: Order, targets: Sequence[Target], span: OrderSpan, handling: Handling
) -> Order:
    """The order with fewer long waits and, where that is cheap, a splendid last stop."""
    calm = with_less_waiting(order, targets, span, handling)
    return with_splendid_end(calm, targets, span, handling)


def with_splendid_end(
    order: Order, targets: Sequence[Target], span: OrderSpan, handling: Handling
) -> Order:
    """The order, or the same stops with a splendid one last, waits counted in.

    No must-see object is lost for it.
    """
    splendid = {k for k, target in enumerate(targets) if target.splendid}
    ends = {target.key for target in targets if target.splendid}
    if (
        not order.stops
        or order.stops[-1].key in ends
        or ends.isdisjoint(s.key for s in order.stops)
    ):
        return order
    problem = problem_of(targets, span, handling)
    first, price = problem.run(_options_of(order, targets, problem)), waiting_points(handling)
    if first is None:
        return order
    endings = _endings(first, problem, splendid)
    best = max(endings, key=lambda r: _merit(r, price), default=first)
    musts, points = _merit(first, price)
    if best is first or _merit(best, price) < (musts, points - round(END_POINTS * MILLI)):
        return order
    return _written(order, best, first, targets, problem)


def _endings(route: Route, problem: OrderProblem, splendid: set[int]) -> Iterator[Route]:
    """Orders of the same stops with a splendid one last; the one that was last may come sooner."""
    shown = {int(problem.target[k]) for k in route.options}
    for end in np.flatnonzero(np.isin(problem.target, list(splendid & shown))).tolist():
        rest = [k for k in route.options if problem.target[k] != problem.target[end]]
        yield from _runs(problem, [*rest, end])
        if not rest:
            continue
        left, last = rest[:-1], problem.target[rest[-1]]
        for other in np.flatnonzero(problem.target == last).tolist():
            for place in range(len(left) + 1):
                yield from _runs(problem, [*left[:place], other, *left[place:], end])


def with_less_waiting(
    order: Order, targets: Sequence[Target], span: OrderSpan, handling: Handling
) -> Order:
    """The order, or one with fewer long waits that is worth more with their nuisance counted in.

    As many must-see objects stay in it, and no more stops than the span wants.
    """
    if all(wait_seconds(stop, span) < LONG_WAIT_S for stop in order.stops):
        return order
    problem = problem_of(targets, span, handling)
    first, price = problem.run(_options_of(order, targets, problem)), waiting_points(handling)
    if first is None:
        return order
    best = first
    for _ in range(_MOST_ROUNDS):
        better = max(
            _neighbours(best, problem, span.most), key=lambda r: _merit(r, price), default=best
        )
        if _merit(better, price) <= _merit(best, price):
            break
        best = better
    if best.options == first.options:
        return order
    return _written(order, best, first, targets, problem)


def _merit(route: Route, price: int) -> tuple[int, int]:
    long = round(LONG_WAIT_S / TICK_S)
    waited = 0
    for there, begin in zip(route.arrive, route.start, strict=True):
        beyond = max(0, begin - there - long)
        waited += beyond + beyond * beyond // (2 * long)
    return route.musts, route.points - price * waited


def _options_of(order: Order, targets: Sequence[Target], problem: OrderProblem) -> tuple[int, ...]:
    """The option of each stop: of those that hold it, the one that is worth most."""
    number = {target.key: k for k, target in enumerate(targets)}
    found = []
    for stop in order.stops:
        own = [
            k for k in np.flatnonzero(problem.target == number[stop.key]).tolist()
            if problem.side[k] == stop.side
            and problem.clock_s(int(problem.early[k]), opens=True) <= stop.start_s
            and stop.start_s <= problem.clock_s(int(problem.late[k]), opens=True)
        ]  # fmt: skip
        found.append(max(own, key=lambda k: int(problem.worth[k])))
    return tuple(found)


def _neighbours(route: Route, problem: OrderProblem, most: int | None) -> Iterator[Route]:
    """Orders with one stop moved, or with another one in a wait, new or for one that there is."""
    options = list(route.options)
    of_target = {
        number: np.flatnonzero(problem.target == number).tolist()
        for number in set(problem.target.tolist())
    }
    shown = {int(problem.target[k]) for k in options}
    waits = [
        k for k, (there, begin) in enumerate(zip(route.arrive, route.start, strict=True))
        if (begin - there) * TICK_S >= LONG_WAIT_S
    ]  # fmt: skip
    for at, option in enumerate(options):
        rest = options[:at] + options[at + 1 :]
        for place in range(len(rest) + 1):
            # Of a long order only what waits is moved, or what comes into a wait: the rest is good.
            if len(options) > _MOVED_FREELY and not {at, place, place + (place >= at)} & {*waits}:
                continue
            for other in of_target[int(problem.target[option])]:
                yield from _runs(problem, [*rest[:place], other, *rest[place:]])
    new = [k for number, own in of_target.items() if number not in shown for k in own]
    full = most is not None and len(options) >= most
    for place in waits:
        for other in new:
            grown = [*options[:place], other, *options[place:]]
            fits = next(_runs(problem, grown), None)
            if not full:
                yield from () if fits is None else (fits,)
            elif fits is not None:
                for gone in range(len(grown)):
                    if gone != place and not problem.must[grown[gone]]:
                        yield from _runs(problem, grown[:gone] + grown[gone + 1 :])
    yield from _exchanges(options, problem)


def _exchanges(options: Sequence[int], problem: OrderProblem) -> Iterator[Route]:
    """Orders with one stop given up for another that is worth more, wherever that fits best."""
    mender = Mender(problem)
    for at, option in enumerate(options):
        if problem.must[option]:
            continue
        rest = [*options[:at], *options[at + 1 :]]
        gain = mender.insertions(rest)[0]
        for choice in np.argsort(-gain, axis=None)[:_MOST_EXCHANGES].tolist():
            place, other = divmod(choice, gain.shape[1])
            if gain[place, other] == -np.inf:
                break
            yield from _runs(problem, [*rest[:place], other, *rest[place:]])


def _runs(problem: OrderProblem, options: Sequence[int]) -> Iterator[Route]:
    route = problem.run(options)
    if route is not None:
        yield route


def _written(
    order: Order, route: Route, before: Route, targets: Sequence[Target], problem: OrderProblem
) -> Order:
    """The order with this route; what it gave up for one object gives way to it."""
    stops = ordered_stops(targets, problem, route)
    keys = {stop.key for stop in stops}
    old = {stop.key for stop in order.stops}
    came = tuple(stop.key for stop in stops if stop.key not in old)
    gone = tuple(
        LeftOut(t.key, GivenUpReason.WORTH_LESS, t.must, t.show_s, 0.0, came)
        for t in targets if t.key in old - keys
    )  # fmt: skip
    place = {target.key: k for k, target in enumerate(targets)}
    left_out = [x for x in (*order.left_out, *gone) if x.key not in keys]
    lost = (before.points - route.points) / max(abs(before.points), 1)
    return replace(
        order,
        stops=stops,
        left_out=tuple(sorted(left_out, key=lambda x: place[x.key])),
        points=problem.points(route.points),
        gap=max(0.0, order.gap + lost),
        proven_best=False,
    )
