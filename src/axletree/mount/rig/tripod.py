"""Where do legs, tray and column stand, and where when the tripod is turned or leans?"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from axletree.kit.parts.mount import Tripod
from axletree.mount.rig.parts import GROUND, RigPart, vec
from axletree.sky.arrays import Floats
from axletree.sky.rotations import rotation_about

TRAY_THICKNESS_M = 0.02

COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


def leg_azimuths_deg(tripod: Tripod, north: bool) -> tuple[float, ...]:
    """True azimuths of the three legs when the tripod's zero points to the elevated pole."""
    pole = (0.0 if north else 180.0) + tripod.turned_deg
    return tuple((pole + d) % 360.0 for d in tripod.leg_directions_deg)


def leg_name(direction_deg: float, azimuth_deg: float) -> str:
    """'leg towards the pole' or 'south-east leg'."""
    off = abs((direction_deg + 180.0) % 360.0 - 180.0)
    if off < 15.0:
        return "leg towards the pole"
    return f"{COMPASS[round((azimuth_deg % 360.0) / 45.0) % 8]} leg"


def add_tripod(parts: list[RigPart], tripod: Tripod, north: bool, normal: Floats) -> None:
    """Add legs, tray and column, upright on ground of this normal."""
    top = tripod.top_height_mm / 1000
    azimuths = leg_azimuths_deg(tripod, north)
    for direction, azimuth in zip(tripod.leg_directions_deg, azimuths, strict=True):
        a = math.radians(azimuth)
        out = vec(math.sin(a), math.cos(a), 0.0)
        foot = out * tripod.foot_radius_mm / 1000
        foot[2] = -(normal[0] * foot[0] + normal[1] * foot[1]) / normal[2]
        hip = out * tripod.top_radius_mm / 1000 + vec(0, 0, top)
        name = leg_name(direction, azimuth - tripod.turned_deg)
        parts.append(
            RigPart(
                name, GROUND, hip, foot, tripod.leg_radius_mm / 1000, mass_kg=tripod.mass_kg / 3
            )
        )
        parts.append(
            RigPart("tripod top", GROUND, vec(0, 0, top), hip, tripod.leg_radius_mm / 1000)
        )
    height, radius = tripod.tray_height_mm / 1000, tripod.tray_radius_mm / 1000
    if radius > 0 or tripod.tray_load_kg > 0:
        # A disc as three crossed bars: no tube can slip between them far enough to matter.
        for i, azimuth in enumerate((0.0, 60.0, 120.0)):
            a = math.radians(azimuth + azimuths[0])
            out = vec(math.sin(a), math.cos(a), 0.0) * radius
            parts.append(
                RigPart(
                    "tray",
                    GROUND,
                    vec(0, 0, height) - out,
                    vec(0, 0, height) + out,
                    TRAY_THICKNESS_M / 2,
                    mass_kg=tripod.tray_load_kg if i == 0 else 0.0,
                )
            )
    if tripod.column_height_mm > 0:
        parts.append(
            RigPart(
                "column",
                GROUND,
                vec(0, 0, top),
                vec(0, 0, top + tripod.column_height_mm / 1000),
                tripod.column_radius_mm / 1000,
            )
        )


def leaned(parts: list[RigPart], tripod: Tripod, north: bool, hinge_m: float) -> list[RigPart]:
    """The parts, those on the ground leaning about the altitude hinge as the kit says.

    The hinge stays where it is, `hinge_m` above the ground: over a lean of a degree the feet move
    by some 15 mm against it, which is what can touch; that they rise by 1 mm isn't followed.
    """
    sense = 1.0 if north else -1.0
    towards = np.radians([tripod.lean_to_right_deg * sense, tripod.lean_to_pole_deg * sense])
    angle = float(np.hypot(*towards))
    if angle == 0.0:
        return parts
    x, y = towards / angle
    # About the level line square to the lean.
    R = rotation_about([-y, x, 0.0], angle)
    hinge = vec(0.0, 0.0, hinge_m)

    def turned(point: Floats) -> Floats:
        return np.asarray(hinge + R @ (point - hinge))

    return [
        replace(
            part, start_m=turned(part.start_m), end_m=turned(part.end_m),
            own_centre_m=turned(part.centre_m),
        ) if part.frame == GROUND else part
        for part in parts
    ]  # fmt: skip
