"""How does the sky stand in the eyepiece, and which way does it drift?

The light's way through the telescope is followed as reflections: a flat mirror turns both the
axis and the picture about it, and objective and eyepiece together turn the picture upside down.
Angles are as the eye sees them, clockwise from the top, the head upright.
"""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import Axes, crossing_m, frames
from axletree.sky.arrays import Floats
from axletree.sky.directions import angle_between_deg, cross, wrap_360

if TYPE_CHECKING:
    from axletree.kit.parts.tube import Tube
    from axletree.mount.rig.parts import Rig


_BARREL_DEG = 0.01  # rounding stays far below
_STEEP = 0.1  # horizontal part of the line of sight below which the eye is taken to face the mount


@dataclass(frozen=True)
class Picture:
    """The view for poses, arrays (...); angles 0-360 clockwise from the top of the view.

    `north_deg`: towards celestial north. `drift_deg`: the way the sky drifts with nothing
    turning, that is west. `zenith_deg`: where the sky's own 'up' has gone. `mirrored` is the
    same in every pose.
    """

    north_deg: Floats
    drift_deg: Floats
    zenith_deg: Floats
    mirrored: bool


def is_mirrored(tube: Tube) -> bool:
    """True where the view is a mirror image: an odd number of flat mirrors, no roof prism."""
    return tube.kind != "newtonian" and tube.diagonal in ("mirror", "prism")


class PictureKind(Enum):
    """What tube and diagonal do to the picture."""

    MIRRORED = "mirrored"
    TRUE = "true"
    TURNED = "turned"
    UPSIDE_DOWN = "upside_down"


def picture_kind(tube: Tube) -> PictureKind:
    """What the picture looks like in this tube."""
    if is_mirrored(tube):
        return PictureKind.MIRRORED
    if tube.diagonal == "erecting":
        return PictureKind.TRUE
    return PictureKind.TURNED if tube.kind == "newtonian" else PictureKind.UPSIDE_DOWN


def picture(
    rig: Rig, tube: Tube, axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike
) -> Picture:
    """The view in every pose.

    Refuses a rig whose barrel can't be this tube's: of another kind, diagonal or bend.
    """
    _check_barrel(rig.barrel, tube)
    _, R = frames(axes, tube_end_h, swing_deg)
    T = R[..., 2]
    u = np.einsum("...ij,j->...i", R, rig.barrel)
    eye = crossing_m(rig, axes) + np.einsum("...ij,j->...i", R, rig.eye_point_m)
    right, top = upright_head(-u, eye)
    angles = [
        clockwise_deg(_seen(tube, T, u, way), right, top) for way in sky_ways(T, axes.latitude_deg)
    ]
    return Picture(angles[0], angles[1], angles[2], is_mirrored(tube))


def sky_ways(T: Floats, latitude_deg: float) -> tuple[Floats, Floats, Floats]:
    """Towards the north pole, the drift and the zenith: vectors (3,) or (..., 3), not yet square
    to the directions `T` (..., 3) in which somebody looks."""
    at = np.radians(latitude_deg)
    north_pole = np.array([0.0, np.cos(at), np.sin(at)])
    return north_pole, cross(T, north_pole), np.array([0.0, 0.0, 1.0])


def clockwise_deg(way: Floats, right: Floats, top: Floats) -> Floats:
    """Where ways (..., 3) lie in a view with this right and top: 0-360, clockwise from the top."""
    angle = np.arctan2(np.sum(way * right, -1), np.sum(way * top, -1))
    return wrap_360(np.degrees(angle))


def _check_barrel(barrel: Floats, tube: Tube) -> None:
    """The mirrors follow from the tube, so its barrel must leave the tube at their angle."""
    if tube.kind == "newtonian":
        expected_deg = 90.0
    else:
        expected_deg = 180.0 if tube.diagonal == "none" else 180.0 - tube.diagonal_angle_deg
    away = angle_between_deg(barrel, [0.0, 0.0, 1.0])
    if not abs(float(away) - expected_deg) < _BARREL_DEG:
        raise AxletreeError(
            f"the rig's barrel leaves the tube {float(away):.0f}° from where it looks, but this "
            f"tube's ({tube.kind}, diagonal {tube.diagonal}) leaves it at {expected_deg:.0f}°: "
            "build the rig from the same kit"
        )


def upright_head(v: Floats, eye: Floats) -> tuple[Floats, Floats]:
    """Right and top of the view, unit vectors (..., 3), for a head held upright that looks along v.

    `eye` (..., 3) is where it is, local coordinates: who looks steeply faces the mount.
    """
    towards = np.stack((-eye[..., 0], -eye[..., 1], np.zeros(eye.shape[:-1])), axis=-1)
    flat = np.linalg.norm(towards, axis=-1, keepdims=True)
    towards = np.where(flat > 1e-9, towards / np.maximum(flat, 1e-9), [0.0, 1.0, 0.0])
    level = np.hypot(v[..., 0], v[..., 1])[..., np.newaxis]
    up = np.broadcast_to(np.array([0.0, 0.0, 1.0]), v.shape)
    # Looking steeply down, the top of the view is the way the person faces; steeply up, behind.
    facing = np.where(v[..., 2:] < 0.0, towards, -towards)
    reference = np.where(level < _STEEP, facing, up)
    top = reference - np.sum(reference * v, -1, keepdims=True) * v
    top = top / np.linalg.norm(top, axis=-1, keepdims=True)
    return cross(v, top), top


def _seen(tube: Tube, T: Floats, u: Floats, way: Floats) -> Floats:
    """Where a small step on the sky towards `way` appears to the eye, square to the barrel.

    The telescope alone turns a step a into -a. A flat mirror that sends the axis d into u has
    its normal along d - u; a Newtonian's main mirror has already turned -T into T.
    """
    way = np.broadcast_to(way, T.shape)
    a = way - np.sum(way * T, -1, keepdims=True) * T
    if tube.kind != "newtonian" and tube.diagonal == "none":
        return np.asarray(-a)
    d = T if tube.kind == "newtonian" else -T
    n = d - u
    n = n / np.maximum(np.linalg.norm(n, axis=-1, keepdims=True), 1e-12)
    image = -(a - 2.0 * np.sum(a * n, -1, keepdims=True) * n)
    if tube.diagonal == "erecting":
        # The roof exchanges the sides once more, about the plane of tube and barrel.
        b = cross(T, u)
        b = b / np.maximum(np.linalg.norm(b, axis=-1, keepdims=True), 1e-12)
        image = image - 2.0 * np.sum(image * b, -1, keepdims=True) * b
    return np.asarray(image)
