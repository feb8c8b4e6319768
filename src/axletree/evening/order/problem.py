"""How do targets, openings and breaks become whole numbers that a solver can turn over?

Public: ``OrderProblem``, ``problem_of``, ``waiting_points``, ``Route``, ``ordered_stops``.

An *option* is one way to show one object: a tube side and a span of time. Time runs in ticks of
`TICK_S` from the session's start with the breaks cut out (moving may go on around a break, a
show may not straddle one). Points are thousandths. With the breaks cut out and everything whole,
every method works on the same few arrays.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from axletree.evening.order.candidates import OrderedStop, OrderSpan, Target
from axletree.evening.order.moving import Handling, Side, moving
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Ints

TICK_S = 15.0
MILLI = 1000
LONGEST_S = 40 * 3600.0


@dataclass(frozen=True)
class Route:
    """Ways in their order, with ticks of arrival and start, the points and the musts in it."""

    options: tuple[int, ...]
    arrive: tuple[int, ...]
    start: tuple[int, ...]
    points: int
    musts: int

    @property
    def rank(self) -> tuple[int, int]:
        """What makes one route better than another: musts first, then points."""
        return self.musts, self.points


# Compared as the thing itself, so that what was worked out for it can be remembered.
@dataclass(frozen=True, eq=False)
class OrderProblem:
    """The arrays. One entry an option, unless said otherwise; `move`, `nuisance`: (option, option).

    An option may start within `early`..`late`, lasts `show`, is worth `worth` less `delay_cost` a
    tick. `target` numbers the object that it shows.
    """

    target: Ints
    side: tuple[Side, ...]
    early: Ints
    late: Ints
    show: Ints
    worth: Ints
    delay_cost: Ints
    must: NDArray[np.bool_]
    move: Ints
    nuisance: Ints
    first_move: Ints
    first_nuisance: Ints
    room_end_s: NDArray[np.float64]
    objects: int
    ticks: int
    origin_s: float
    pauses: tuple[tuple[int, int], ...]  # (tick at which it begins, its ticks), breaks cut out

    @property
    def objects_with_options(self) -> int:
        """How many objects can be shown at all."""
        return len(set(self.target.tolist()))

    @cached_property
    def must_points(self) -> int:
        """More than any order can win or lose by points: one must-see object's weight."""
        best = np.zeros(max(self.objects, 1), dtype=np.int64)
        np.maximum.at(best, self.target, np.maximum(self.worth, 0))
        worst_move = int(self.nuisance.max(initial=0)) + int(self.first_nuisance.max(initial=0))
        worst_delay = int(self.delay_cost.max(initial=0)) * self.ticks
        return int(best.sum()) + self.objects * (worst_move + worst_delay) + 1

    @cached_property
    def ranked_worth(self) -> Ints:
        """`worth` with the weight of the must-see objects in it."""
        return self.worth + self.must * self.must_points

    @property
    def musts_possible(self) -> int:
        """How many must-see objects can be shown at all, each taken alone."""
        return len(set(self.target[self.must].tolist()))

    def travel_ticks(self, options: Sequence[int], at: int) -> int:
        """Ticks of the move that leads to the stop at this place of the route."""
        return int(
            self.first_move[options[at]] if at == 0 else self.move[options[at - 1], options[at]]
        )

    @cached_property
    def _plain(self) -> tuple[list[list[int]], list[list[int]], list[tuple[int, ...]]]:
        """Moves, nuisances, and per option what else `run` asks for: single numbers are read from
        lists in a tenth of the time."""
        columns = (self.first_move, self.first_nuisance, self.early, self.late, self.worth,
                   self.delay_cost, self.show, self.must)  # fmt: skip
        each = list(zip(*(column.tolist() for column in columns), strict=True))
        return self.move.tolist(), self.nuisance.tolist(), each

    def run(self, options: Sequence[int]) -> Route | None:
        """The route through these options, each started as early as it can; None: does not fit."""
        move, nuisance, each = self._plain
        arrive, start, points, time, before, musts = [], [], 0, 0, -1, 0
        for option in options:
            first_move, first_nuisance, early, late, worth, delay_cost, show, must = each[option]
            if before < 0:
                time += first_move
                points -= first_nuisance
            else:
                time += move[before][option]
                points -= nuisance[before][option]
            begin = time if time > early else early
            if begin > late:
                return None
            arrive.append(time)
            start.append(begin)
            points += worth - delay_cost * begin
            musts += must
            time, before = begin + show, option
        return Route(tuple(options), tuple(arrive), tuple(start), points, musts)

    def clock_s(self, tick: int, *, opens: bool) -> float:
        """Seconds from the evening's zero; a tick at a break lies behind it if `opens`."""
        later = sum(length for at, length in self.pauses if at < tick or (opens and at == tick))
        return self.origin_s + (tick + later) * TICK_S

    @staticmethod
    def points(milli: int) -> float:
        """Points from thousandths."""
        return milli / MILLI


def waiting_points(handling: Handling) -> int:
    """Thousandths of points that a tick of waiting takes: as many as a tick of moving."""
    return round(handling.points_per_min * MILLI * TICK_S / 60.0)


def problem_of(targets: Sequence[Target], session: OrderSpan, handling: Handling) -> OrderProblem:
    """The arrays for this evening. Refuses twice the same key, and times that are no times.

    A list that was asked for just before is given as the same problem again: a plan orders one in a
    hurry, then at leisure, then for people.
    """
    return _problem_of(tuple(targets), session, handling)


