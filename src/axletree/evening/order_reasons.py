"""Why was an object left out?

Public: ``LeftOut``, ``why_left_out``, ``left_out_words``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from axletree.evening.puzzle import Puzzle, Route

if TYPE_CHECKING:
    from axletree.evening.order import Wish

Why = Literal["never open", "room too short", "worth less", "no time"]


@dataclass(frozen=True)
class LeftOut:
    """One wish that got no stop.

    "never open": no opening within the session. "room too short": the longest opening within
    it, `room_s`, ends before the queue of `needed_s` does. "worth less": it would fit only
    instead of the stops `instead_of`, which together are worth more. "no time": even that
    would not make room for it.
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
    found = []
    for thing, wish in enumerate(wishes):
        if thing in shown:
            continue
        if thing not in with_ways:
            room = _longest_room_s(wish, puzzle)
            why: Why = "room too short" if room > 0 else "never open"
            found.append(LeftOut(wish.key, why, wish.must, wish.show_s, room))
            continue
        out = _cheapest_exchange(puzzle, route, thing)
        keys = tuple(wishes[puzzle.thing[route.ways[n]]].key for n in out or ())
        why = "no time" if out is None else "worth less"
        found.append(LeftOut(wish.key, why, wish.must, wish.show_s, 0.0, keys))
    return tuple(found)


def left_out_words(left: LeftOut, name_of: Callable[[str], str]) -> str:
    """The reason as a sentence; `name_of` turns a key into the name people know."""
    queue = f"{left.needed_s / 60:.0f} min" if left.needed_s >= 90 else f"{left.needed_s:.0f} s"
    promise = "promised, but it can't be kept: " if left.must else ""
    if left.why == "never open":
        return f"{promise}not free to be shown at any time of the session"
    if left.why == "room too short":
        room = int(left.room_s // 60)
        return f"{promise}free for {room} min at most, and the queue takes {queue}"
    if left.why == "worth less":
        if not left.instead_of:
            return f"{promise}it would fit, but the moves to it and back cost more than it brings"
        names = " and ".join(name_of(key) for key in left.instead_of)
        return f"{promise}it would fit only instead of {names}"
    return f"{promise}no time left beside stops that rank higher (the queue takes {queue})"


def _longest_room_s(wish: Wish, puzzle: Puzzle) -> float:
    """The longest time for which it is free within the session, breaks left aside."""
    low = puzzle.origin_s
    high = puzzle.clock_s(puzzle.ticks, opens=True)
    spans = [min(o.end_s, high) - max(o.start_s, low) for o in wish.openings]
    return max([0.0, *spans])


def _cheapest_exchange(puzzle: Puzzle, route: Route, thing: int) -> tuple[int, ...] | None:
    """Places of the fewest neighbouring stops (at most 3) that would have to make room.

    Of equally many, those that lose the fewest points. None: not even three make room.
    """
    ways = [k for k in range(len(puzzle.thing)) if puzzle.thing[k] == thing]
    stops = list(route.ways)
    for count in range(min(3, len(stops)) + 1):
        best: tuple[int, tuple[int, ...]] | None = None
        for at in range(len(stops) - count + 1):
            rest = stops[:at] + stops[at + count :]
            for way in ways:
                trial = puzzle.run([*stops[:at], way, *stops[at + count :]])
                if trial is None and count < 2:
                    trial = _anywhere(puzzle, rest, way)
                if trial is not None and (best is None or trial.points > best[0]):
                    best = (trial.points, tuple(range(at, at + count)))
        if best is not None:
            return best[1]
    return None


def _anywhere(puzzle: Puzzle, rest: list[int], way: int) -> Route | None:
    """The best route with this way put in at any place, if one fits."""
    trials = [puzzle.run([*rest[:n], way, *rest[n:]]) for n in range(len(rest) + 1)]
    return max((t for t in trials if t is not None), key=lambda t: t.points, default=None)
