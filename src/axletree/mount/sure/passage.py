"""When do two parts first come nearer than a limit, over all the rigs that this one may be?

Rigs are drawn from the covariance of the dimensions, and each is followed on an object's way until
something comes too near. Pairs, poses and rigs are found where a distance that grew straight with
the dimensions would come near the limit; there it is worked out.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.rigs_drawn import DrawnPairs
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices, Mask, Reals, distinct

# Between poses so far apart on the way (hours) a straight line is right to half a millimetre for a
# rod's end that stands a metre from the axes.
STEP_H = 0.25
FAR_SIGMAS = 4.5  # pairs that stay farther from the limit aren't followed
NO_MATTER_SIGMAS = 6.0  # nor are poses of the others farther than so many of that nearest pose
JUDGED_HALVINGS = 9  # to 2 mm a metre along the line, which a distance feels in second order
FAR_M = 0.5  # nor those that never come so near, on the roughest guesses
_FIRST_DRAWN = 256  # rigs by which those pairs are found that ever come first, on a long way
_FEW_POSES = 6  # on a short one all are asked: it is rare chances that are counted there
# Two rods are seldom nearer than if their distance grew straight with the dimensions, and by less
# than this share of its standard deviation (looked at over rigs known to a tenth and a fifth).
NEARER_SIGMAS = 0.6
_AT_ONCE = 4


@dataclass(frozen=True, eq=False)
class PoseTrack:
    """A side's poses on the way of an object, at rising hour angles (m,)."""

    hour_angle_h: Floats
    tube_end_h: Floats
    swing_deg: Floats


