"""Which places of a rig can be marked on a picture, and where do they stand?"""

from __future__ import annotations

import numpy as np

from axletree.mount.photographed.picture import RigPlace
from axletree.mount.rig.kinematics import align, crossing_m, placed
from axletree.mount.rig.parts import GROUND, Rig
from axletree.sky.arrays import Floats

# How a rig is meant to stand on its picture, weights down and the tube along the polar axis, is met
# to so many degrees, one standard deviation each: hour axis, declination axis, latitude (ours).
POSE_SIGMA_DEG = np.array([2.0, 3.0, 1.5])
PLACES = tuple(RigPlace)


def places_m(rig: Rig, latitude_deg: float, off_deg: Floats) -> Floats:
    """(places, 3): where each place stands, in local coordinates; nan for one that isn't there.

    `off_deg` (3,): how far the axes are off the pose that is meant, as in `POSE_SIGMA_DEG`.
    """
    axes = align(latitude_deg, pole_altitude_deg=abs(latitude_deg) + float(off_deg[2]))
    pose = float(off_deg[0]) / 15.0, float(off_deg[1])
    start, end = placed(rig, axes, *pose)
    found = {place: np.full(3, np.nan) for place in PLACES}
    found.update(_legs(rig, start, end))
    found[RigPlace.TILT_BOLT] = np.array([0.0, 0.0, rig.hinge_height_m])
    found[RigPlace.CROSSING] = crossing_m(rig, axes)
    for name, place, point in (
        ("counterweight shaft", RigPlace.SHAFT_END, end),
        ("declination housing", RigPlace.SADDLE, end),
        ("tube", RigPlace.TUBE_FRONT, start),
        ("tube", RigPlace.TUBE_BACK, end), ("focuser", RigPlace.EYEPIECE_SEAT, end),
    ):  # fmt: skip
        if name in rig.names:
            found[place] = point[rig.names.index(name)]
    return np.stack([found[place] for place in PLACES])


def _legs(rig: Rig, start: Floats, end: Floats) -> dict[RigPlace, Floats]:
    """Feet and hinges, in the order of the kit."""
    legs = [
        k for k, name in enumerate(rig.names)
        if rig.frame[k] == GROUND and (name.startswith("leg ") or name.endswith(" leg"))
    ]  # fmt: skip
    feet = (RigPlace.FOOT_1, RigPlace.FOOT_2, RigPlace.FOOT_3)
    hinges = (RigPlace.HINGE_1, RigPlace.HINGE_2, RigPlace.HINGE_3)
    found: dict[RigPlace, Floats] = {}
    for k, foot, hinge in zip(legs, feet, hinges, strict=False):
        low = end[k][2] < start[k][2]
        found[foot], found[hinge] = (end[k], start[k]) if low else (start[k], end[k])
    return found