@lru_cache(maxsize=4)
def _problem_of(
    targets: tuple[Target, ...], session: OrderSpan, handling: Handling
) -> OrderProblem:
    _check(targets, session)
    total, pauses = _pauses(session)
    rows: list[tuple[int, Side, int, int, int, int, int, float]] = []
    for number, target in enumerate(targets):
        show = max(1, math.ceil(target.show_s / TICK_S - 1e-9))
        delay_cost = round(target.urgency_points_per_h * MILLI * TICK_S / 3600.0)
        for opening in target.openings:
            worth = round(handling.net_points(target.value + opening.value_change) * MILLI)
            first = max(0, math.ceil((opening.start_s - session.start_s) / TICK_S - 1e-9))
            last = math.floor((opening.end_s - session.start_s) / TICK_S + 1e-9)
            for low, high, cut in _pieces(first, min(last, total), pauses):
                if high - low >= show:
                    rows.append(
                        (number, opening.side, low - cut, high - cut - show, show, worth,
                         delay_cost, opening.end_s)
                    )  # fmt: skip
    columns = list(zip(*rows, strict=True)) if rows else [()] * 8
    target_of = np.array(columns[0], dtype=np.int64)
    poses = [targets[row[0]].pose(row[1]) for row in rows]
    seconds, nuisance = moving(poses, poses, handling, north=session.north)
    first_s = np.zeros((1, len(rows)))
    first_points = np.zeros((1, len(rows)))
    if session.start_pose is not None:
        first_s, first_points = moving([session.start_pose], poses, handling, north=session.north)
    numbers = [np.array(column, dtype=np.int64) for column in columns[2:7]]
    return OrderProblem(
        target=target_of,
        side=tuple(columns[1]),
        early=numbers[0],
        late=numbers[1],
        show=numbers[2],
        worth=numbers[3],
        delay_cost=numbers[4],
        must=np.array([targets[i].must for i in target_of], dtype=bool),
        move=_up(seconds),
        nuisance=np.rint(nuisance * MILLI).astype(np.int64),
        first_move=_up(first_s)[0],
        first_nuisance=np.rint(first_points * MILLI).astype(np.int64)[0],
        room_end_s=np.array(columns[7], dtype=np.float64),
        objects=len(targets),
        ticks=total - sum(length for _, length in pauses),
        origin_s=session.start_s,
        pauses=tuple(
            (at - sum(n for _, n in pauses[:i]), length) for i, (at, length) in enumerate(pauses)
        ),
    )


def ordered_stops(
    targets: Sequence[Target], problem: OrderProblem, route: Route
) -> tuple[OrderedStop, ...]:
    """The stops of a route, with their times."""
    stops: list[OrderedStop] = []
    for option, arrive, start in zip(route.options, route.arrive, route.start, strict=True):
        target = targets[problem.target[option]]
        begin = problem.clock_s(start, opens=True)
        stops.append(
            OrderedStop(
                key=target.key,
                side=problem.side[option],
                arrive_s=min(problem.clock_s(arrive, opens=False), begin),
                start_s=begin,
                end_s=begin + float(problem.show[option]) * TICK_S,
                move_s=float(problem.travel_ticks(route.options, len(stops))) * TICK_S,
                room_end_s=float(problem.room_end_s[option]),
            )
        )
    return tuple(stops)


def _up(seconds: NDArray[np.float64]) -> Ints:
    return np.ceil(seconds / TICK_S - 1e-9).astype(np.int64)


def _check(targets: Sequence[Target], session: OrderSpan) -> None:
    if not 0 <= session.end_s - session.start_s <= LONGEST_S:
        raise AxletreeError("the session must end after it starts, and within 40 hours")
    seen: set[str] = set()
    for target in targets:
        if target.key in seen:
            raise AxletreeError(f"'{target.key}' stands twice in the list; name every object once")
        seen.add(target.key)
        if not (target.value > 0 and math.isfinite(target.value)):
            raise AxletreeError(f"'{target.key}': the value must be a number greater than 0")
        if not 0 < target.show_s <= LONGEST_S:
            raise AxletreeError(f"'{target.key}': the time at the eyepiece must be more than 0 s")
        if not 0 <= target.urgency_points_per_h < math.inf:
            raise AxletreeError(f"'{target.key}': the urgency must be a number from 0 up")


def _pauses(session: OrderSpan) -> tuple[int, list[tuple[int, int]]]:
    """Ticks of the whole session, and its breaks as (first tick, ticks), merged and in order."""
    total = math.floor((session.end_s - session.start_s) / TICK_S + 1e-9)
    merged: list[list[int]] = []
    for start_s, end_s in sorted(session.breaks):
        low = max(0, math.floor((start_s - session.start_s) / TICK_S + 1e-9))
        high = min(total, math.ceil((end_s - session.start_s) / TICK_S - 1e-9))
        if high <= low:
            continue
        if merged and low <= merged[-1][1]:
            merged[-1][1] = max(merged[-1][1], high)
        else:
            merged.append([low, high])
    return total, [(low, high - low) for low, high in merged]


def _pieces(first: int, last: int, pauses: Sequence[tuple[int, int]]) -> list[tuple[int, int, int]]:
    """What the breaks leave of first..last, with the ticks of break before each piece."""
    found, cut = [], 0
    for at, length in pauses:
        if first < at:
            found.append((first, min(last, at), cut))
        first = max(first, at + length)
        cut += length
    found.append((first, last, cut))
    return [piece for piece in found if piece[1] > piece[0]]
