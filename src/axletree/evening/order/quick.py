"""What is a good order of any list, in a fraction of a second?

Two steps, both ours and both repeatable. First a beam: partial orders grow stop by stop, and of
those with equally many stops the `BEAM` most promising are kept; promising means points so far
plus what a knapsack's price of time still allows. Then ruin and recreate (after G. Schrimpf et
al. 2000, J. Comput. Phys. 159, 139): a few stops are taken out and the best insertions put in,
with a fixed seed.

`quick_bound` is what no order can exceed: the knapsack of all objects, each made longer by its
cheapest move, whatever the sequence.
"""

from __future__ import annotations

from typing import Protocol

import numpy as np

from axletree.evening.order.problem import OrderProblem, Route
from axletree.sky.arrays import Floats, Ints, Mask

BEAM = 160
ROUNDS = 250
SLACK = 0.003
_SEED = 2718
_NEVER = np.int64(1) << 40


def solve_quickly(problem: OrderProblem, rounds: int = ROUNDS) -> Route:
    """A good route; an empty one where nothing can be shown."""
    empty = Route((), (), (), 0, 0)
    if len(problem.show) == 0:
        return empty
    route = problem.run(Mender(problem).mend(beam(problem, _ByPrice(problem))[0], rounds))
    assert route is not None
    return max(route, empty, key=lambda r: r.rank)


def quick_bound(problem: OrderProblem, route: Route) -> int:
    """Thousandths of points that no order with as many must-see objects can exceed.

    Knapsack over the ticks of the session: an object takes its show and the cheapest move that
    leads to any of its options, and brings its best worth less the least nuisance.
    """
    if len(problem.show) == 0:
        return 0
    length, gain, spare, bonus = padded(problem)
    room = problem.ticks + spare
    best = np.zeros(room + 1, dtype=np.int64)
    for ticks, points in zip(length, gain, strict=True):
        if points > 0 and ticks <= room:
            best[ticks:] = np.maximum(best[ticks:], best[: room + 1 - ticks] + points)
    return max(int(best[-1]) + bonus, route.points)


def padded(problem: OrderProblem) -> tuple[Ints, Ints, int, int]:
    """Per object with options: least ticks with its move and most points; then what the first stop
    of an order, which no such move precedes, may save in ticks and in points."""
    into, annoy = cheapest_moves(problem)
    lengths = problem.show + into
    gains = (
        problem.worth
        - problem.delay_cost * np.maximum(problem.early, problem.first_move.min())
        - annoy
    )
    numbers = sorted(set(problem.target.tolist()))
    length = np.array([lengths[problem.target == t].min() for t in numbers])
    gain = np.array([gains[problem.target == t].max() for t in numbers])
    spare = int(np.maximum(into - problem.first_move, 0).max())
    bonus = int(np.maximum(annoy - problem.first_nuisance, 0).max())
    return length, gain, spare, bonus


def cheapest_moves(problem: OrderProblem) -> tuple[Ints, Ints]:
    """Per option: the least ticks and the least nuisance of a move from another object."""
    same = problem.target[:, None] == problem.target[None, :]
    move = np.where(same, _NEVER, problem.move).min(axis=0)
    nuisance = np.where(same, _NEVER, problem.nuisance).min(axis=0)
    alone = move >= _NEVER  # a single object: nothing ever precedes it
    return (
        np.where(alone, problem.first_move, move),
        np.where(alone, problem.first_nuisance, nuisance),
    )


def price_of_time(length: Ints, gain: Ints, room: int) -> float:
    """Points a tick is worth when the evening is full: the density of the last object in."""
    order = np.argsort(-gain / length)
    used = np.cumsum(length[order])
    over = np.flatnonzero(used > room)
    if len(over) == 0:
        return 0.0
    last = order[over[0]]
    return max(0.0, float(gain[last] / length[last]))


class Outlook(Protocol):
    """What partial orders may still bring: parents by `row`, each extended by `option`."""

    def __call__(self, shown: Mask, row: Ints, option: Ints, end: Ints) -> Floats:
        """Points still to be hoped for; `shown` is (parents, objects), `end` when option ends."""
        ...


