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

from axletree.evening.order.problem import Puzzle, Route
from axletree.sky.arrays import Floats, Ints, Mask

BEAM = 160
ROUNDS = 250
SLACK = 0.003
_SEED = 2718
_NEVER = np.int64(1) << 40


def solve_quickly(puzzle: Puzzle, rounds: int = ROUNDS) -> Route:
    """A good route; an empty one where nothing can be shown."""
    empty = Route((), (), (), 0, 0)
    if len(puzzle.show) == 0:
        return empty
    route = puzzle.run(Mender(puzzle).mend(beam(puzzle, _ByPrice(puzzle))[0], rounds))
    assert route is not None
    return max(route, empty, key=lambda r: r.rank)


def quick_bound(puzzle: Puzzle, route: Route) -> int:
    """Thousandths of points that no order with as many must-see objects can exceed.

    Knapsack over the ticks of the session: an object takes its show and the cheapest move that
    leads to any of its ways, and brings its best worth less the least nuisance.
    """
    if len(puzzle.show) == 0:
        return 0
    length, gain, spare, bonus = padded(puzzle)
    room = puzzle.ticks + spare
    best = np.zeros(room + 1, dtype=np.int64)
    for ticks, points in zip(length, gain, strict=True):
        if points > 0 and ticks <= room:
            best[ticks:] = np.maximum(best[ticks:], best[: room + 1 - ticks] + points)
    return max(int(best[-1]) + bonus, route.points)


def padded(puzzle: Puzzle) -> tuple[Ints, Ints, int, int]:
    """Per object with ways: least ticks with its move and most points; then what the first stop
    of an order, which no such move precedes, may save in ticks and in points."""
    into, annoy = cheapest_moves(puzzle)
    lengths = puzzle.show + into
    gains = puzzle.worth - puzzle.drag * np.maximum(puzzle.early, puzzle.first_move.min()) - annoy
    things = sorted(set(puzzle.thing.tolist()))
    length = np.array([lengths[puzzle.thing == t].min() for t in things])
    gain = np.array([gains[puzzle.thing == t].max() for t in things])
    spare = int(np.maximum(into - puzzle.first_move, 0).max())
    bonus = int(np.maximum(annoy - puzzle.first_nuisance, 0).max())
    return length, gain, spare, bonus


