"""When do two parts first come nearer than a limit, over all the rigs that this one may be?

Rigs are drawn from the covariance of the dimensions, and each is followed on an object's way until
something comes too near. A pair's distance grows straight with the dimensions, but for the line
that leads to contact most quickly: along that one a rig is built on either side, and the distance
bends as it does there (B. Fiessler, H.-J. Neumann and R. Rackwitz 1979, J. Eng. Mech. 105, 661:
a limit's curvature at the point where it is most probably met; from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

# Between poses so far apart on the way (hours) a straight line is right to half a millimetre for a
# rod's end that stands a metre from the axes.
STEP_H = 0.25
_FAR_SIGMAS = 4.5  # pairs that stay farther from the limit aren't followed
_FAR_M = 0.5  # nor those that never come so near, on the roughest guesses
_OFTEN = 0.04  # share of the rigs drawn on which a pair comes first whose bend is asked for
_FIRST_DRAWN = 256  # rigs by which those pairs are found that ever come first, on a long way
_FEW_POSES = 6  # on a short one all are asked: it is rare chances that are counted there
_BENT_AT = 1.6  # standard deviations at which the bend is taken: the tail that is asked for


@dataclass(frozen=True, eq=False)
class PoseTrack:
    """A side's poses on the way of an object, at rising hour angles (m,)."""

    hour_angle_h: Floats
    tube_end_h: Floats
    swing_deg: Floats


@dataclass(frozen=True, eq=False)
class Nearing:
    """One pair on a way (m,): its distance, how that grows with each of r independent standard
    normal numbers, and its bend: half the second slope along `line` (r,), towards contact and
    away from it."""

    pair: int
    gap_m: Floats  # (m,)
    root: Floats  # (m, r)
    line: Floats  # (r,)
    bend_near: Floats  # (m,)
    bend_far: Floats  # (m,)

    @property
    def sigma_m(self) -> Floats:
        """One standard deviation of the distance (m,)."""
        return np.asarray(np.linalg.norm(self.root, axis=1))


def nearings(spread: RigSpread, way: PoseTrack, limit_m: float) -> tuple[Nearing, ...]:
    """The pairs that may be the first below a limit on some rig, those that often are with their
    bends."""
    poses = PoseTurns.of(spread.bodies, way.tube_end_h, way.swing_deg)
    m = len(way.hour_angle_h)
    pairs = _within_reach(spread, poses, m, limit_m)
    if not pairs.size:
        return ()
    each, at = np.repeat(pairs, m), np.tile(np.arange(m), len(pairs))
    near = nearest(spread.shapes, spread.meet, poses, each, at)
    slopes = gap_slopes(spread.shapes, spread.slopes, spread.meet, near, each)
    roots = (slopes @ spread.root).reshape(len(pairs), m, -1)
    gaps = near.gap_m.reshape(len(pairs), m)
    counts = _first_met(spread, way, gaps - limit_m, roots)
    out = []
    for k in np.flatnonzero(counts):
        one = _straight(int(pairs[k]), gaps[k], roots[k], limit_m)
        often = counts[k] >= _OFTEN * counts.sum()
        out.append(_bent(spread, poses, one) if often else one)
    return tuple(out)


def _within_reach(spread: RigSpread, poses: PoseTurns, m: int, limit_m: float) -> Indices:
    """Pairs that come within so many standard deviations of the limit, judged where each is
    nearest of every second pose."""
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
    return np.asarray(close[left[close] < _FAR_SIGMAS * sigma])


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


def first_below(way: PoseTrack, near: tuple[Nearing, ...], drawn: Floats, limit_m: float) -> tuple[
    Floats, Indices
]:  # fmt: skip
    """Hour angle at which each rig drawn first comes below the limit, and which pair does it (its
    number in `Bodies.pairs`); inf and -1 where none does on this way."""
    first = np.full(drawn.shape[1], np.inf)
    which = np.full(drawn.shape[1], -1)
    for one in near:
        room = one.gap_m - limit_m
        rows = np.flatnonzero(room < _FAR_SIGMAS * one.sigma_m)
        if not rows.size:
            continue
        some = slice(max(int(rows[0]) - 1, 0), int(rows[-1]) + 1)
        left = one.root[some].astype(np.float32) @ drawn
        left += room[some, None]
        along = one.line.astype(np.float32) @ drawn
        square = along * along
        left += np.outer(one.bend_near[some], np.where(along < 0.0, square, 0.0))
        left += np.outer(one.bend_far[some], np.where(along > 0.0, square, 0.0))
        at = _first(way.hour_angle_h[some], left)
        sooner = at < first
        first[sooner], which[sooner] = at[sooner], one.pair
    return first, which


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


def _straight(pair: int, gap: Floats, root: Floats, limit_m: float) -> Nearing:
    """A distance that grows straight with the dimensions."""
    sigma = np.maximum(np.linalg.norm(root, axis=1), 1e-12)
    left = (gap - limit_m) / sigma
    soon = left < _BENT_AT
    likely = int(soon.argmax() if soon.any() else left.argmin())
    still = np.zeros(len(gap))
    return Nearing(pair, gap, root, root[likely] / sigma[likely], still, still)


def _bent(spread: RigSpread, poses: PoseTurns, one: Nearing) -> Nearing:
    """The same with its bend along the line that leads to contact most quickly."""
    m = len(one.gap_m)
    bends = []
    for towards in (-_BENT_AT, _BENT_AT):
        shapes = spread.shapes_at(spread.root @ (one.line * towards))
        there = nearest(shapes, spread.meet, poses, np.full(m, one.pair), np.arange(m)).gap_m
        bends.append((there - one.gap_m - one.root @ one.line * towards) / _BENT_AT**2)
    return replace(one, bend_near=bends[0], bend_far=bends[1])
