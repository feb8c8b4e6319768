"""What is a good order of any list, in a fraction of a second?

Two steps, both ours and both repeatable. First a beam: partial orders grow stop by stop, and the
most promising are kept by what a knapsack's price of time still allows. Then ruin and recreate
(after G. Schrimpf et al. 2000, J. Comput. Phys. 159, 139): a few stops are taken out and the best
insertions put in, with a fixed seed.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from axletree.evening.order.problem import OrderProblem, Route
from axletree.evening.search.beam import ByPrice, beam
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Ints, Mask

ROUNDS = 250
# Rounds of mending that give a hint of an order.
LOOK_ROUNDS = 60
SLACK = 0.003
_SEED = 2718


# A plan asks the same problem in a hurry first, and then again at leisure.
@lru_cache(maxsize=8)
def solve_quickly(problem: OrderProblem, rounds: int = ROUNDS) -> Route:
    """A good route; an empty one where nothing can be shown."""
    empty = Route((), (), (), 0, 0)
    if len(problem.show) == 0:
        return empty
    route = problem.run(Mender(problem).mend(beam(problem, ByPrice(problem))[0], rounds))
    assert route is not None
    return max(route, empty, key=lambda r: r.rank)


@dataclass(frozen=True)
class _Columns:
    """What is asked of some options `at` (k,) at every insertion: a column each, a row for what
    comes before or after. Whole numbers below 2^53 in floats, where they are as exact and need no
    turning; rows lie as they are read."""

    at: Indices
    target: Ints
    toward: Floats
    onward: Floats
    brings: Floats
    leaves: Floats
    delay_cost: Floats
    opens: Floats
    closes: Floats
    lasts: Floats

    def take(self, which: Indices) -> _Columns:
        """The same of fewer options."""
        return _Columns(*(column[..., which] for column in vars(self).values()))


class Mender:
    """Takes stops out of an order and puts better ones in; repeats exactly for the same seed.

    No more than `most` stops are put in (None: as many as fit).
    """

    def __init__(self, problem: OrderProblem, most: int | None = None, seed: int = _SEED) -> None:
        self.problem = problem
        self.most = problem.objects if most is None else most
        self.K = len(problem.show)
        self.move = np.vstack([problem.move, problem.first_move])
        self.nuisance = np.vstack([problem.nuisance, problem.first_nuisance])
        self.random = np.random.default_rng(seed)
        self._all = _Columns(
            at=np.arange(self.K),
            target=problem.target,
            toward=self.move.astype(np.float64),
            onward=np.ascontiguousarray(problem.move.T, dtype=np.float64),
            brings=problem.ranked_worth.astype(np.float64) - self.nuisance,
            leaves=np.ascontiguousarray(problem.nuisance.T, dtype=np.float64),
            delay_cost=problem.delay_cost.astype(np.float64),
            opens=problem.early.astype(np.float64),
            closes=problem.late.astype(np.float64),
            lasts=problem.show.astype(np.float64),
        )
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
        # What is shown already can't be put in: most columns, in a long night.
        part = self._all.take(np.flatnonzero(~self._used(options)[self.problem.target]))
        shake = shake[part.at]
        while len(options) < self.most and len(part.at):
            gain, longer = self._insertions(part, options)
            appeal = gain * shake
            if greed == 2:
                appeal = np.where(gain > 0, appeal / longer**0.7, gain)
            at, column = divmod(int(np.argmax(appeal)), len(part.at))
            if not gain[at, column] > 0:
                return options
            options.insert(at, int(part.at[column]))
        return options

    def insertions(self, options: list[int]) -> tuple[Floats, Floats]:
        """Points won, and ticks taken, by putting option k before stop p: (stops + 1, options).

        -inf points where it does not fit. Points are exact but for the delay of later stops,
        which is reckoned at its most.
        """
        return self._insertions(self._all, options)

    def _used(self, options: list[int]) -> Mask:
        """Which objects are shown."""
        used = np.zeros(self.problem.objects, dtype=bool)
        used[self.problem.target[options]] = True
        return used

    def _insertions(self, part: _Columns, options: list[int]) -> tuple[Floats, Floats]:
        """The same of some options, (stops + 1, k)."""
        every = self._all
        starts, ends, latest = self._timed(options)
        before = np.array([self.K, *options])
        after = before[1:]
        longer = part.toward[before]
        start = np.maximum(ends[:, None] + longer, part.opens)
        longer += part.lasts
        gain = part.brings[before]
        gain -= part.delay_cost * start
        no = start > part.closes
        if options:
            onward = part.onward[after]
            then = start[:-1]
            then += part.lasts
            then += onward
            np.maximum(then, every.opens[after][:, None], out=then)
            no[:-1] |= then > latest[:, None]
            delayed = np.cumsum(every.delay_cost[after][::-1])[::-1]
            then -= starts[:, None]
            np.maximum(then, 0.0, out=then)
            then *= delayed[:, None]
            won = gain[:-1]
            won -= then
            won -= part.leaves[after]
            won += self.nuisance[before[:-1], after][:, None]
            onward -= self.move[before[:-1], after][:, None]
            longer[:-1] += onward
        no |= self._used(options)[part.target]
        gain[no] = -np.inf
        return gain, np.maximum(longer, 1.0, out=longer)

    def _timed(self, options: list[int]) -> tuple[Floats, Floats, Floats]:
        """Start of each stop, end of what comes before each place, latest start that still fits."""
        # Asked for at every insertion: names and comparisons are the quickest there is.
        move, early, late, show = self._move, self._early, self._late, self._show
        starts, ends, time, previous = [], [0], 0, self.K
        for option in options:
            time += move[previous][option]
            if time < early[option]:
                time = early[option]
            starts.append(time)
            time += show[option]
            ends.append(time)
            previous = option
        latest = [late[option] for option in options]
        for n in range(len(options) - 2, -1, -1):
            option = options[n]
            room = latest[n + 1] - move[option][options[n + 1]] - show[option]
            if room < latest[n]:
                latest[n] = room
        return np.array(starts, float), np.array(ends, float), np.array(latest, float)