@dataclass(frozen=True, eq=False)
class Nearing:
    """Pairs (p,) that may be the first below a limit, on a way of m poses: distances of the rig as
    it is taken to be, and how they grow with each of r independent standard normal numbers; the
    same over the n rigs drawn, `straight` as they would grow, `exact` where they are `known`."""

    way: PoseTrack
    pairs: Indices
    gap_m: Floats  # (p, m)
    root: Floats  # (p, m, r)
    drawn: DrawnPairs
    straight: Reals  # (p, m, n)
    exact: Reals  # (p, m, n)

    def first_below(self, limit_m: float, ask: Mask | None = None) -> tuple[Floats, Indices]:
        """Hour angle at which each rig drawn first comes below the limit, and which pair does it
        (its number in `Bodies.pairs`); inf and -1 where none does on this way, and for rigs (n,)
        that aren't to be asked."""
        n = self.straight.shape[2]
        first, which = np.full(n, np.inf), np.full(n, -1)
        going = np.ones(n, dtype=bool) if ask is None else ask.copy()
        for asked in self._in_turn(limit_m, going):
            below = asked[self._worked_out(asked) < limit_m]
            pose, rig = self._pose_and_rig(below)
            soonest = np.full(n, len(self.way.hour_angle_h))
            np.minimum.at(soonest, rig, pose)
            self._cross(below[pose == soonest[rig]], limit_m, first, which)
            going[rig] = False
        return first, which

    def _in_turn(self, limit_m: float, going: Mask) -> Iterator[Indices]:
        """Rows of (p, m, n) whose distances may be below the limit: of each rig first those of the
        first such pose, then of the next two, the next four; of rigs that are still `going`."""
        p, m, n = self.straight.shape
        sigma = np.linalg.norm(self.root, axis=2)[..., np.newaxis]
        may = self.straight < (limit_m + NEARER_SIGMAS * sigma).astype(np.float32)
        # How many such poses each rig has had, where it has one more; 0 elsewhere.
        turn, had = may.any(axis=0).astype(np.int16), np.zeros(n, dtype=np.int16)
        for at in turn:
            had += at
            at *= had
        may_in = may.reshape(p, m * n)
        begin, end = 1, 2
        while had.max(initial=0, where=going) >= begin:
            asked = np.flatnonzero((begin <= turn) & (turn < end) & going)
            pair, which = divmod(np.flatnonzero(may_in.take(asked, axis=1)), max(1, len(asked)))
            yield pair * (m * n) + asked[which]
            begin, end = end, 2 * end

    def _worked_out(self, rows: Indices) -> Reals:
        """The distances there, worked out where they aren't known yet."""
        exact = self.exact.reshape(-1)
        found = exact.take(rows)
        new = np.isnan(found)
        if new.any():
            fresh = rows[new]
            found[new] = exact[fresh] = self.drawn.gaps(
                fresh // self.exact[0].size, *self._pose_and_rig(fresh)
            )
        return found

    def _pose_and_rig(self, rows: Indices) -> tuple[Indices, Indices]:
        n = self.exact.shape[2]
        return rows // n % self.exact.shape[1], rows % n

    def _cross(self, rows: Indices, limit_m: float, first: Floats, which: Indices) -> None:
        """Write when and by which pair rigs first cross the limit, that are below it there."""
        (pose, rig), hours = self._pose_and_rig(rows), self.way.hour_angle_h
        late = np.maximum(pose - 1, 0)
        rows_late = rows - (pose - late) * len(first)
        exact, straight = self.exact.reshape(-1), self.straight.reshape(-1)
        here, known = exact.take(rows), exact.take(rows_late)
        bend = here - straight.take(rows)
        before = np.where(np.isnan(known), straight.take(rows_late) + bend, known) - limit_m
        here -= limit_m
        part = np.where(before > 0.0, before / np.maximum(before - here, 1e-9), 0.0)
        when = hours[late] + (hours[pose] - hours[late]) * part
        np.minimum.at(first, rig, when)
        # Of two at the same moment the first of the pairs: the last that is written.
        soonest = np.flatnonzero(when == first[rig])[::-1]
        which[rig[soonest]] = self.pairs[rows[soonest] // self.exact[0].size]


def nearing(spread: RigSpread, way: PoseTrack, limit_m: float) -> Nearing | None:
    """The pairs that may be the first below a limit on some rig; None where none may."""
    poses = PoseTurns.of(spread.bodies, way.tube_end_h, way.swing_deg)
    m = len(way.hour_angle_h)
    pairs, sigma = _within_reach(spread, poses, m, limit_m)
    if not pairs.size:
        return None
    each, at = np.repeat(pairs, m), np.tile(np.arange(m), len(pairs))
    near = nearest(spread.shapes, spread.meet, poses, each, at)
    gaps = near.gap_m.reshape(len(pairs), m)
    rows = np.flatnonzero(gaps - limit_m < NO_MATTER_SIGMAS * sigma[:, np.newaxis])
    grow = spread.slopes_drawn
    slopes = gap_slopes(spread.shapes, grow, spread.meet, near.of(rows), each[rows])
    met = _first_met(spread, way, gaps - limit_m, rows, slopes)
    if not met.size:
        return None
    flat = np.zeros((len(each), grow.count))
    flat[rows] = slopes
    roots = flat.reshape(len(pairs), m, -1)
    straight = roots[met].astype(np.float32) @ spread.drawn
    straight += gaps[met][..., np.newaxis].astype(np.float32)
    return Nearing(
        way, pairs[met], gaps[met], roots[met], DrawnPairs.of(spread, poses, pairs[met]),
        straight, np.full_like(straight, np.nan),
    )  # fmt: skip


def _within_reach(
    spread: RigSpread, poses: PoseTurns, m: int, limit_m: float
) -> tuple[Indices, Floats]:
    """Pairs that come within so many standard deviations of the limit, judged where each is
    nearest of every second pose; and that standard deviation, metres."""
    every = np.arange(len(spread.meet.moving))
    some = np.arange(0, m, 2)
    each, at = np.repeat(every, len(some)), np.tile(some, len(every))
    near = nearest(spread.shapes, spread.meet, poses, each, at, JUDGED_HALVINGS)
    gaps = near.gap_m.reshape(len(every), -1)
    least = gaps.argmin(axis=1)
    left = gaps[every, least] - limit_m
    close = np.flatnonzero(left < FAR_M)
    there = near.of(close * len(some) + least[close])
    slopes = gap_slopes(spread.shapes, spread.slopes_drawn, spread.meet, there, close)
    sigma = np.linalg.norm(slopes, axis=1)
    kept = left[close] < FAR_SIGMAS * sigma
    return close[kept], sigma[kept]


def _first_met(
    spread: RigSpread, way: PoseTrack, left: Floats, rows: Indices, roots: Floats
) -> Indices:
    """Which of the pairs are the first below the limit on any of the first rigs drawn.

    `left` (p, m) is the distance from it; `roots` (r, normal numbers) how that grows in those
    `rows` of it (ascending) where it matters.
    """
    m = left.shape[1]
    drawn = spread.drawn if m <= _FEW_POSES else spread.drawn[:, :_FIRST_DRAWN]
    all_left = left.reshape(-1)
    may = np.flatnonzero(all_left[rows] < FAR_SIGMAS * np.linalg.norm(roots, axis=1))
    # Where a distance is below, and the one a pose before it isn't: it crosses the limit there.
    there, late = rows[may], np.where(rows[may] % m > 0, rows[may] - 1, -1)
    before = np.minimum(np.searchsorted(rows, late), len(rows) - 1)
    moved = rows[before] == late
    drawn_left = roots.astype(np.float32) @ drawn + all_left[rows, np.newaxis].astype(np.float32)
    b = drawn_left[may]
    a = np.where(moved[:, np.newaxis], drawn_left[before], all_left[late][:, np.newaxis])
    a[late < 0] = np.inf
    row, rig = divmod(np.flatnonzero((b < 0.0) & (a >= 0.0)), drawn.shape[1])
    here, hours = there[row], way.hour_angle_h
    part = b[row, rig] / (b[row, rig] - a[row, rig])  # 0 at the way's begin
    when = hours[here % m] - (hours[here % m] - hours[here % m - 1]) * part
    first = np.full(drawn.shape[1], np.inf)
    np.minimum.at(first, rig, when)
    return np.asarray(distinct(here[when == first[rig]] // m))
