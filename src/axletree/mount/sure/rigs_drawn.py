"""How near are two parts of each rig drawn, in a pose?

The rods of a part move straight with the dimensions; their distance doesn't, where a nearest point
leaves a rod's end or rounds its rim. So rods are moved straight and distances worked out anew.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.sure.nearness import Meetings, PoseTurns, line_to_cylinder
from axletree.mount.sure.spread import DrawnRods, RigSpread
from axletree.sky.arrays import Floats, Indices, Mask, Reals

# To 2 mm a metre along the line, which the distance feels in second order: under 0.1 mm.
_HALVINGS = 9
_TINY_M = 1e-6


@dataclass(frozen=True, eq=False)
class DrawnPairs:
    """Some pairs of parts (p,) on all rigs drawn (n,): rods as `DrawnRods`, one pair after the
    other, (3, p * n) and (p * n,); `turns` (3, 3, 2 * m) of m poses, into the shaft's frame and
    then into the tube's."""

    moving: DrawnRods
    still: DrawnRods
    height_m: Reals  # (n,) of the crossing above the ground
    on_tube: Mask  # (p,)
    flat: Mask  # (p,)
    ground: Mask  # (p,)
    normal: Floats  # (3,) of the ground
    turns: Reals

    @staticmethod
    def of(spread: RigSpread, poses: PoseTurns, pairs: Indices) -> DrawnPairs:
        """`pairs` as numbered in `spread.meet`."""
        meet = spread.meet
        parts = {*meet.moving[pairs].tolist(), *meet.still[pairs].tolist()}
        rods = {part: spread.rods_drawn(part) for part in parts if part >= 0}
        return DrawnPairs.of_rods(meet, poses, pairs, rods, spread.heights_drawn)

    @staticmethod
    def of_rods(
        meet: Meetings, poses: PoseTurns, pairs: Indices, rods: Mapping[int, DrawnRods],
        height_m: Reals,
    ) -> DrawnPairs:  # fmt: skip
        """The same of any rigs (n,), by the rods of the parts."""
        both = np.concatenate((poses.into_shaft, poses.into_tube)).astype(np.float32)
        still = [rods[int(k)] if k >= 0 else rods[int(i)] for k, i in zip(
            meet.still[pairs], meet.moving[pairs], strict=True)]  # fmt: skip
        return DrawnPairs(
            DrawnRods.joined([rods[int(k)] for k in meet.moving[pairs]]),
            DrawnRods.joined(still),
            height_m,
            meet.on_tube[pairs],
            meet.flat[pairs],
            meet.still[pairs] < 0,
            meet.normal.astype(np.float32),
            np.ascontiguousarray(np.moveaxis(both, 0, 2)),
        )

    def gaps(self, pair: Indices, pose: Indices, rig: Indices) -> Reals:
        """Distances in metres, one of each a row (r,); below zero where parts overlap."""
        out = np.empty(len(pair), dtype=np.float32)
        for on_ground, work in ((False, self._of_rods), (True, self._above_ground)):
            rows = np.flatnonzero(self.ground[pair] == on_ground)
            if rows.size:
                out[rows] = work(pair[rows], pose[rows], rig[rows])
        return out

    def _turn(self, pair: Indices, pose: Indices) -> Reals:
        poses = self.turns.shape[2] // 2
        return np.asarray(self.turns.take(pose + poses * self.on_tube[pair], axis=2))

    def _of_rods(self, pair: Indices, pose: Indices, rig: Indices) -> Reals:
        at = pair * len(self.height_m) + rig
        turn, moving, still = self._turn(pair, pose), self.moving.of(at), self.still.of(at)
        first, axis = moving.start_m, moving.end_m - moving.start_m
        length = np.sqrt(_dot(axis, axis))
        axis /= np.maximum(length, _TINY_M)
        begin, end = _turned(turn, still.start_m), _turned(turn, still.end_m)
        step, r = end - begin, begin - first
        flat = self.flat[pair]
        reach = np.where(flat, moving.radius_m, 0.0).astype(np.float32)
        c, rises = _dot(r, axis), _dot(step, axis)
        across, drift = r - c * axis, step - rises * axis
        t = line_to_cylinder(
            (c, rises), (_dot(across, across), _dot(across, drift), _dot(drift, drift)),
            length, reach, _HALVINGS,
        )  # fmt: skip
        off = across + drift * t
        z = c + rises * t
        out = np.maximum(np.sqrt(_dot(off, off)) - reach, 0.0)
        beyond = z - np.minimum(np.maximum(z, 0.0), length)
        gap = np.sqrt(out * out + beyond * beyond)
        return np.asarray(gap - np.where(flat, 0.0, moving.radius_m) - still.radius_m)

    def _above_ground(self, pair: Indices, pose: Indices, rig: Indices) -> Reals:
        turn, moving = self._turn(pair, pose), self.moving.of(pair * len(self.height_m) + rig)
        n = _turned(turn, self.normal[:, np.newaxis])
        axis = moving.end_m - moving.start_m
        along = _dot(n, axis) / np.maximum(np.sqrt(_dot(axis, axis)), _TINY_M)
        level = np.sqrt(np.maximum(1.0 - along * along, 0.0))
        drop = moving.radius_m * np.where(self.flat[pair], level, 1.0)
        least = np.minimum(_dot(n, moving.start_m), _dot(n, moving.end_m))
        return np.asarray(least + self.height_m[rig] - drop)


def _dot(a: Reals, b: Reals) -> Reals:
    return np.asarray(a[0] * b[0] + a[1] * b[1] + a[2] * b[2])


def _turned(turn: Reals, point: Reals) -> Reals:
    return np.asarray(turn[:, 0] * point[0] + turn[:, 1] * point[1] + turn[:, 2] * point[2])
