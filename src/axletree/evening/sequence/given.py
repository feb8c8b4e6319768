"""When does each stop come, and on which side, if the person fixes the order?

Public: ``in_given_order``.

Every option (tube side and opening) to show the next object is followed on from every option that
still matters of the one before: it matters if no other is both free earlier and worth as much. An
object that no option fits after the stops before it is left out, and those behind it go on.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.candidates import LeftOut, Order, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import OrderProblem, problem_of, waiting_points
from axletree.evening.sequence.best import written
from axletree.evening.sequence.left_out import ended_by_what, without_an_option
from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class _Label:
    """A partial order: its options, the tick at which the rig is free, and what it is worth so far.

    `merit` is the points less what idle waiting costs.
    """

    options: tuple[int, ...]
    free: int
    merit: int


def in_given_order(
    targets: Sequence[Target], session: OrderSpan, handling: Handling, keys: Sequence[str]
) -> Order:
    """The best times and tube sides for `keys` in just this order; keys must be targets.

    Of the `left_out`, "not in this order" are those whose openings are over before their turn.
    The order counts as proven: it is the only one allowed, and its options are searched completely.
    """
    by_key = {target.key: target for target in targets}
    wanted = [by_key[key] for key in keys]
    problem = problem_of(wanted, session, handling)
    # A minute of waiting is as much of a nuisance as a minute of moving.
    idle = waiting_points(handling)
    labels = [_Label((), 0, 0)]
    lost: list[LeftOut] = []
    for number, target in enumerate(wanted):
        options = np.flatnonzero(problem.target == number).tolist()
        grown = [
            n
            for label in labels
            for option in options
            if (n := _grown(problem, label, option, idle))
        ]
        if not grown:
            lost.append(
                _left(target, problem, bool(options), first=not any(n.options for n in labels))
            )
            continue
        labels = _that_matter(grown, idle)
    best = max(labels, key=lambda label: (label.merit, -label.free))
    route = problem.run(best.options)
    assert route is not None
    return written(wanted, problem, route, route.points, "given", tuple(lost))


def _grown(problem: OrderProblem, label: _Label, option: int, idle: int) -> _Label | None:
    """The partial order with one more stop, or None if that doesn't fit."""
    if label.options:
        arrive = label.free + int(problem.move[label.options[-1], option])
        nuisance = int(problem.nuisance[label.options[-1], option])
    else:
        arrive, nuisance = int(problem.first_move[option]), int(problem.first_nuisance[option])
    begin = max(arrive, int(problem.early[option]))
    if begin > int(problem.late[option]):
        return None
    gain = int(problem.worth[option]) - int(problem.delay_cost[option]) * begin - nuisance
    gain -= idle * (begin - arrive)
    return _Label((*label.options, option), begin + int(problem.show[option]), label.merit + gain)


def _that_matter(labels: Sequence[_Label], idle: int) -> list[_Label]:
    """For each last option, those that no other beats, free earlier and worth as much even if it
    then waits until the other is free too."""
    kept: dict[int, list[_Label]] = {}

    def waited(label: _Label) -> int:
        return label.merit + idle * label.free

    for label in sorted(labels, key=lambda n: (n.free, -n.merit)):
        own = kept.setdefault(label.options[-1], [])
        if all(waited(label) > waited(other) for other in own):
            own.append(label)
    return [label for own in kept.values() for label in own]


def _left(target: Target, problem: OrderProblem, has_ways: bool, *, first: bool) -> LeftOut:
    if not has_ways:
        return without_an_option(target, problem)
    why = ended_by_what(target, problem) if first else GivenUpReason.NOT_IN_THIS_ORDER
    return LeftOut(target.key, why, target.must, target.show_s)
