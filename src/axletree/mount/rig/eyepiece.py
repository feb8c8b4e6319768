"""Where does the eye have to go, and can the eyepiece fall out?

The barrel's direction is the one in which the eyepiece slides out. Pointing up, the eye looks
down into it; below the horizontal, only its screws hold it.
"""

from __future__ import annotations

from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import Axes, crossing_m, frames
from axletree.mount.rig.parts import Rig
from axletree.sky.arrays import Floats, Mask

# Nearer to the vertical than this, the eye may come from any side (our figure).
ANY_SIDE_DEG = 10.0
STOOL_STEP_MM = 50.0


@dataclass(frozen=True)
class EyePlace:
    """The eye's place for poses, arrays (...).

    `height_m` above the ground below the eye. `face_azimuth_deg` is the horizontal direction to
    face, true azimuth, nan where the eye looks so steeply that any side will do.
    `barrel_altitude_deg`: 90 when looking straight down, negative when the barrel hangs down.
    `step_up_m` is how far the eyepiece stands above the range of eye heights, `stoop_m` how far
    below it. `east_m` and `north_m` from the tripod's middle.
    """

    height_m: Floats
    face_azimuth_deg: Floats
    barrel_altitude_deg: Floats
    step_up_m: Floats
    stoop_m: Floats
    east_m: Floats
    north_m: Floats

    @property
    def can_fall(self) -> Mask:
        """True where the barrel points below the horizontal."""
        return np.asarray(self.barrel_altitude_deg < -1e-9)


def eye_place(
    rig: Rig,
    axes: Axes,
    tube_end_h: ArrayLike,
    swing_deg: ArrayLike,
    heights_mm: tuple[float, float],
    *,
    eye_point_m: Floats | None = None,
    barrel: Floats | None = None,
) -> EyePlace:
    """The eye's place in every pose, for a range of eye heights (lowest, highest).

    `eye_point_m` and `barrel` replace the rig's own, (..., 3) in the DECLINATION frame and
    broadcast against the poses.
    """
    _, R = frames(axes, tube_end_h, swing_deg)
    point = rig.eye_point_m if eye_point_m is None else eye_point_m
    out = rig.barrel if barrel is None else barrel
    eye = crossing_m(rig, axes) + np.einsum("...ij,...j->...i", R, point)
    u = np.einsum("...ij,...j->...i", R, out)
    x, y, z = eye[..., 0], eye[..., 1], eye[..., 2]
    n = rig.ground_normal
    height = z + (n[0] * x + n[1] * y) / n[2]
    level = np.hypot(u[..., 0], u[..., 1])
    altitude = np.degrees(np.arctan2(u[..., 2], level))
    face = np.mod(np.degrees(np.arctan2(-u[..., 0], -u[..., 1])), 360.0)
    steep = level < np.sin(np.radians(ANY_SIDE_DEG))
    lowest, highest = heights_mm[0] / 1000, heights_mm[1] / 1000
    return EyePlace(
        height_m=height,
        face_azimuth_deg=np.where(steep, np.nan, face),
        barrel_altitude_deg=altitude,
        step_up_m=np.maximum(height - highest, 0.0),
        stoop_m=np.maximum(lowest - height, 0.0),
        east_m=x,
        north_m=y,
    )


def stool_mm(step_up_m: float) -> float:
    """Height of a stool that brings the tallest to the eyepiece, in steps of 50 mm; 0 for none."""
    if step_up_m <= 0.005:
        return 0.0
    return float(np.ceil(step_up_m * 1000 / STOOL_STEP_MM) * STOOL_STEP_MM)


class Stance(Enum):
    """What the body has to do to bring the eye to the eyepiece."""

    STEP = "step"
    KNEEL = "kneel"
    STOOP = "stoop"
    STAND = "stand"


@dataclass(frozen=True)
class Posture:
    """A stance, with the height of the stool that it takes (0 for none)."""

    stance: Stance
    stool_mm: float = 0.0


def posture_of(step_up_m: float, stoop_m: float) -> Posture:
    """What the body has to do, from how far the eyepiece stands above or below the eyes."""
    if step_up_m > 0.005:
        return Posture(Stance.STEP, stool_mm(step_up_m))
    if stoop_m > 0.25:
        return Posture(Stance.KNEEL)
    return Posture(Stance.STOOP if stoop_m > 0.005 else Stance.STAND)
