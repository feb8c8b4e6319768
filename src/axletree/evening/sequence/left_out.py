"""Why was an object left out?

Public: ``why_left_out``, ``without_an_option``.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.candidates import LeftOut, Target
from axletree.evening.order.problem import TICK_S, OrderProblem, Route

MOST_EXCHANGED = 3

Why = GivenUpReason


def why_left_out(
    targets: Sequence[Target], problem: OrderProblem, route: Route, most: int | None = None
) -> tuple[LeftOut, ...]:
    """A reason for every target that is not in the route, in the order of the targets.

    What would fit besides as many stops as are wanted (`most`) is just beyond them.
    """
    full = most is not None and len(route.options) >= most
    shown = {int(problem.target[option]) for option in route.options}
    with_options = set(problem.target.tolist())
    exchanges = _cheapest_exchanges(problem, route, with_options - shown)
    found = []
    for number, target in enumerate(targets):
        if number in shown:
            continue
        if number not in with_options:
            found.append(without_an_option(target, problem))
            continue
        out = exchanges.get(number)
        keys = tuple(targets[problem.target[route.options[n]]].key for n in out or ())
        why: Why = Why.NO_TIME if out is None else Why.WORTH_LESS
        if full and out == ():
            why = Why.ENOUGH
        if out is None and not route.options:  # the move alone takes what is left
            why = ended_by_what(target, problem)
        found.append(LeftOut(target.key, why, target.must, target.show_s, 0.0, keys))
    return tuple(found)


def without_an_option(target: Target, problem: OrderProblem) -> LeftOut:
    """Why no opening of a target holds its stop between now and the session's end."""
    room = longest_room_s(target, problem)
    why: Why = Why.ROOM_TOO_SHORT if room > 0 else Why.NEVER_OPEN
    if target.openings and problem.ticks * TICK_S < target.show_s:
        why = Why.SESSION_OVER
    elif room <= 0 and any(o.end_s <= problem.origin_s for o in target.openings):
        why = Why.NO_LONGER_OPEN
    return LeftOut(
        target.key, why, target.must, target.show_s, room if why == Why.ROOM_TOO_SHORT else 0.0
    )


def ended_by_what(target: Target, problem: OrderProblem) -> Why:
    """What comes before even a first stop with it: the session's end, or its opening's."""
    end = problem.clock_s(problem.ticks, opens=True)
    lasts = any(o.end_s >= end - TICK_S for o in target.openings)
    return Why.SESSION_OVER if lasts else Why.NO_LONGER_OPEN


def longest_room_s(target: Target, problem: OrderProblem) -> float:
    """The longest time for which it is free within the session, breaks left aside."""
    low = problem.origin_s
    high = problem.clock_s(problem.ticks, opens=True)
    spans = [min(o.end_s, high) - max(o.start_s, low) for o in target.openings]
    return max([0.0, *spans])


def _cheapest_exchanges(
    problem: OrderProblem, route: Route, numbers: set[int]
) -> dict[int, tuple[int, ...]]:
    """For each object: places of the fewest neighbouring stops that would have to make room.

    At most `MOST_EXCHANGED`; of equally many, those that lose the fewest points. Objects that
    not even those would make room for are missing.
    """
    from axletree.evening.search.quick import Mender

    found: dict[int, tuple[int, ...]] = {}
    if not numbers:
        return found
    mender, stops = Mender(problem), list(route.options)
    for count in range(min(MOST_EXCHANGED, len(stops)) + 1):
        best: dict[int, tuple[float, tuple[int, ...]]] = {}
        for at in range(len(stops) - count + 1 if count else 1):
            rest = stops[:at] + stops[at + count :] if count else stops
            kept = problem.run(rest)
            if kept is None:  # a shorter way round can take longer: moves know no triangle
                continue
            left = kept.points + kept.musts * problem.must_points
            gain = mender.insertions(rest)[0].max(axis=0)
            for option in np.flatnonzero(gain > -np.inf).tolist():
                number, points = int(problem.target[option]), left + float(gain[option])
                wanted = number in numbers and number not in found
                if wanted and (number not in best or points > best[number][0]):
                    best[number] = (points, tuple(range(at, at + count)))
        found |= {number: places for number, (_, places) in best.items()}
    return found
