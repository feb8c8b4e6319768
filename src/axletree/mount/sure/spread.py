"""Which rigs may this one be, given what is known of its dimensions?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property, lru_cache

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.dimension import read_off_sigma
from axletree.mount.clearance.nearest import Bodies
from axletree.mount.dimensions.names import key_of
from axletree.mount.dimensions.of_kit import Dimensions, dimensions_of
from axletree.mount.rig.kinematics import Axes, frames
from axletree.mount.rig.parts import Rig
from axletree.mount.room.table import RoomTable
from axletree.mount.sure.nearness import Meetings
from axletree.mount.sure.shapes import Shapes, ShapeSlopes, changed_rig, shape_slopes, shapes_of
from axletree.sky.arrays import Floats, Indices, Reals

DRAWN = 2048
_SEED = 20261129


@dataclass(frozen=True, eq=False)
class DrawnRods:
    """Rods in the frames of `Shapes`, of each of n rigs drawn, metres."""

    start_m: Reals  # (3, n)
    end_m: Reals  # (3, n)
    radius_m: Reals  # (n,)

    @staticmethod
    def joined(rods: Sequence[DrawnRods]) -> DrawnRods:
        """One after the other."""
        return DrawnRods(
            np.concatenate([one.start_m for one in rods], axis=1),
            np.concatenate([one.end_m for one in rods], axis=1),
            np.concatenate([one.radius_m for one in rods]),
        )

    def of(self, rows: Indices) -> DrawnRods:
        """Some of them."""
        return DrawnRods(
            self.start_m.take(rows, axis=1), self.end_m.take(rows, axis=1),
            self.radius_m.take(rows),
        )  # fmt: skip


@dataclass(frozen=True, eq=False)
class RigSpread:
    """A kit's rig on its axes with all the rigs that it may be.

    `bodies` are those of `rig` on `axes`; `known` its dimensions with their covariance. `camera`:
    the kit's camera is in the focuser.
    """

    kit: Kit
    rig: Rig
    axes: Axes
    bodies: Bodies
    known: Dimensions
    camera: bool = False

    @staticmethod
    def of(kit: Kit, table: RoomTable, *, camera: bool = False) -> RigSpread:
        """What may be said of the rig of a room table that was made of this kit."""
        return RigSpread(kit, table.rig, table.axes, table.bodies, dimensions_of(kit), camera)

    @cached_property
    def slopes(self) -> ShapeSlopes:
        """How every part moves with each dimension: one rig built for each, 40 ms."""
        return shape_slopes(self.kit, self.rig, self.axes, self.known, camera=self.camera)

    @cached_property
    def slopes_drawn(self) -> ShapeSlopes:
        """How every part moves with each of the independent normal numbers."""
        return self.slopes.along(self.root)

    @cached_property
    def shapes(self) -> Shapes:
        """The rods of the rig as it is taken to be."""
        return shapes_of(self.rig, self.axes)

    @cached_property
    def meet(self) -> Meetings:
        """Which of them may meet, in the order of `bodies.pairs`."""
        return Meetings.of(self.bodies, self.slopes.still_rows)

    @property
    def root(self) -> Floats:
        """(n, r) whose product with itself is the covariance."""
        return self.known.root

    @cached_property
    def measured_to(self) -> Floats:
        """(n,): one standard deviation of each dimension once somebody measures it."""
        pairs = zip(self.known.names, self.known.values.tolist(), strict=True)
        return np.array([read_off_sigma(key_of(name), value) for name, value in pairs])

    def eye_sigma_m(self, tube_end_h: float, swing_deg: float) -> float:
        """One standard deviation of the eye's height above the ground in a pose, metres."""
        n = self.rig.ground_normal
        _, tube = frames(self.axes, np.asarray(tube_end_h), np.asarray(swing_deg))
        grow = self.slopes_drawn
        return float(np.linalg.norm(grow.height + grow.eye @ (n @ tube)) / n[2])

    def variance_taken(self, lines: Floats, left: Floats) -> Floats:
        """(n, k): what measuring each dimension takes from the variance of quantities that grow
        with the normal numbers as `lines` (k, r) say; `left` (r, r) is what is open of these.

        Bayes' rule for normal distributions: with slopes g, (C g)_i^2 / (C_ii + e^2) of g' C g,
        where it is measured to e. Nothing is taken where a dimension is known so well already.
        """
        towards = self.root @ left
        spare = (towards * self.root).sum(axis=1) + self.measured_to**2
        taken = (towards @ lines.T) ** 2 / spare[:, np.newaxis]
        return np.where((self.known.sigmas > self.measured_to)[:, np.newaxis], taken, 0.0)

    def narrowed(self, left: Floats, i: int) -> Floats:
        """(r, r): what is left open of the normal numbers once dimension i is measured, too."""
        towards = left @ self.root[i]
        spare = self.root[i] @ towards + self.measured_to[i] ** 2
        return np.asarray(left - np.outer(towards, towards) / spare)

    def measured(self, left: Floats) -> RigSpread:
        """The same, with the rigs drawn as near to this one as `left` (r, r) of the normal numbers
        says, for dimensions that were measured as the kit has them."""
        values, vectors = np.linalg.eigh(left)
        root = (vectors * np.sqrt(np.clip(values, 0.0, None))) @ vectors.T
        other = replace(self)
        for name in ("slopes", "slopes_drawn", "shapes", "meet"):  # nothing of these changes
            other.__dict__[name] = getattr(self, name)
        other.__dict__["drawn"] = root.astype(np.float32) @ self.drawn
        return other

    @cached_property
    def drawn(self) -> Floats:
        """(r, DRAWN) standard normal numbers, always the same: stops share the rigs drawn. Where
        rigs were drawn that agree with notes of the mount, theirs: not quite normal then."""
        root, rigs = self.root, self.known.drawn
        if rigs is None:
            return normals(root.shape[1])
        return np.asarray((root / (root**2).sum(axis=0)).astype(np.float32).T @ rigs)

    def shapes_at(self, off: Floats) -> Shapes:
        """The rods of the rig whose dimensions are off by so much (n,)."""
        known = self.known
        rig = changed_rig(self.kit, self.rig, known.names, known.values + off, camera=self.camera)
        return shapes_of(rig, self.axes)

    def rods_drawn(self, part: int) -> DrawnRods:
        """The rods of a part on each rig drawn; each part is asked once."""
        kept = self._rods_drawn.get(part)
        if kept is None:
            here = self.shapes
            grow = self.slopes_drawn.of_parts[part].astype(np.float32) @ self.drawn
            middle = np.array([*here.start_m[part], *here.end_m[part], here.radius_m[part]])
            rod = grow + middle[:, np.newaxis].astype(np.float32)
            kept = self._rods_drawn[part] = DrawnRods(rod[:3], rod[3:6], rod[6])
        return kept

    @cached_property
    def _rods_drawn(self) -> dict[int, DrawnRods]:
        return {}

    @cached_property
    def heights_drawn(self) -> Floats:
        """The crossing's height above the ground on each rig drawn, metres."""
        grow = self.slopes_drawn.height.astype(np.float32)
        return np.asarray(np.float32(self.shapes.height_m) + grow @ self.drawn)


@lru_cache(maxsize=8)
def normals(count: int, many: int = DRAWN) -> Floats:
    """(count, many) standard normal numbers, always the same: in opposite pairs, and their
    covariance made exact."""
    half = np.random.default_rng(_SEED).standard_normal((count, many // 2))
    both = np.concatenate((half, -half), axis=1)
    root = np.linalg.cholesky(both @ both.T / many)
    z = np.linalg.solve(root, both).astype(np.float32)
    z.setflags(write=False)
    return np.asarray(z)