def cheapest_moves(puzzle: Puzzle) -> tuple[Ints, Ints]:
    """Per way: the least ticks and the least nuisance of a move from any other object's way."""
    same = puzzle.thing[:, None] == puzzle.thing[None, :]
    move = np.where(same, _NEVER, puzzle.move).min(axis=0)
    nuisance = np.where(same, _NEVER, puzzle.nuisance).min(axis=0)
    alone = move >= _NEVER  # a single object: nothing ever precedes it
    return (
        np.where(alone, puzzle.first_move, move),
        np.where(alone, puzzle.first_nuisance, nuisance),
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
    """What partial orders may still bring: parents by `row`, each extended by `way`."""

    def __call__(self, shown: Mask, row: Ints, way: Ints, end: Ints) -> Floats:
        """Points still to be hoped for; `shown` is (parents, objects), `end` when way ends."""
        ...


class _ByPrice:
    """Hope by a price of time: what each object that is still to close would bring beyond it."""

    def __init__(self, puzzle: Puzzle) -> None:
        length, gain, spare, _ = padded(puzzle)
        self.price = price_of_time(length, gain, puzzle.ticks + spare)
        self.thing = puzzle.thing
        self.promise = np.zeros(puzzle.objects)
        self.closing = np.full(puzzle.objects, -1, dtype=np.int64)
        into, annoy = cheapest_moves(puzzle)
        own = puzzle.ranked_worth - annoy - self.price * (puzzle.show + into)
        np.maximum.at(self.promise, puzzle.thing, own)
        np.maximum.at(self.closing, puzzle.thing, puzzle.late)
        self.by_closing = np.argsort(self.closing, kind="stable")

    def __call__(self, shown: Mask, row: Ints, way: Ints, end: Ints) -> Floats:
        open_promise = np.where(shown, 0.0, self.promise)[:, self.by_closing]
        total = np.cumsum(open_promise, axis=1)
        total = np.concatenate([np.zeros((len(shown), 1)), total], axis=1)
        past = np.searchsorted(self.closing[self.by_closing], end)
        hope = total[row, -1] - total[row, past]
        own = self.thing[way]
        hope -= np.where(self.closing[own] >= end, self.promise[own], 0.0)
        return np.asarray(hope - self.price * end)


def beam(
    puzzle: Puzzle, outlook: Outlook, width: int = BEAM, beat: float = 0.0
) -> tuple[list[int], bool]:
    """The best order met when of equally many stops the `width` most promising orders grow on.

    Orders without the prospect of more than `beat` (points, must-see objects weighed in) are
    dropped. True with it: no other order was dropped for want of width, so that if the outlook
    never promises too little, no order beats `beat` except the one given (empty: none does).
    """
    K = len(puzzle.show)
    worth, thing = puzzle.ranked_worth, puzzle.thing
    mark = np.random.default_rng(_SEED).integers(1, 1 << 62, puzzle.objects, dtype=np.int64)
    move = np.vstack([puzzle.move, puzzle.first_move])
    nuisance = np.vstack([puzzle.nuisance, puzzle.first_nuisance])
    time, last, points = np.array([0]), np.array([K]), np.array([0], dtype=np.int64)
    shown = np.zeros((1, puzzle.objects), dtype=bool)
    hashes = np.zeros(1, dtype=np.int64)
    history: list[tuple[Ints, Ints]] = []
    best, best_at, complete = max(0.0, beat), (-1, 0), True
    while True:
        start = np.maximum(time[:, None] + move[last], puzzle.early)
        fits = (start <= puzzle.late) & ~shown[:, thing]
        row, way = np.nonzero(fits)
        begin = start[row, way]
        new = points[row] + worth[way] - puzzle.drag[way] * begin - nuisance[last[row], way]
        end = begin + puzzle.show[way]
        hope = new + outlook(shown, row, way, end)
        order = np.flatnonzero(hope > best)
        order = order[np.argsort(-hope[order], kind="stable")]
        complete &= len(order) <= width * 20
        order = order[: width * 20]
        key = hashes[row[order]] ^ mark[thing[way[order]]]
        kept = order[_unbeaten(key, way[order], end[order], new[order])]
        complete &= len(kept) <= width
        kept = kept[:width]
        if len(kept) == 0:
            break
        row, way = row[kept], way[kept]
        history.append((row, way))
        time, points, last = end[kept], new[kept], way
        shown = shown[row]
        shown[np.arange(len(way)), thing[way]] = True
        hashes = hashes[row] ^ mark[thing[way]]
        top = int(np.argmax(points))
        if points[top] > best:
            best, best_at = float(points[top]), (len(history) - 1, top)
    ways: list[int] = []
    level, at = best_at
    while level >= 0:
        row, way = history[level]
        ways.append(int(way[at]))
        at, level = int(row[at]), level - 1
    return ways[::-1], complete


def _unbeaten(key: Ints, way: Ints, end: Ints, points: Ints) -> Ints:
    """Places of the orders that no other one with the same objects and the same last way beats
    in both time and points, in their given order."""
    if len(key) == 0:
        return np.empty(0, dtype=np.int64)
    by = np.lexsort((-points, end, way, key))
    group = np.cumsum(np.diff(key[by], prepend=key[by[0]]) != 0)
    group += np.cumsum(np.diff(way[by], prepend=way[by[0]]) != 0)
    # A running maximum that starts afresh in every group.
    spread = np.int64(points.max() - points.min() + 1)
    level = points[by] - points.min() + group * spread
    top = np.maximum.accumulate(level)
    better = np.concatenate([[True], level[1:] > top[:-1]])
    return np.sort(by[better])


class Mender:
    """Takes stops out of an order and puts better ones in; repeats exactly for the same seed."""

    def __init__(self, puzzle: Puzzle, seed: int = _SEED) -> None:
        self.puzzle = puzzle
        self.K = len(puzzle.show)
        self.move = np.vstack([puzzle.move, puzzle.first_move])
        self.nuisance = np.vstack([puzzle.nuisance, puzzle.first_nuisance])
        self.worth = puzzle.ranked_worth
        self.random = np.random.default_rng(seed)
        # Plain lists: single numbers are read from them several times as fast.
        self._move: list[list[int]] = self.move.tolist()
        self._early: list[int] = puzzle.early.tolist()
        self._late: list[int] = puzzle.late.tolist()
        self._show: list[int] = puzzle.show.tolist()

    def mend(self, ways: list[int], rounds: int) -> list[int]:
        """The best order met in so many rounds."""
        now = best = self.fill(ways)
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

    def score(self, ways: list[int]) -> int:
        """Points of a route that fits, must-see objects weighed in."""
        route = self.puzzle.run(ways)
        assert route is not None
        return route.points + route.musts * self.puzzle.must_points

    def _ruin(self, ways: list[int]) -> list[int]:
        """The order without a stretch of it, without neighbours in the sky, or without a few."""
        if not ways:
            return ways
        count = int(self.random.integers(1, min(12, len(ways)) + 1))
        kind = self.random.random()
        if kind < 0.5:
            at = int(self.random.integers(0, len(ways) - count + 1))
            return ways[:at] + ways[at + count :]
        if kind < 0.8:
            centre = ways[int(self.random.integers(0, len(ways)))]
            away = self.puzzle.move[centre, np.array(ways)]
            out = np.argsort(away + self.random.integers(0, 4, len(ways)))[:count]
        else:
            out = self.random.choice(len(ways), count, replace=False)
        gone = set(out.tolist())
        return [way for n, way in enumerate(ways) if n not in gone]

    def fill(self, ways: list[int], greed: int = 0) -> list[int]:
        """Insert the best stop at its best place until none brings points any more.

        Best by points (0), by points shaken a little (1), or by those for the time taken (2).
        """
        ways = list(ways)
        shake = np.ones(self.K)
        if greed:
            shake = self.random.uniform(0.8, 1.25, self.puzzle.objects)[self.puzzle.thing]
        while True:
            gain, longer = self.insertions(ways)
            appeal = gain * shake
            if greed == 2:
                appeal = np.where(gain > 0, appeal / longer**0.7, gain)
            at, way = divmod(int(np.argmax(appeal)), self.K)
            if not gain[at, way] > 0:
                return ways
            ways.insert(at, way)

    def insertions(self, ways: list[int]) -> tuple[Floats, Floats]:
        """Points won, and ticks taken, by putting way k before stop p: (stops + 1, ways) each.

        -inf points where it does not fit. Points are exact but for the delay of later stops,
        which is reckoned at its most.
        """
        p = self.puzzle
        starts, ends, latest = self._timed(ways)
        before = np.array([self.K, *ways])
        after = np.array(ways, dtype=np.int64)
        toward = self.move[before]
        longer = (toward + p.show).astype(np.float64)
        start = np.maximum(ends[:, None] + toward, p.early)
        gain = self.worth - p.drag * start - self.nuisance[before]
        fits = start <= p.late
        if ways:
            onward = p.move.T[after]
            then = np.maximum(start[:-1] + p.show + onward, p.early[after][:, None])
            fits[:-1] &= then <= latest[:, None]
            delayed = np.cumsum(p.drag[after][::-1])[::-1]
            gain[:-1] -= delayed[:, None] * np.maximum(then - starts[:, None], 0)
            gain[:-1] -= p.nuisance.T[after]
            gain[:-1] += self.nuisance[before[:-1], after][:, None]
            longer[:-1] += onward - self.move[before[:-1], after][:, None]
        used = np.zeros(p.objects, dtype=bool)
        used[p.thing[after]] = True
        fits &= ~used[p.thing]
        return np.where(fits, gain.astype(np.float64), -np.inf), np.maximum(longer, 1.0)

    def _timed(self, ways: list[int]) -> tuple[Ints, Ints, Ints]:
        """Start of each stop, end of what comes before each place, latest start that still fits."""
        starts, ends, time, previous = [], [0], 0, self.K
        for way in ways:
            start = max(time + self._move[previous][way], self._early[way])
            time, previous = start + self._show[way], way
            starts.append(start)
            ends.append(time)
        latest = [self._late[way] for way in ways]
        for n in range(len(ways) - 2, -1, -1):
            way, following = ways[n], ways[n + 1]
            room = latest[n + 1] - self._move[way][following] - self._show[way]
            latest[n] = min(latest[n], room)
        return np.array(starts, np.int64), np.array(ends, np.int64), np.array(latest, np.int64)
