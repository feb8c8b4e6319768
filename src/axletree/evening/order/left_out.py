"""Why was an object left out?

Public: ``LeftOut``, ``why_left_out``, ``without_a_way``, ``left_out_words``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from axletree.evening.order.candidates import Wish
from axletree.evening.order.problem import TICK_S, Puzzle, Route

MOST_EXCHANGED = 3

Why = Literal[
    "never open", "no longer open", "clouded", "session over", "room too short", "worth less",
    "no time", "not in this order",
]  # fmt: skip


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
        why: Why = "no time" if out is None else "worth less"
        if out is None and not route.ways:  # the move alone takes what is left
            why = ended_by_what(wish, puzzle)
        found.append(LeftOut(wish.key, why, wish.must, wish.show_s, 0.0, keys))
    return tuple(found)


def without_a_way(wish: Wish, puzzle: Puzzle) -> LeftOut:
    """Why no opening of a wish holds its stop between now and the session's end."""
    room = longest_room_s(wish, puzzle)
    why: Why = "room too short" if room > 0 else "never open"
    if wish.openings and puzzle.ticks * TICK_S < wish.show_s:
        why = "session over"
    elif room <= 0 and any(o.end_s <= puzzle.origin_s for o in wish.openings):
        why = "no longer open"
    return LeftOut(wish.key, why, wish.must, wish.show_s, room if why == "room too short" else 0.0)


def ended_by_what(wish: Wish, puzzle: Puzzle) -> Why:
    """What comes before even a first stop with it: the session's end, or its opening's."""
    end = puzzle.clock_s(puzzle.ticks, opens=True)
    lasts = any(o.end_s >= end - TICK_S for o in wish.openings)
    return "session over" if lasts else "no longer open"


def left_out_words(left: LeftOut, name_of: Callable[[str], str]) -> str:
    """The reason as a sentence; `name_of` turns a key into the name people know."""
    queue = f"{left.needed_s / 60:.0f} min" if left.needed_s >= 90 else f"{left.needed_s:.0f} s"
    promise = "promised, but it can't be kept: " if left.must else ""
    if left.why == "never open":
        return f"{promise}too low, too faint or out of the mount's reach all the time"
    if left.why == "no longer open":
        return f"{promise}by now too low, too faint or out of the mount's reach"
    if left.why == "clouded":
        return f"{promise}clouds hide it"
    if left.why == "session over":
        return f"{promise}the session's hours end too soon for it (a stop takes {queue})"
    if left.why == "room too short":
        room = int(left.room_s // 60)
        return f"{promise}free for {room} min at most, and the stop takes {queue}"
    if left.why == "worth less":
        if not left.instead_of:
            return f"{promise}it would fit, but the moves to it and back cost more than it brings"
        names = " and ".join(name_of(key) for key in left.instead_of)
        ranks = "ranks" if len(left.instead_of) == 1 else "rank"
        return f"{promise}it would fit only instead of {names}, which {ranks} higher"
    if left.why == "not in this order":
        return f"{promise}in this order its turn comes too late: show it earlier"
    return f"{promise}no time left beside stops that rank higher (a stop takes {queue})"


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
