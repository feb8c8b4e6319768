"""Pictures of rigs by cameras of our own: rotation by scipy, radial and tangential distortion by
the formula of D. C. Brown 1966 with two terms; not the code of `mount.photographed`."""

from __future__ import annotations

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
    seen = (held * level).apply(np.array(list(places.values())) - eye)
    focal = 0.72 * WIDE * np.exp(0.02 * rng.standard_normal())
    x, y = seen[:, 0] / seen[:, 2], seen[:, 1] / seen[:, 2]
    r2 = x**2 + y**2
    edge2 = (0.5 * WIDE / focal) ** 2
    k1 = distortion / edge2
    grown = 1.0 + k1 * r2 + 0.002 * (r2 / edge2) ** 2
    p1, p2 = 2e-4, -2e-4
    xd = x * grown + 2 * p1 * x * y + p2 * (r2 + 2 * x**2)
    yd = y * grown + p1 * (r2 + 2 * y**2) + 2 * p2 * x * y
    middle = np.array([WIDE / 2, HIGH / 2]) + 15.0 * rng.standard_normal(2)
    px = np.stack((focal * xd, focal * yd), axis=1) + middle
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
