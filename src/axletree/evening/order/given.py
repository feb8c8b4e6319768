"""When does each stop come, and on which side, if the person fixes the order?

Public: ``in_given_order``.

Every way (tube side and opening) to show the next object is followed on from every way that still
matters of the one before: it matters if no other is both free earlier and worth as much. An object
that no way fits after the stops before it is left out, and those behind it go on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.best import Order, written
from axletree.evening.order.candidates import Session, Wish
from axletree.evening.order.left_out import LeftOut, ended_by_what, without_a_way
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import MILLI, TICK_S, Puzzle, puzzle_of


@dataclass(frozen=True)
class _Label:
    """A partial order: its ways, the tick at which the rig is free, and what it is worth so far.

    `merit` is the points less what idle waiting costs.
    """

    ways: tuple[int, ...]
    free: int
    merit: int


def in_given_order(
    wishes: Sequence[Wish], session: Session, handling: Handling, keys: Sequence[str]
) -> Order:
    """The best times and tube sides for `keys` in just this order; keys must be wishes.

    Of the `left_out`, "not in this order" are those whose openings are over before their turn.
    The order counts as proven: it is the only one allowed, and its ways are searched completely.
    """
    by_key = {wish.key: wish for wish in wishes}
    wanted = [by_key[key] for key in keys]
    puzzle = puzzle_of(wanted, session, handling)
    # A minute of waiting is as much of a nuisance as a minute of moving.
    idle = round(handling.points_per_min * MILLI * TICK_S / 60.0)
    labels = [_Label((), 0, 0)]
    lost: list[LeftOut] = []
    for thing, wish in enumerate(wanted):
        ways = np.flatnonzero(puzzle.thing == thing).tolist()
        grown = [n for label in labels for way in ways if (n := _grown(puzzle, label, way, idle))]
        if not grown:
            lost.append(_left(wish, puzzle, bool(ways), first=not any(n.ways for n in labels)))
            continue
        labels = _that_matter(grown, idle)
    best = max(labels, key=lambda label: (label.merit, -label.free))
    route = puzzle.run(best.ways)
    assert route is not None
    return written(wanted, puzzle, route, route.points, "given", tuple(lost))


def _grown(puzzle: Puzzle, label: _Label, way: int, idle: int) -> _Label | None:
    """The partial order with one more stop, or None if that doesn't fit."""
    if label.ways:
        arrive = label.free + int(puzzle.move[label.ways[-1], way])
        nuisance = int(puzzle.nuisance[label.ways[-1], way])
    else:
        arrive, nuisance = int(puzzle.first_move[way]), int(puzzle.first_nuisance[way])
    begin = max(arrive, int(puzzle.early[way]))
    if begin > int(puzzle.late[way]):
        return None
    gain = int(puzzle.worth[way]) - int(puzzle.drag[way]) * begin - nuisance
    gain -= idle * (begin - arrive)
    return _Label((*label.ways, way), begin + int(puzzle.show[way]), label.merit + gain)


def _that_matter(labels: Sequence[_Label], idle: int) -> list[_Label]:
    """For each last way, those that no other beats, free earlier and worth as much even if it
    then waits until the other is free too."""
    kept: dict[int, list[_Label]] = {}

    def waited(label: _Label) -> int:
        return label.merit + idle * label.free

    for label in sorted(labels, key=lambda n: (n.free, -n.merit)):
        own = kept.setdefault(label.ways[-1], [])
        if all(waited(label) > waited(other) for other in own):
            own.append(label)
    return [label for own in kept.values() for label in own]


def _left(wish: Wish, puzzle: Puzzle, has_ways: bool, *, first: bool) -> LeftOut:
    if not has_ways:
        return without_a_way(wish, puzzle)
    why = ended_by_what(wish, puzzle) if first else GivenUpReason.NOT_IN_THIS_ORDER
    return LeftOut(wish.key, why, wish.must, wish.show_s)
