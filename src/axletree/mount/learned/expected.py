"""How near would the parts be in the poses of notes, on a rig with other dimensions?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from axletree.axis.state import GapNote
from axletree.mount.rig.kinematics import axis_angles, side_sign
from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.shapes import Shapes
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

_POSE_STEP_DEG = 0.2
_DRAWN = 512  # rigs by which it is judged which parts a note is of
# A pair that is the nearest on less than this share of the rigs that fit isn't thought of.
_SELDOM = 0.1


@dataclass(frozen=True, eq=False)
class NotedPoses:
    """The poses of some notes on a rig's axes: both angles of each, (m,)."""

    spread: RigSpread
    tube_end_h: Floats
    swing_deg: Floats

    @staticmethod
    def of(spread: RigSpread, notes: Sequence[GapNote]) -> NotedPoses:
        """Where the axes stood."""
        sides = side_sign([note.side for note in notes])
        H = np.array([note.hour_angle_h for note in notes])
        d = np.array([note.declination_deg for note in notes])
        return NotedPoses(spread, *axis_angles(spread.axes, sides, H, d))

    def gaps_m(self, off: Floats) -> Floats:
        """(m, pairs): the distance of every pair, on rigs whose dimensions are off by `off`
        (m, n), one rig a pose."""
        s, count = self.spread, len(self.spread.meet.moving)
        poses = self._turns(self.tube_end_h, self.swing_deg)
        rows = []
        built: dict[bytes, int] = {}
        shapes: list[Shapes] = []
        for i, one in enumerate(off):
            which = built.setdefault(one.tobytes(), len(shapes))
            if which == len(shapes):
                shapes.append(s.shapes_at(one))
            near = nearest(shapes[which], s.meet, poses, np.arange(count), np.full(count, i))
            rows.append(near.gap_m)
        return np.array(rows)

    def slopes(self, off: Floats, pairs: Indices) -> Floats:
        """(m, n): how the distance of one pair a pose grows with each dimension, there."""
        s = self.spread
        poses = self._turns(self.tube_end_h, self.swing_deg)
        out = []
        for i, (one, pair) in enumerate(zip(off, pairs.tolist(), strict=True)):
            shapes, which = s.shapes_at(one), np.array([pair])
            near = nearest(shapes, s.meet, poses, which, np.array([i]))
            out.append(gap_slopes(shapes, s.slopes, s.meet, near, which)[0])
        return np.array(out)

    def pose_slopes(self, pairs: Indices) -> Floats:
        """(m,): how much the distance of one pair changes with a degree on either axis, both
        together as independent errors."""
        at = np.arange(len(pairs))
        steps = []
        for h, w in ((_POSE_STEP_DEG, 0.0), (0.0, _POSE_STEP_DEG)):
            both = [
                nearest(
                    self.spread.shapes, self.spread.meet,
                    self._turns(self.tube_end_h + sign * h / 15.0, self.swing_deg + sign * w),
                    pairs, at,
                ).gap_m
                for sign in (-1.0, 1.0)
            ]  # fmt: skip
            steps.append((both[1] - both[0]) / (2.0 * _POSE_STEP_DEG))
        return np.asarray(np.hypot(*steps))

    def likely_pairs(self, gap_m: Floats, error_m: Floats) -> list[list[int]]:
        """Of each note, which pairs it may be of, the likeliest first: those that are the nearest
        on the rigs drawn that fit it best."""
        s = self.spread
        count = len(s.meet.moving)
        poses = self._turns(self.tube_end_h, self.swing_deg)
        found = []
        for i, (gap, error) in enumerate(zip(gap_m.tolist(), error_m.tolist(), strict=True)):
            every = np.arange(count)
            near = nearest(s.shapes, s.meet, poses, every, np.full(count, i))
            roots = gap_slopes(s.shapes, s.slopes, s.meet, near, every) @ s.root
            left = near.gap_m[:, None] + roots @ s.drawn[:, :_DRAWN]
            first, least = left.argmin(axis=0), left.min(axis=0)
            wide = max(error, 0.25 * float(least.std()), 0.2 * float(np.abs(least - gap).min()))
            weight = np.exp(-0.5 * np.minimum(((least - gap) / wide) ** 2, 600.0))
            share = np.bincount(first, weights=weight, minlength=count)
            share = share / share.sum()
            order = np.argsort(-share)
            found.append([int(k) for k in order if share[k] >= _SELDOM] or [int(order[0])])
        return found

    def _turns(self, tube_end_h: Floats, swing_deg: Floats) -> PoseTurns:
        return PoseTurns.of(self.spread.bodies, tube_end_h, swing_deg)
