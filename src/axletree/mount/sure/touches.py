"""On which of the rigs that this one may be does something touch while objects are followed?

Asked of all stops of an evening at once: it is rare chances that are counted, on all rigs drawn.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.passage import (
    FAR_M,
    FAR_SIGMAS,
    JUDGED_HALVINGS,
    NEARER_SIGMAS,
    NO_MATTER_SIGMAS,
    PoseTrack,
)
from axletree.mount.sure.rigs_drawn import DrawnPairs
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices, Mask, distinct


def touched(spread: RigSpread, ways: Sequence[PoseTrack]) -> Mask:
    """(w, n): on which of the n rigs drawn something touches in a pose of each of w ways."""
    tube_end_h = np.concatenate([way.tube_end_h for way in ways])
    swing_deg = np.concatenate([way.swing_deg for way in ways])
    way = np.repeat(np.arange(len(ways)), [len(one.tube_end_h) for one in ways])
    poses, n = PoseTurns.of(spread.bodies, tube_end_h, swing_deg), spread.drawn.shape[1]
    out = np.zeros((len(ways), n), dtype=bool)
    pairs, at = _within_reach(spread, poses, way)
    if not pairs.size:
        return out
    near = nearest(spread.shapes, spread.meet, poses, pairs, at)
    slopes = gap_slopes(spread.shapes, spread.slopes_drawn, spread.meet, near, pairs)
    straight = slopes.astype(np.float32) @ spread.drawn
    sooner = near.gap_m - NEARER_SIGMAS * np.linalg.norm(slopes, axis=1)
    may = straight < -sooner[:, np.newaxis].astype(np.float32)
    asked, rig = divmod(np.flatnonzero(may), n)
    some = distinct(pairs)
    drawn = DrawnPairs.of(spread, poses, some)
    gaps = drawn.gaps(np.searchsorted(some, pairs[asked]), at[asked], rig)
    below = gaps < 0.0
    out[way[at[asked[below]]], rig[below]] = True
    return out


def _within_reach(spread: RigSpread, poses: PoseTurns, way: Indices) -> tuple[Indices, Indices]:
    """Pairs and poses (r,) in which they may touch: those of pairs that come within so many
    standard deviations on their way (m,), judged in the pose of it where they are nearest."""
    p, m = len(spread.meet.moving), len(way)
    each, at = np.repeat(np.arange(p), m), np.tile(np.arange(m), p)
    near = nearest(spread.shapes, spread.meet, poses, each, at, JUDGED_HALVINGS)
    gaps = near.gap_m.reshape(p, m)
    least = _least_of_ways(gaps, way)
    here = np.flatnonzero((gaps == least[:, way]).ravel() & (least[:, way] < FAR_M).ravel())
    slopes = gap_slopes(spread.shapes, spread.slopes_drawn, spread.meet, near.of(here), each[here])
    sigma = np.zeros_like(least)
    sigma[each[here], way[at[here]]] = np.linalg.norm(slopes, axis=1)
    kept = least < FAR_SIGMAS * sigma
    matters = kept[:, way] & (gaps < NO_MATTER_SIGMAS * sigma[:, way])
    return each[matters.ravel()], at[matters.ravel()]


def _least_of_ways(gaps: Floats, way: Indices) -> Floats:
    """(p, w): the least of each way's columns of (p, m), which stand together."""
    first = np.flatnonzero(np.diff(way, prepend=-1))
    return np.asarray(np.minimum.reduceat(gaps, first, axis=1))
