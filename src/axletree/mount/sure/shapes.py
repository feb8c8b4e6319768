"""How does every part of a rig move when one of its dimensions changes?

Each dimension is changed a little, and the rig built and balanced anew: weights and tube sit where
that rig would be in balance, with the weights that the kit's own rig carries.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from functools import cached_property
from itertools import zip_longest

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.balance.weights import Loading, place
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import Dimensions
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import Axes, crossing_m, head_frame
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, Rig
from axletree.sky.arrays import Floats, Indices

# Part of a standard deviation by which a dimension is changed: rods move all but straight over it.
_STEP = 0.2
# Of the head's dimensions those by which the crossing stands above the tripod.
_BELOW_THE_AXES = frozenset((
    "mount.head.pivot_height_mm", "mount.head.crossing_along_mm", "mount.head.crossing_above_mm",
))  # fmt: skip


@dataclass(frozen=True, eq=False)
class Shapes:
    """The rods of a rig's k parts as `Bodies` has them, metres.

    What stands still is given from the crossing, along the axis's meridian, the pole cross it and
    the pole; what turns, in the frame that it turns with. `height_m` is the crossing's above the
    ground.
    """

    start_m: Floats  # (k, 3)
    end_m: Floats  # (k, 3)
    radius_m: Floats  # (k,)
    height_m: float


@dataclass(frozen=True, eq=False)
class ShapeSlopes:
    """How the same rods move with each of n dimensions, or of n other numbers that these follow:
    metres per unit of the number."""

    still_rows: Indices  # parts of the rig that stand still, in the order of `Bodies.statics`
    start: Floats  # (n, k, 3)
    end: Floats  # (n, k, 3)
    radius: Floats  # (n, k)
    height: Floats  # (n,)
    eye: Floats  # (n, 3), where the eye is, in the tube's frame

    @property
    def count(self) -> int:
        """n."""
        return len(self.height)

    @cached_property
    def of_parts(self) -> Floats:
        """(k, 7, n): of each part the two ends of its rod, and its radius."""
        both = np.concatenate((self.start, self.end, self.radius[..., np.newaxis]), axis=2)
        return np.ascontiguousarray(both.transpose(1, 2, 0))

    def along(self, root: Floats) -> ShapeSlopes:
        """How the rods move with r numbers that the dimensions follow as `root` (n, r) says."""
        return ShapeSlopes(self.still_rows, *(
            np.tensordot(root, slope, axes=(0, 0))
            for slope in (self.start, self.end, self.radius, self.height, self.eye)
        ))  # fmt: skip


def shapes_of(rig: Rig, axes: Axes) -> Shapes:
    """The rods of a rig on its axes."""
    return _shapes_of([rig], axes)[0]


def _shapes_of(rigs: Sequence[Rig], axes: Axes) -> list[Shapes]:
    """The same of some rigs whose parts are in the same frames."""
    cross = np.stack([crossing_m(rig, axes) for rig in rigs])
    basis = np.stack((axes.meridian, np.cross(axes.pole, axes.meridian), axes.pole))
    cone = math.radians(axes.cone_arcmin / 60.0)
    c, s = math.cos(cone), math.sin(cone)
    tilt = np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])
    turns = (
        (GROUND, basis, cross[:, np.newaxis]),
        (HEAD, basis @ head_frame(axes), np.zeros(3)),
        (DECLINATION, tilt, np.zeros(3)),
    )
    start = np.stack([rig.start_m for rig in rigs])
    end = np.stack([rig.end_m for rig in rigs])
    for frame, turn, origin in turns:
        rows = np.flatnonzero(rigs[0].frame == frame)
        start[:, rows] = (start[:, rows] - origin) @ turn.T
        end[:, rows] = (end[:, rows] - origin) @ turn.T
    return [
        Shapes(start[i], end[i], rig.radius_m, float(rig.ground_normal @ cross[i]))
        for i, rig in enumerate(rigs)
    ]


def shape_slopes(
    kit: Kit, rig: Rig, axes: Axes, known: Dimensions, *, camera: bool = False
) -> ShapeSlopes:
    """How the rods of `rig`, which was built of this kit, move with each of its dimensions.

    `camera`: the kit's camera is in its focuser.
    """
    n, k = len(known.names), len(rig.names)
    start, end = np.zeros((n, k, 3)), np.zeros((n, k, 3))
    radius, height, eye = np.zeros((n, k)), np.zeros(n), np.zeros((n, 3))
    step, moved = _STEP * known.sigmas, np.flatnonzero(known.sigmas).tolist()
    below = [i for i in moved if _is_below_the_axes(known.names[i])]
    above = [i for i in moved if not _is_below_the_axes(known.names[i])]
    # One of each on the same rig: neither moves what the other does.
    both = [[i for i in two if i is not None] for two in zip_longest(below, above)]
    rigs = [
        changed_rig(
            kit, rig, tuple(known.names[i] for i in some), known.values[some] + step[some],
            camera=camera,
        )
        for some in both
    ]  # fmt: skip
    here, *all_there = _shapes_of([rig, *rigs], axes)
    grounded = rig.frame == GROUND
    for some, changed, there in zip(both, rigs, all_there, strict=True):
        for i in some:
            stands = _is_below_the_axes(known.names[i])
            own = grounded if stands else ~grounded
            start[i, own] = (there.start_m - here.start_m)[own] / step[i]
            end[i, own] = (there.end_m - here.end_m)[own] / step[i]
            radius[i, own] = (there.radius_m - here.radius_m)[own] / step[i]
            if stands:
                height[i] = (there.height_m - here.height_m) / step[i]
            else:
                eye[i] = (changed.eye_point_m - rig.eye_point_m) / step[i]
    still = np.flatnonzero(grounded | (rig.frame == HEAD))
    return ShapeSlopes(still, start, end, radius, height, eye)


def _is_below_the_axes(name: str) -> bool:
    """Whether a dimension moves what stands on the ground, as seen from the crossing, and nothing
    else."""
    return name.startswith("mount.tripod.") or name in _BELOW_THE_AXES


def changed_rig(
    kit: Kit, rig: Rig, names: tuple[str, ...], values: Floats, *, camera: bool = False
) -> Rig:
    """The rig with these dimensions, the weights that `rig` carries slid to where they balance it,
    or as near as they come: nobody hangs others on the shaft because a length is doubted."""
    changed = with_dimensions(kit, values, names)
    hung = _hung(kit, rig.loading)
    if not hung:
        return build_rig(changed, camera=camera, loading=rig.loading)
    owned = changed.mount.weights
    weights = tuple(owned[k].model_copy(update={"count": n}) for k, n in Counter(hung).items())
    mount = changed.mount.model_copy(update={"weights": weights})
    changed = changed.model_copy(update={"mount": mount})
    made = build_rig(changed, camera=camera)
    if len(made.loading.mass_kg) == len(hung):
        return made
    # Fewer would do, but nobody takes one off.
    order = [(owned[k].mass_kg, owned[k].thickness_mm) for k in hung]
    need = made.loading.moment_kg_m + made.loading.leftover_kg_m
    slid = place(order, mount.head.shaft_start_mm, mount.head.shaft_length_mm, need)
    return build_rig(changed, camera=camera, loading=slid)


def _hung(kit: Kit, loading: Loading) -> list[int]:
    """Which of the kit's weights are in this loading, in its order."""
    left = [weight.count for weight in kit.mount.weights]
    found = []
    for mass, thickness in zip(loading.mass_kg, loading.thickness_mm, strict=True):
        at = next(
            k for k, weight in enumerate(kit.mount.weights)
            if left[k] and (weight.mass_kg, weight.thickness_mm) == (mass, thickness)
        )  # fmt: skip
        left[at] -= 1
        found.append(at)
    return found