class _ByPrice:
    """Hope by a price of time: what each object that is still to close would bring beyond it."""

    def __init__(self, problem: OrderProblem) -> None:
        length, gain, spare, _ = padded(problem)
        self.price = price_of_time(length, gain, problem.ticks + spare)
        self.target = problem.target
        self.promise = np.zeros(problem.objects)
        self.closing = np.full(problem.objects, -1, dtype=np.int64)
        into, annoy = cheapest_moves(problem)
        own = problem.ranked_worth - annoy - self.price * (problem.show + into)
        np.maximum.at(self.promise, problem.target, own)
        np.maximum.at(self.closing, problem.target, problem.late)
        self.by_closing = np.argsort(self.closing, kind="stable")

    def __call__(self, shown: Mask, row: Ints, option: Ints, end: Ints) -> Floats:
        open_promise = np.where(shown, 0.0, self.promise)[:, self.by_closing]
        total = np.cumsum(open_promise, axis=1)
        total = np.concatenate([np.zeros((len(shown), 1)), total], axis=1)
        past = np.searchsorted(self.closing[self.by_closing], end)
        hope = total[row, -1] - total[row, past]
        own = self.target[option]
        hope -= np.where(self.closing[own] >= end, self.promise[own], 0.0)
        return np.asarray(hope - self.price * end)


def beam(
    problem: OrderProblem, outlook: Outlook, width: int = BEAM, beat: float = 0.0
) -> tuple[list[int], bool]:
    """The best order met when of equally many stops the `width` most promising orders grow on.

    Orders without the prospect of more than `beat` (points, must-see objects weighed in) are
    dropped. True with it: no other order was dropped for want of width, so that if the outlook
    never promises too little, no order beats `beat` except the one given (empty: none does).
    """
    K = len(problem.show)
    worth, number = problem.ranked_worth, problem.target
    mark = np.random.default_rng(_SEED).integers(1, 1 << 62, problem.objects, dtype=np.int64)
    move = np.vstack([problem.move, problem.first_move])
    nuisance = np.vstack([problem.nuisance, problem.first_nuisance])
    time, last, points = np.array([0]), np.array([K]), np.array([0], dtype=np.int64)
    shown = np.zeros((1, problem.objects), dtype=bool)
    hashes = np.zeros(1, dtype=np.int64)
    history: list[tuple[Ints, Ints]] = []
    best, best_at, complete = max(0.0, beat), (-1, 0), True
    while True:
        start = np.maximum(time[:, None] + move[last], problem.early)
        fits = (start <= problem.late) & ~shown[:, number]
        row, option = np.nonzero(fits)
        begin = start[row, option]
        new = (
            points[row]
            + worth[option]
            - problem.delay_cost[option] * begin
            - nuisance[last[row], option]
        )
        end = begin + problem.show[option]
        hope = new + outlook(shown, row, option, end)
        order = np.flatnonzero(hope > best)
        order = order[np.argsort(-hope[order], kind="stable")]
        complete &= len(order) <= width * 20
        order = order[: width * 20]
        key = hashes[row[order]] ^ mark[number[option[order]]]
        kept = order[_unbeaten(key, option[order], end[order], new[order])]
        complete &= len(kept) <= width
        kept = kept[:width]
        if len(kept) == 0:
            break
        row, option = row[kept], option[kept]
        history.append((row, option))
        time, points, last = end[kept], new[kept], option
        shown = shown[row]
        shown[np.arange(len(option)), number[option]] = True
        hashes = hashes[row] ^ mark[number[option]]
        top = int(np.argmax(points))
        if points[top] > best:
            best, best_at = float(points[top]), (len(history) - 1, top)
    options: list[int] = []
    level, at = best_at
    while level >= 0:
        row, option = history[level]
        options.append(int(option[at]))
        at, level = int(row[at]), level - 1
    return options[::-1], complete


def _unbeaten(key: Ints, option: Ints, end: Ints, points: Ints) -> Ints:
    """Places of the orders that no other one with the same objects and the same last option beats
    in both time and points, in their given order."""
    if len(key) == 0:
        return np.empty(0, dtype=np.int64)
    by = np.lexsort((-points, end, option, key))
    group = np.cumsum(np.diff(key[by], prepend=key[by[0]]) != 0)
    group += np.cumsum(np.diff(option[by], prepend=option[by[0]]) != 0)
    # A running maximum that starts afresh in every group.
    spread = np.int64(points.max() - points.min() + 1)
    level = points[by] - points.min() + group * spread
    top = np.maximum.accumulate(level)
    better = np.concatenate([[True], level[1:] > top[:-1]])
    return np.sort(by[better])


