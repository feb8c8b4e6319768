"""Can this rig work at all?

Refused in one line: parts that touch when the rig is at rest (weights hanging, tube along the
polar axis), things on the tube that sit inside the head, and a tube so long that it meets ground
or tripod wherever it turns.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.mount.clearance.nearest import Bodies, bodies, distances, least_distance
from axletree.mount.rig.kinematics import SIDES, Axes, axis_angles
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats
from axletree.sky.directions import vector_from_hour_angle

# Of the sky above 20 degrees, some tube side must reach this share (our figure).
LEAST_SHARE = 0.6
_LOW_DEG = 20.0


def check_rig(rig: Rig, axes: Axes, pairs: Bodies | None = None) -> None:
    """Raise an AxletreeError when the rig can't work; nothing when it can."""
    pairs = bodies(rig, axes) if pairs is None else pairs
    if pairs.constant_m < 0:
        raise AxletreeError(
            f"the rig collides with itself in every pose: {_both(pairs.constant_parts)} overlap by "
            f"{-pairs.constant_m * 1000:.0f} mm; check offsets, angles and radii of what is on "
            "the tube"
        )
    apart, pair = least_distance(pairs, 0.0, 0.0)
    if apart < 0:
        raise AxletreeError(
            "the rig collides with itself at rest (weights down, tube along the polar axis): "
            f"{_both(pairs.parts(int(pair)))} touch; {_advice(pairs, int(pair))}"
        )
    if (share := reachable_share(pairs, axes)) < LEAST_SHARE:
        parts = stopping_most(pairs, axes)
        raise AxletreeError(
            f"the tube is longer than the mount can turn: only {share * 100:.0f} % of the sky "
            f"above {_LOW_DEG:.0f}° can be reached, mostly because {_both(parts)} meet; a "
            "column or a higher tripod helps, or check length_mm (millimetres)"
        )


def reachable_share(pairs: Bodies, axes: Axes) -> float:
    """Share of the sky above 20 degrees that some tube side reaches."""
    H, d = _grid(axes)
    area = np.cos(np.radians(d))
    clear = np.zeros(len(H), dtype=np.bool_)
    for side in SIDES:  # of the second only what the first doesn't reach
        left = ~clear
        clear[left] = least_distance(pairs, *axis_angles(axes, side, H[left], d[left]))[0] >= 0
    return float(area[clear].sum() / area.sum())


def stopping_most(pairs: Bodies, axes: Axes) -> tuple[str, ...]:
    """The two parts that meet most in that sky, on either tube side; () where nothing does."""
    H, d = _grid(axes)
    found = [least_distance(pairs, *axis_angles(axes, side, H, d)) for side in SIDES]
    stopped = np.concatenate([pair[apart < 0] for apart, pair in found])
    return pairs.parts(int(np.bincount(stopped).argmax())) if stopped.size else ()


def _grid(axes: Axes) -> tuple[Floats, Floats]:
    """Hour angles and declinations all over the sky above 20 degrees."""
    hours = np.arange(-12.0, 12.0, 0.5)
    declinations = np.arange(-87.5, 90.0, 5.0)
    H, d = (a.ravel() for a in np.meshgrid(hours, declinations, indexing="ij"))
    up = vector_from_hour_angle(H, d, axes.latitude_deg)[:, 2] > np.sin(np.radians(_LOW_DEG))
    return H[up], d[up]


def _both(parts: tuple[str, ...]) -> str:
    return " and ".join(parts)


def _advice(pairs: Bodies, pair: int) -> str:
    meeting = pairs.pairs[pair]
    if meeting.moving in ("counterweight", "counterweight shaft") and "leg" in meeting.other:
        return (
            "turn the tripod by 60 degrees (leg_directions_deg), or use heavier weights nearer "
            "to the head"
        )
    if meeting.moving in ("counterweight", "counterweight shaft"):
        return "check mount.head (pivot, crossing, shaft) and the weights' sizes"
    deep = distances(pairs, 0.0, 0.0, [pair])[0]
    return f"they overlap by {-float(deep) * 1000:.0f} mm or more; check their lengths in mm"
