"""When do two parts first come nearer than a limit, over all the rigs that this one may be?

Rigs are drawn from the covariance of the dimensions, and each is followed on an object's way until
something comes too near. Pairs, poses and rigs are found where a distance that grew straight with
the dimensions would come near the limit; there it is worked out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.rigs_drawn import DrawnPairs
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices, Mask

# Between poses so far apart on the way (hours) a straight line is right to half a millimetre for a
# rod's end that stands a metre from the axes.
STEP_H = 0.25
_FAR_SIGMAS = 4.5  # pairs that stay farther from the limit aren't followed
_NO_MATTER_SIGMAS = 6.0  # nor are poses of the others farther than so many of that nearest pose
_FAR_M = 0.5  # nor those that never come so near, on the roughest guesses
_FIRST_DRAWN = 256  # rigs by which those pairs are found that ever come first, on a long way
_FEW_POSES = 6  # on a short one all are asked: it is rare chances that are counted there
# Two rods are seldom nearer than if their distance grew straight with the dimensions, and by less
# than this share of its standard deviation (looked at over rigs known to a tenth and a fifth).
_NEARER_SIGMAS = 0.6
_AT_ONCE = 4  # poses worked out together; a rig that has touched isn't followed


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
    straight: Floats  # (p, m, n)
    exact: Floats  # (p, m, n)
    known: Mask  # (p, m, n)

    def first_below(self, limit_m: float) -> tuple[Floats, Indices]:
        """Hour angle at which each rig drawn first comes below the limit, and which pair does it
        (its number in `Bodies.pairs`); inf and -1 where none does on this way."""
        n = self.straight.shape[2]
        first, which = np.full(n, np.inf), np.full(n, -1)
        sigma = np.linalg.norm(self.root, axis=2)[..., np.newaxis]
        may = self.straight < (limit_m + _NEARER_SIGMAS * sigma).astype(np.float32)
        going = np.ones(n, dtype=bool)
        for at in range(0, may.shape[1], _AT_ONCE):
            asked = may[:, at : at + _AT_ONCE] & going
            self._work_out(asked & ~self.known[:, at : at + _AT_ONCE], at)
            below = asked & (self.exact[:, at : at + _AT_ONCE] < limit_m)
            met = np.flatnonzero(below.any(axis=(0, 1)))
            if met.size:
                first[met], which[met] = self._crossed(below[..., met], met, at, limit_m)
                going[met] = False
        return first, which

    def _work_out(self, rows: Mask, at: int) -> None:
        pair, pose, rig = np.nonzero(rows)
        if pair.size:
            pose += at
            self.exact[pair, pose, rig] = self.drawn.gaps(pair, pose, rig)
            self.known[pair, pose, rig] = True

    def _crossed(
        self, below: Mask, rigs: Indices, at: int, limit_m: float
    ) -> tuple[Floats, Indices]:
        """When rigs first cross the limit by one of the pairs that are below it, and by which."""
        hours = self.way.hour_angle_h
        pose = below.any(axis=0).argmax(axis=0)  # the first of these
        first, which = np.full(len(rigs), np.inf), np.full(len(rigs), -1)
        for k in range(len(self.pairs)):
            own = np.flatnonzero(below[k, pose, np.arange(len(rigs))])
            rig, i = rigs[own], at + pose[own]
            late = np.maximum(i - 1, 0)
            here = self.exact[k, i, rig] - limit_m
            bend = self.exact[k, i, rig] - self.straight[k, i, rig]
            before = np.where(
                self.known[k, late, rig], self.exact[k, late, rig],
                self.straight[k, late, rig] + bend,
            ) - limit_m  # fmt: skip
            part = np.where(before > 0.0, before / np.maximum(before - here, 1e-9), 0.0)
            when = hours[late] + (hours[i] - hours[late]) * part
            sooner = when < first[own]
            first[own[sooner]], which[own[sooner]] = when[sooner], self.pairs[k]
        return first, which


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
    rows = np.flatnonzero(gaps - limit_m < _NO_MATTER_SIGMAS * sigma[:, np.newaxis])
    slopes = gap_slopes(spread.shapes, spread.slopes, spread.meet, near.of(rows), each[rows])
    flat = np.zeros((len(each), spread.root.shape[1]))
    flat[rows] = slopes @ spread.root
    roots = flat.reshape(len(pairs), m, -1)
    met = np.flatnonzero(_first_met(spread, way, gaps - limit_m, roots))
    if not met.size:
        return None
    straight = roots[met].astype(np.float32) @ spread.drawn
    straight += gaps[met][..., np.newaxis].astype(np.float32)
    return Nearing(
        way, pairs[met], gaps[met], roots[met], DrawnPairs.of(spread, poses, pairs[met]),
        straight, np.full_like(straight, np.inf), np.zeros(straight.shape, dtype=bool),
    )  # fmt: skip


def _within_reach(
    spread: RigSpread, poses: PoseTurns, m: int, limit_m: float
) -> tuple[Indices, Floats]:
    """Pairs that come within so many standard deviations of the limit, judged where each is
    nearest of every second pose; and that standard deviation, metres."""
    every = np.arange(len(spread.meet.moving))
    some = np.arange(0, m, 2)
    each, at = np.repeat(every, len(some)), np.tile(some, len(every))
    near = nearest(spread.shapes, spread.meet, poses, each, at)
    gaps = near.gap_m.reshape(len(every), -1)
    least = gaps.argmin(axis=1)
    left = gaps[every, least] - limit_m
    close = np.flatnonzero(left < _FAR_M)
    there = near.of(close * len(some) + least[close])
    slopes = gap_slopes(spread.shapes, spread.slopes, spread.meet, there, close)
    sigma = np.linalg.norm(slopes @ spread.root, axis=1)
    kept = left[close] < _FAR_SIGMAS * sigma
    return close[kept], sigma[kept]


def _first_met(spread: RigSpread, way: PoseTrack, left: Floats, roots: Floats) -> Indices:
    """(p,): on how many of the first rigs drawn each pair is the first below the limit."""
    drawn = spread.drawn if left.shape[1] <= _FEW_POSES else spread.drawn[:, :_FIRST_DRAWN]
    first = np.full(drawn.shape[1], np.inf)
    which = np.full(drawn.shape[1], len(left))
    sigma = np.linalg.norm(roots, axis=2)
    for k in np.flatnonzero((left < _FAR_SIGMAS * sigma).any(axis=1)):
        at = _first(way.hour_angle_h, left[k, :, None] + roots[k].astype(np.float32) @ drawn)
        sooner = at < first
        first[sooner], which[sooner] = at[sooner], k
    return np.asarray(np.bincount(which, minlength=len(left) + 1)[:-1])


def _first(hours: Floats, left: Floats) -> Floats:
    """Where each column of distances (m, drawn) first goes below zero; inf where it doesn't."""
    below = left < 0.0
    out = np.full(left.shape[1], np.inf)
    columns = np.flatnonzero(below.any(axis=0))
    i = below.argmax(axis=0)[columns]
    t = hours[i].astype(np.float64)
    late = np.flatnonzero(i > 0)
    a, b = left[i[late] - 1, columns[late]], left[i[late], columns[late]]
    t[late] -= (t[late] - hours[i[late] - 1]) * (b / (b - a))
    out[columns] = t
    return out
