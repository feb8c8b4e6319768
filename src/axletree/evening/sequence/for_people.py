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
from axletree.evening.search.trials import WaitPrice, merits_of

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
    first, price = problem.run(_options_of(order, targets, problem)), _price(handling)
    if first is None:
        return order
    best = _best_of([*_endings(first, problem, splendid)], problem, price)
    musts, points = _merit(first, problem, price)
    if best is None or _merit(best, problem, price) < (musts, points - round(END_POINTS * MILLI)):
        return order
    return _written(order, best, first, targets, problem)


def _endings(route: Route, problem: OrderProblem, splendid: set[int]) -> Iterator[list[int]]:
    """Orders of the same stops with a splendid one last; the one that was last may come sooner."""
    shown = {int(problem.target[k]) for k in route.options}
    for end in np.flatnonzero(np.isin(problem.target, list(splendid & shown))).tolist():
        rest = [k for k in route.options if problem.target[k] != problem.target[end]]
        yield [*rest, end]
        if not rest:
            continue
        left, last = rest[:-1], problem.target[rest[-1]]
        for other in np.flatnonzero(problem.target == last).tolist():
            for place in range(len(left) + 1):
                yield [*left[:place], other, *left[place:], end]


def with_less_waiting(
    order: Order, targets: Sequence[Target], span: OrderSpan, handling: Handling
) -> Order:
    """The order, or one with fewer long waits that is worth more with their nuisance counted in.

    As many must-see objects stay in it, and no more stops than the span wants.
    """
    if all(wait_seconds(stop, span) < LONG_WAIT_S for stop in order.stops):
        return order
    problem = problem_of(targets, span, handling)
    first, price = problem.run(_options_of(order, targets, problem)), _price(handling)
    if first is None:
        return order
    best, mender = first, Mender(problem)
    for _ in range(_MOST_ROUNDS):
        near = [
            *_neighbours(best, problem, span.most, price),
            *_exchanges(list(best.options), mender),
        ]
        better = _best_of(near, problem, price)
        if better is None or _merit(better, problem, price) <= _merit(best, problem, price):
            break
        best = better
    if best.options == first.options:
        return order
    return _written(order, best, first, targets, problem)


def _price(handling: Handling) -> WaitPrice:
    return WaitPrice(waiting_points(handling), round(LONG_WAIT_S / TICK_S))


def _merit(route: Route, problem: OrderProblem, price: WaitPrice) -> tuple[int, int]:
    found = merits_of(problem, [route.options], price)
    return int(found.musts[0]), int(found.points[0])


def _best_of(
    orders: Sequence[Sequence[int]], problem: OrderProblem, price: WaitPrice
) -> Route | None:
    """The best of some orders of options; None where none fits."""
    best = merits_of(problem, orders, price).best()
    return None if best is None else problem.run(orders[best])


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


def _neighbours(
    route: Route, problem: OrderProblem, most: int | None, price: WaitPrice
) -> list[list[int]]:
    """Orders with one stop moved, or with another one in a wait, new or for one that there is."""
    options, found = list(route.options), []
    of_target = {
        number: np.flatnonzero(problem.target == number).tolist()
        for number in set(problem.target.tolist())
    }
    shown = {int(problem.target[k]) for k in options}
    waits = [
        k for k, (there, begin) in enumerate(zip(route.arrive, route.start, strict=True))
        if (begin - there) * TICK_S >= LONG_WAIT_S
    ]  # fmt: skip
    waiting = set(waits)
    for at, option in enumerate(options):
        rest = options[:at] + options[at + 1 :]
        freely = len(options) <= _MOVED_FREELY or at in waiting
        for place in range(len(rest) + 1):
            # Of a long order only what waits is moved, or what comes into a wait: the rest is good.
            if not (freely or place in waiting or place + (place >= at) in waiting):
                continue
            for other in of_target[int(problem.target[option])]:
                found.append([*rest[:place], other, *rest[place:]])
    new = [k for number, own in of_target.items() if number not in shown for k in own]
    grown = [[*options[:place], other, *options[place:]] for place in waits for other in new]
    if most is None or len(options) < most:
        found += grown
    else:
        places = [place for place in waits for _ in new]
        for at in np.flatnonzero(merits_of(problem, grown, price).fits).tolist():
            larger, place = grown[at], places[at]
            for gone in range(len(larger)):
                if gone != place and not problem.must[larger[gone]]:
                    found.append(larger[:gone] + larger[gone + 1 :])
    return found


def _exchanges(options: list[int], mender: Mender) -> Iterator[list[int]]:
    """Orders with one stop given up for another that is worth more, wherever that fits best."""
    for at, option in enumerate(options):
        if mender.problem.must[option]:
            continue
        rest = [*options[:at], *options[at + 1 :]]
        gain = mender.insertions(rest)[0]
        loss = -gain.ravel()
        few = min(_MOST_EXCHANGES, len(loss))
        choices = np.argpartition(loss, few - 1)[:few]
        for choice in choices[np.lexsort((choices, loss[choices]))].tolist():
            place, other = divmod(choice, gain.shape[1])
            if gain[place, other] == -np.inf:
                break
            yield [*rest[:place], other, *rest[place:]]


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
