"""How near would the parts be in the poses of notes, on a rig with other dimensions?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property, lru_cache

import numpy as np

from axletree.axis.state import GapNote
from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import axis_angles, side_sign
from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.rigs_drawn import DrawnPairs
from axletree.mount.sure.shapes import Shapes
from axletree.mount.sure.spread import DrawnRods, RigSpread
from axletree.sky.arrays import Floats, Indices, Mask, Reals

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

    def later(self, hours: float) -> NotedPoses:
        """The poses after the mount has followed for so long."""
        return replace(self, tube_end_h=self.tube_end_h + hours)

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

    def drawn_gaps(self, i: int, shapes: Shapes, off: Reals, asked: Mask) -> Reals:
        """(pairs, k): the distance of pairs in pose i on each of k rigs whose dimensions are `off`
        (n, k) those of `shapes`, where it is `asked` (pairs, k); inf elsewhere."""
        s = self.spread
        pairs = np.flatnonzero(asked.any(axis=1))
        rods = {
            part: _moved(shapes, part, s.slopes.of_parts[part].astype(np.float32) @ off)
            for part in {*s.meet.moving[pairs].tolist(), *s.meet.still[pairs].tolist()}
            if part >= 0
        }
        heights = np.float32(shapes.height_m) + s.slopes.height.astype(np.float32) @ off
        turns = PoseTurns(self.turns.into_shaft[i : i + 1], self.turns.into_tube[i : i + 1])
        drawn = DrawnPairs.of_rods(s.meet, turns, pairs, rods, heights)
        which, rig = np.nonzero(asked[pairs])
        out = np.full(asked.shape, np.inf, dtype=np.float32)
        out[pairs[which], rig] = drawn.gaps(which, np.zeros_like(which), rig)
        return out

    def pose_slopes(self, shapes: Sequence[Shapes], pairs: Indices) -> Floats:
        """(m,): how much the distance of one pair a pose changes with a degree on either axis, both
        together as independent errors; on one rig a pose."""
        steps = []
        for h, w in ((_POSE_STEP_DEG, 0.0), (0.0, _POSE_STEP_DEG)):
            back, on = (self._gaps_turned(shapes, pairs, sign * h, sign * w) for sign in (-1, 1))
            steps.append((on - back) / (2.0 * _POSE_STEP_DEG))
        return np.asarray(np.hypot(*steps))

    def _gaps_turned(
        self, shapes: Sequence[Shapes], pairs: Indices, hour_deg: float, swing_deg: float
    ) -> Floats:
        meet, turns = self.spread.meet, self._turned(hour_deg, swing_deg)
        return np.array([
            nearest(one, meet, turns, pairs[i : i + 1], np.array([i])).gap_m[0]
            for i, one in enumerate(shapes)
        ])  # fmt: skip

    def _turned(self, hour_deg: float, swing_deg: float) -> PoseTurns:
        """With both axes turned on by so much."""
        return PoseTurns.of(
            self.spread.bodies, self.tube_end_h + hour_deg / 15.0, self.swing_deg + swing_deg
        )


def _moved(shapes: Shapes, part: int, by: Reals) -> DrawnRods:
    rod = np.array([*shapes.start_m[part], *shapes.end_m[part], shapes.radius_m[part]])
    moved = by + rod[:, np.newaxis].astype(np.float32)
    return DrawnRods(moved[:3], moved[3:6], moved[6])


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
