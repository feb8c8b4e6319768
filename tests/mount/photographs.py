"""Pictures of rigs by the cameras of OpenCV (`projectPoints`: two terms of radial distortion, two
of tangential), held by rotations of scipy; not the code of `mount.photographed`."""

from __future__ import annotations

import cv2
import numpy as np
from scipy.spatial.transform import Rotation

from axletree.mount.photographed.picture import KnownLength, MarkedPicture, RigPlace
from axletree.mount.rig.kinematics import align, crossing_m, placed
from axletree.mount.rig.parts import Rig

WIDE, HIGH = 4000, 3000


def true_places(rig: Rig, latitude_deg: float) -> dict[RigPlace, np.ndarray]:
    axes = align(latitude_deg)
    start, end = placed(rig, axes, 0.0, 0.0)
    names = rig.names
    legs = [k for k, name in enumerate(names) if name.startswith("leg ") or name.endswith(" leg")]
    hinge = np.array([0.0, 0.0, rig.hinge_height_m])
    found = {RigPlace.CROSSING: crossing_m(rig, axes), RigPlace.TILT_BOLT: hinge}
    for number, k in enumerate(legs, start=1):
        ends = sorted((start[k], end[k]), key=lambda p: p[2])
        found[RigPlace(f"foot {number}")], found[RigPlace(f"hinge {number}")] = ends[0], ends[1]
    found[RigPlace.SADDLE] = end[names.index("declination housing")]
    found[RigPlace.SHAFT_END] = end[names.index("counterweight shaft")]
    found[RigPlace.TUBE_FRONT] = start[names.index("tube")]
    found[RigPlace.TUBE_BACK] = end[names.index("tube")]
    found[RigPlace.EYEPIECE_SEAT] = end[names.index("focuser")]
    return found


def taken(
    places: dict[RigPlace, np.ndarray], azimuth_deg: float, rng: np.random.Generator, *,
    far_m: float = 3.2, distortion: float = 0.02, mark_px: float = 4.0,
    known: tuple[RigPlace, RigPlace, float] | None = None, lens_told: bool = True,
) -> MarkedPicture:  # fmt: skip
    """A picture from this azimuth of the rig, held by hand: 2 % distortion at the picture's edge,
    marks a few pixels off."""
    centre = np.mean(list(places.values()), axis=0)
    a = np.radians(azimuth_deg)
    eye = centre + far_m * np.array([np.sin(a), np.cos(a), 0.0])
    eye[2] = 1.5 + 0.1 * rng.standard_normal()
    # PictureCamera frame: x right, y down, z ahead; then tilted by hand.
    yaw = np.arctan2(centre[0] - eye[0], centre[1] - eye[1])
    level = Rotation.from_euler("zx", [yaw, np.pi / 2])
    held = Rotation.from_rotvec(np.radians(2.0) * rng.standard_normal(3))
    turn = held * level
    focal = 0.72 * WIDE * np.exp(0.02 * rng.standard_normal())
    edge2 = (0.5 * WIDE / focal) ** 2
    lens = (distortion / edge2, 0.002 / edge2**2, 2e-4, -2e-4)
    middle = np.array([WIDE / 2, HIGH / 2]) + 15.0 * rng.standard_normal(2)
    px = by_opencv(np.array(list(places.values())), turn, eye, focal, middle, lens)
    px += mark_px * rng.standard_normal(px.shape)
    marks = [
        (place, float(u), float(v)) for place, (u, v) in zip(places, px, strict=True)
        if 0 <= u <= WIDE and 0 <= v <= HIGH
    ]  # fmt: skip
    length = None
    if known is not None:
        start, end, error = known
        told = 1e3 * float(np.linalg.norm(places[end] - places[start]))
        length = KnownLength(start, end, told + error * rng.standard_normal(), error)
    return MarkedPicture(WIDE, HIGH, tuple(marks), length, 26.0 if lens_told else None, mark_px)


def by_opencv(
    points: np.ndarray, turn: Rotation, eye: np.ndarray, focal_px: float, middle: np.ndarray,
    lens: tuple[float, ...],
) -> np.ndarray:  # fmt: skip
    """(m, 2) pixels of points (m, 3) in OpenCV's camera; `lens` holds k1, k2, p1, p2."""
    frame = np.array([[focal_px, 0.0, middle[0]], [0.0, focal_px, middle[1]], [0.0, 0.0, 1.0]])
    px, _ = cv2.projectPoints(points, turn.as_rotvec(), -turn.apply(eye), frame, np.array(lens))
    return np.asarray(px.reshape(-1, 2))
