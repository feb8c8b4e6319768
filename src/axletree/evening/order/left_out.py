"""Why was an object left out?

Public: ``LeftOut``, ``why_left_out``, ``without_a_way``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.candidates import Wish
from axletree.evening.order.problem import TICK_S, Puzzle, Route

MOST_EXCHANGED = 3

Why = GivenUpReason


@dataclass(frozen=True)
class LeftOut:
    """One wish that got no stop.

    "never open": no opening within the session. "no longer open": what it had is over by now.
    "clouded": only the closed sky takes its opening. "session over": what is left of the
    session's hours is too short for any stop. "room too short": the longest opening within
    them, `room_s`, ends before the queue of `needed_s` does. "worth less": it would fit only
    instead of the stops `instead_of`, which together are worth more. "no time": even that
    would not make room for it. "not in this order": of an order that the person fixed, its
    openings are over before its turn.
    """

    key: str
    why: Why
    must: bool
    needed_s: float
    room_s: float = 0.0
    instead_of: tuple[str, ...] = ()


def why_left_out(wishes: Sequence[Wish], puzzle: Puzzle, route: Route) -> tuple[LeftOut, ...]:
    """A reason for every wish that is not in the route, in the order of the wishes."""
    shown = {int(puzzle.thing[way]) for way in route.ways}
    with_ways = set(puzzle.thing.tolist())
    exchanges = _cheapest_exchanges(puzzle, route, with_ways - shown)
    found = []
    for thing, wish in enumerate(wishes):
        if thing in shown:
            continue
        if thing not in with_ways:
            found.append(without_a_way(wish, puzzle))
            continue
        out = exchanges.get(thing)
        keys = tuple(wishes[puzzle.thing[route.ways[n]]].key for n in out or ())
        why: Why = Why.NO_TIME if out is None else Why.WORTH_LESS
        if out is None and not route.ways:  # the move alone takes what is left
            why = ended_by_what(wish, puzzle)
        found.append(LeftOut(wish.key, why, wish.must, wish.show_s, 0.0, keys))
    return tuple(found)


def without_a_way(wish: Wish, puzzle: Puzzle) -> LeftOut:
    """Why no opening of a wish holds its stop between now and the session's end."""
    room = longest_room_s(wish, puzzle)
    why: Why = Why.ROOM_TOO_SHORT if room > 0 else Why.NEVER_OPEN
    if wish.openings and puzzle.ticks * TICK_S < wish.show_s:
        why = Why.SESSION_OVER
    elif room <= 0 and any(o.end_s <= puzzle.origin_s for o in wish.openings):
        why = Why.NO_LONGER_OPEN
    return LeftOut(
        wish.key, why, wish.must, wish.show_s, room if why == Why.ROOM_TOO_SHORT else 0.0
    )


def ended_by_what(wish: Wish, puzzle: Puzzle) -> Why:
    """What comes before even a first stop with it: the session's end, or its opening's."""
    end = puzzle.clock_s(puzzle.ticks, opens=True)
    lasts = any(o.end_s >= end - TICK_S for o in wish.openings)
    return Why.SESSION_OVER if lasts else Why.NO_LONGER_OPEN


def longest_room_s(wish: Wish, puzzle: Puzzle) -> float:
    """The longest time for which it is free within the session, breaks left aside."""
    low = puzzle.origin_s
    high = puzzle.clock_s(puzzle.ticks, opens=True)
    spans = [min(o.end_s, high) - max(o.start_s, low) for o in wish.openings]
    return max([0.0, *spans])


def _cheapest_exchanges(
    puzzle: Puzzle, route: Route, things: set[int]
) -> dict[int, tuple[int, ...]]:
    """For each object: places of the fewest neighbouring stops that would have to make room.

    At most `MOST_EXCHANGED`; of equally many, those that lose the fewest points. Objects that
    not even those would make room for are missing.
    """
    from axletree.evening.order.quick import Mender

    found: dict[int, tuple[int, ...]] = {}
    if not things:
        return found
    mender, stops = Mender(puzzle), list(route.ways)
    for count in range(min(MOST_EXCHANGED, len(stops)) + 1):
        best: dict[int, tuple[float, tuple[int, ...]]] = {}
        for at in range(len(stops) - count + 1 if count else 1):
            rest = stops[:at] + stops[at + count :] if count else stops
            kept = puzzle.run(rest)
            if kept is None:  # a shorter way round can take longer: moves know no triangle
                continue
            left = kept.points + kept.musts * puzzle.must_points
            gain = mender.insertions(rest)[0].max(axis=0)
            for way in np.flatnonzero(gain > -np.inf).tolist():
                thing, points = int(puzzle.thing[way]), left + float(gain[way])
                wanted = thing in things and thing not in found
                if wanted and (thing not in best or points > best[thing][0]):
                    best[thing] = (points, tuple(range(at, at + count)))
        found |= {thing: places for thing, (_, places) in best.items()}
    return found