class Mender:
    """Takes stops out of an order and puts better ones in; repeats exactly for the same seed."""

    def __init__(self, problem: OrderProblem, seed: int = _SEED) -> None:
        self.problem = problem
        self.K = len(problem.show)
        self.move = np.vstack([problem.move, problem.first_move])
        self.nuisance = np.vstack([problem.nuisance, problem.first_nuisance])
        self.worth = problem.ranked_worth
        self.random = np.random.default_rng(seed)
        # Plain lists: single numbers are read from them several times as fast.
        self._move: list[list[int]] = self.move.tolist()
        self._early: list[int] = problem.early.tolist()
        self._late: list[int] = problem.late.tolist()
        self._show: list[int] = problem.show.tolist()

    def mend(self, options: list[int], rounds: int) -> list[int]:
        """The best order met in so many rounds."""
        now = best = self.fill(options)
        score = best_score = self.score(now)
        for turn in range(rounds):
            trial = self.fill(self._ruin(now), greed=int(self.random.integers(0, 3)))
            new = self.score(trial)
            # Early on an order that is a little worse is gone on with, in the end none is.
            slack = SLACK * (1.0 - turn / rounds) * abs(best_score) * self.random.random()
            if new >= score - slack:
                now, score = trial, new
            if new > best_score:
                best, best_score = trial, new
            if (turn + 1) % max(1, rounds // 5) == 0:
                now, score = best, best_score
        return best

    def score(self, options: list[int]) -> int:
        """Points of a route that fits, must-see objects weighed in."""
        route = self.problem.run(options)
        assert route is not None
        return route.points + route.musts * self.problem.must_points

    def _ruin(self, options: list[int]) -> list[int]:
        """The order without a stretch of it, without neighbours in the sky, or without a few."""
        if not options:
            return options
        count = int(self.random.integers(1, min(12, len(options)) + 1))
        kind = self.random.random()
        if kind < 0.5:
            at = int(self.random.integers(0, len(options) - count + 1))
            return options[:at] + options[at + count :]
        if kind < 0.8:
            centre = options[int(self.random.integers(0, len(options)))]
            away = self.problem.move[centre, np.array(options)]
            out = np.argsort(away + self.random.integers(0, 4, len(options)))[:count]
        else:
            out = self.random.choice(len(options), count, replace=False)
        gone = set(out.tolist())
        return [option for n, option in enumerate(options) if n not in gone]

    def fill(self, options: list[int], greed: int = 0) -> list[int]:
        """Insert the best stop at its best place until none brings points any more.

        Best by points (0), by points shaken a little (1), or by those for the time taken (2).
        """
        options = list(options)
        shake = np.ones(self.K)
        if greed:
            shake = self.random.uniform(0.8, 1.25, self.problem.objects)[self.problem.target]
        while True:
            gain, longer = self.insertions(options)
            appeal = gain * shake
            if greed == 2:
                appeal = np.where(gain > 0, appeal / longer**0.7, gain)
            at, option = divmod(int(np.argmax(appeal)), self.K)
            if not gain[at, option] > 0:
                return options
            options.insert(at, option)

    def insertions(self, options: list[int]) -> tuple[Floats, Floats]:
        """Points won, and ticks taken, by putting option k before stop p: (stops + 1, options).

        -inf points where it does not fit. Points are exact but for the delay of later stops,
        which is reckoned at its most.
        """
        p = self.problem
        starts, ends, latest = self._timed(options)
        before = np.array([self.K, *options])
        after = np.array(options, dtype=np.int64)
        toward = self.move[before]
        longer = (toward + p.show).astype(np.float64)
        start = np.maximum(ends[:, None] + toward, p.early)
        gain = self.worth - p.delay_cost * start - self.nuisance[before]
        fits = start <= p.late
        if options:
            onward = p.move.T[after]
            then = np.maximum(start[:-1] + p.show + onward, p.early[after][:, None])
            fits[:-1] &= then <= latest[:, None]
            delayed = np.cumsum(p.delay_cost[after][::-1])[::-1]
            gain[:-1] -= delayed[:, None] * np.maximum(then - starts[:, None], 0)
            gain[:-1] -= p.nuisance.T[after]
            gain[:-1] += self.nuisance[before[:-1], after][:, None]
            longer[:-1] += onward - self.move[before[:-1], after][:, None]
        used = np.zeros(p.objects, dtype=bool)
        used[p.target[after]] = True
        fits &= ~used[p.target]
        return np.where(fits, gain.astype(np.float64), -np.inf), np.maximum(longer, 1.0)

    def _timed(self, options: list[int]) -> tuple[Ints, Ints, Ints]:
        """Start of each stop, end of what comes before each place, latest start that still fits."""
        starts, ends, time, previous = [], [0], 0, self.K
        for option in options:
            start = max(time + self._move[previous][option], self._early[option])
            time, previous = start + self._show[option], option
            starts.append(start)
            ends.append(time)
        latest = [self._late[option] for option in options]
        for n in range(len(options) - 2, -1, -1):
            option, following = options[n], options[n + 1]
            room = latest[n + 1] - self._move[option][following] - self._show[option]
            latest[n] = min(latest[n], room)
        return np.array(starts, np.int64), np.array(ends, np.int64), np.array(latest, np.int64)
