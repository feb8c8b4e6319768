"""How near would the parts be in the poses of notes, on a rig with other dimensions?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from axletree.axis.state import GapNote
from axletree.mount.rig.kinematics import axis_angles, side_sign
from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.shapes import Shapes
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

_POSE_STEP_DEG = 0.2


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

    @cached_property
    def turns(self) -> PoseTurns:
        """The same as rotations."""
        return self._turned(0.0, 0.0)

    def shapes(self, off: Floats) -> list[Shapes]:
        """(m,): the rods of the rig of each pose, whose dimensions are off by `off` (m, n); poses
        with the same dimensions share a rig."""
        built: dict[bytes, Shapes] = {}
        for one in off:
            if one.tobytes() not in built:
                built[one.tobytes()] = self.spread.shapes_at(one)
        return [built[one.tobytes()] for one in off]

    def gaps_m(self, shapes: Sequence[Shapes]) -> Floats:
        """(m, pairs): the distance of every pair, on one rig a pose."""
        meet = self.spread.meet
        every = np.arange(len(meet.moving))
        return np.array([
            nearest(one, meet, self.turns, every, np.full(len(every), i)).gap_m
            for i, one in enumerate(shapes)
        ])  # fmt: skip

    def slopes(self, shapes: Sequence[Shapes], pairs: Indices) -> Floats:
        """(m, n): how the distance of one pair a pose grows with each dimension, there."""
        s, out = self.spread, []
        for i, one in enumerate(shapes):
            which = pairs[i : i + 1]
            near = nearest(one, s.meet, self.turns, which, np.array([i]))
            out.append(gap_slopes(one, s.slopes, s.meet, near, which)[0])
        return np.array(out)

    def all_slopes(self, shapes: Sequence[Shapes]) -> Iterator[tuple[Floats, Floats]]:
        """Of each pose every pair's distance (pairs,) and how it grows with each dimension."""
        s = self.spread
        every = np.arange(len(s.meet.moving))
        for i, one in enumerate(shapes):
            near = nearest(one, s.meet, self.turns, every, np.full(len(every), i))
            yield near.gap_m, gap_slopes(one, s.slopes, s.meet, near, every)

    def pose_slopes(self, pairs: Indices) -> Floats:
        """(m,): how much the distance of one pair changes with a degree on either axis, both
        together as independent errors."""
        at = np.arange(len(pairs))
        steps = []
        for h, w in ((_POSE_STEP_DEG, 0.0), (0.0, _POSE_STEP_DEG)):
            both = [
                nearest(
                    self.spread.shapes, self.spread.meet,
                    self._turned(sign * h, sign * w), pairs, at,
                ).gap_m
                for sign in (-1.0, 1.0)
            ]  # fmt: skip
            steps.append((both[1] - both[0]) / (2.0 * _POSE_STEP_DEG))
        return np.asarray(np.hypot(*steps))

    def _turned(self, hour_deg: float, swing_deg: float) -> PoseTurns:
        """With both axes turned on by so much."""
        return PoseTurns.of(
            self.spread.bodies, self.tube_end_h + hour_deg / 15.0, self.swing_deg + swing_deg
        )


def likely_ways(
    spread: RigSpread, notes: Sequence[GapNote], errors_m: Sequence[float], most: int
) -> list[tuple[int, ...]]:
    """The likeliest ways to say of which pair each note is, `most` of them: which pairs are the
    nearest in all the poses on the rigs drawn that fit all notes best."""
    asked = [_nearest_drawn(spread, *one) for one in zip(notes, errors_m, strict=True)]
    first = np.stack([pairs for pairs, _ in asked])
    misfit = np.sum([one for _, one in asked], axis=0)
    weight = np.exp(-0.5 * (misfit - misfit.min()))
    ways: dict[tuple[int, ...], float] = {}
    for way, share in zip(map(tuple, first.T.tolist()), weight.tolist(), strict=True):
        ways[way] = ways.get(way, 0.0) + share
    return sorted(ways, key=lambda way: -ways[way])[:most]


@lru_cache(maxsize=64)  # a note is asked again each time another one is left out
def _nearest_drawn(spread: RigSpread, note: GapNote, error_m: float) -> tuple[Indices, Floats]:
    """Which pair is the nearest in a note's pose on each rig drawn, and how badly its distance
    fits (squares of an error wide enough for some rigs to fit)."""
    count, gap = len(spread.meet.moving), note.gap_mm / 1000.0
    turns, every = NotedPoses.of(spread, [note]).turns, np.arange(count)
    near = nearest(spread.shapes, spread.meet, turns, every, np.zeros_like(every))
    roots = gap_slopes(spread.shapes, spread.slopes_drawn, spread.meet, near, every)
    left = near.gap_m[:, None] + roots @ spread.drawn
    least = left.min(axis=0)
    wide = max(error_m, 0.25 * float(least.std()), 0.2 * float(np.abs(least - gap).min()))
    return left.argmin(axis=0), ((least - gap) / wide) ** 2
