"""Where in the drawing of a kit does each of its parts sit? For a page on which one taps the part.

Points are in the measure of `kit_view`'s sheet (0 to SIZE, y downwards). What a kit doesn't have
(a camera, a motor) has the point where it would sit.
"""

from __future__ import annotations

import numpy as np

from axletree.mount.rig.kinematics import Axes, placed
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats
from axletree.tell.kit.drawing import frame_of

# A part of the kit: the rods that may show it, the first that is there counts, and how far along.
_SITS: dict[str, tuple[tuple[str, ...], float]] = {
    "tube": (("tube",), 0.72),
    "tube.finder": (("finder", "tube"), 0.5),
    "tube.accessory": (("dew shield", "tube"), 0.05),
    "eyepiece": (("eyepiece", "focuser"), 0.9),
    "barlow": (("focuser", "tube"), 0.9),
    "camera": (("focuser", "tube"), 0.3),
    "mount": (("mount base",), 0.2),
    "mount.tripod": (("leg towards the pole", "north leg", "south leg"), 0.5),
    "mount.head": (("declination housing",), 0.5),
    "mount.weight": (("counterweight", "counterweight shaft"), 0.5),
    "mount.polar_scope": (("polar housing",), 0.0),
    "mount.bolts": (("mount base",), 0.9),
    "mount.gears": (("polar housing",), 0.35),
    "mount.circles": (("polar housing",), 1.0),
    "mount.travel": (("counterweight shaft",), 0.1),
    "mount.motor": (("polar housing",), 0.7),
}
_PAD = 16.0


def plate_data(rig: Rig, axes: Axes) -> dict[str, object]:
    """`points` by part of the kit, [x, y]; `box` around the whole rig, [x, y, width, height]."""
    frame = frame_of(rig, axes)
    start, end = placed(rig, axes, 0.0, 0.0)
    points = {}
    for part, (names, along) in _SITS.items():
        k = next((rig.index(n) for n in names if n in rig.names), None)
        if k is None:  # a tripod whose legs go by other names
            k = next((i for i, n in enumerate(rig.names) if n.endswith("leg")), 0)
        points[part] = [round(v, 1) for v in frame.at(start[k] + along * (end[k] - start[k]))]
    ends = np.array([frame.at(p) for p in (*start, *end)])
    wide = np.tile(rig.radius_m * frame.scale, 2)[:, None]
    return {"points": points, "box": _box(ends, wide)}


def _box(ends: Floats, wide: Floats) -> list[float]:
    low, high = (ends - wide).min(axis=0) - _PAD, (ends + wide).max(axis=0) + _PAD
    return [round(float(v), 1) for v in (*low, *(high - low))]
