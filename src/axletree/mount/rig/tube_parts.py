"""What rides on the tube, and where is its eyepiece?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.mount.balance.masses import EYEPIECE_BEFORE_EYE_MM, focuser_middle_mm
from axletree.mount.rig.parts import DECLINATION, RigPart, vec
from axletree.sky.arrays import Floats

if TYPE_CHECKING:
    from axletree.kit.kit import Kit


def around(angle_deg: float) -> Floats:
    """Direction from the tube's axis at an angle around the tube, in the DECLINATION frame.

    Seen from behind, looking to the sky, clockwise; 0 is the side away from the saddle.
    """
    a = math.radians(angle_deg)
    return vec(math.cos(a), math.sin(a), 0.0)


@dataclass(frozen=True)
class EyeEnd:
    """Focuser, barrel and eye point, along the tube from its front (z = -from_front)."""

    focuser_start: Floats
    focuser_end: Floats
    eyepiece_start: Floats
    eye_point: Floats
    barrel: Floats


def eye_end(kit: Kit, ring_turn_deg: float, eyepiece: int = 0) -> EyeEnd:
    """The eye's end of the tube with its focuser or diagonal at an angle around the tube.

    With an eyepiece of the kit, by its index: the eye's place is the same with each. Refuses one
    that the kit doesn't have.
    """
    if not 0 <= eyepiece < len(kit.eyepieces):
        raise AxletreeError(f"no eyepiece {eyepiece + 1}: the kit has {len(kit.eyepieces)}")
    tube, glass_m = kit.tube, kit.eyepieces[eyepiece].length_mm / 1000
    w = around(ring_turn_deg)
    reach, arm = tube.focuser_reach_mm / 1000, tube.diagonal_arm_mm / 1000
    back = vec(0, 0, -1)
    if tube.kind == "newtonian":
        at = back * tube.focuser_from_front_mm / 1000
        wall = tube.diameter_mm / 2000
        barrel, eye, start = w, at + w * max(reach, wall), at + w * wall
    elif tube.diagonal == "none":
        start = back * tube.length_mm / 1000
        barrel, eye = back, start + back * reach
    else:
        start = back * tube.length_mm / 1000
        bend = math.radians(tube.diagonal_angle_deg)
        barrel = math.cos(bend) * back + math.sin(bend) * w
        corner = start + back * reach
        eye = corner + barrel * arm
        return EyeEnd(start, corner, corner, eye, barrel)
    near = eye - barrel * min(glass_m, float(np.linalg.norm(eye - start)))
    return EyeEnd(start, near, near, eye, barrel)


def tube_parts(
    kit: Kit, ring_turn_deg: float, eyepiece: int, camera: bool
) -> tuple[list[RigPart], EyeEnd]:
    """Everything that turns with the tube, with x and y from the tube's axis, z from its front."""
    tube = kit.tube
    parts: list[RigPart] = []
    length, radius = tube.length_mm / 1000, tube.diameter_mm / 2000
    # A Newtonian turns in its rings with all that rides on it; elsewhere only the diagonal turns.
    carried = ring_turn_deg - tube.ring_turn_deg if tube.kind == "newtonian" else 0.0
    sideways = tube.focuser_mass_kg / tube.mass_kg * focuser_middle_mm(tube) / 1000
    own = around(ring_turn_deg) * sideways - vec(0, 0, tube.balance_from_front_mm / 1000)
    parts.append(
        RigPart(
            "tube",
            DECLINATION,
            vec(0, 0, 0),
            vec(0, 0, -length),
            radius,
            flat=True,
            mass_kg=tube.mass_kg,
            own_centre_m=own,
        )
    )
    if tube.dew_shield_length_mm > 0:
        parts.append(
            RigPart(
                "dew shield",
                DECLINATION,
                vec(0, 0, tube.dew_shield_length_mm / 1000),
                vec(0, 0, 0),
                tube.dew_shield_diameter_mm / 2000,
                flat=True,
            )
        )
    if tube.dovetail_height_mm > 0:
        half = min(tube.dovetail_length_mm, tube.length_mm) / 2000
        thick = tube.dovetail_height_mm / 2000
        middle = vec(-radius - thick, 0, -tube.balance_from_front_mm / 1000)
        parts.append(
            RigPart(
                "dovetail",
                DECLINATION,
                middle + vec(0, 0, half),
                middle - vec(0, 0, half),
                thick,
                flat=True,
            )
        )
    if tube.finder is not None:
        f = tube.finder
        middle = around(f.angle_deg + carried) * f.offset_mm / 1000
        middle[2] = -f.from_front_mm / 1000
        half = f.length_mm / 2000
        parts.append(
            RigPart(
                "finder",
                DECLINATION,
                middle + vec(0, 0, half),
                middle - vec(0, 0, half),
                f.radius_mm / 1000,
                flat=True,
                mass_kg=f.mass_kg,
            )
        )
    for a in tube.accessories:
        at = around(a.angle_deg + carried) * a.offset_mm / 1000
        at[2] = -a.from_front_mm / 1000
        parts.append(RigPart(a.name, DECLINATION, at, at, a.radius_mm / 1000, mass_kg=a.mass_kg))
    eye = eye_end(kit, ring_turn_deg, eyepiece)
    parts.append(
        RigPart(
            "focuser",
            DECLINATION,
            eye.focuser_start,
            eye.focuser_end,
            tube.focuser_radius_mm / 1000,
            flat=True,
        )  # fmt: skip
    )
    glass = eye.eye_point - eye.barrel * EYEPIECE_BEFORE_EYE_MM / 1000
    if camera and kit.camera is not None:
        body = kit.camera
        parts.append(
            RigPart(
                "camera",
                DECLINATION,
                eye.eyepiece_start,
                eye.eyepiece_start + eye.barrel * body.length_mm / 1000,
                body.radius_mm / 1000,
                flat=True,
                mass_kg=body.mass_kg,
                own_centre_m=glass,
            )
        )
    else:
        inside = kit.eyepieces[eyepiece]
        parts.append(
            RigPart(
                "eyepiece",
                DECLINATION,
                eye.eyepiece_start,
                eye.eye_point,
                inside.radius_mm / 1000,
                flat=True,
                mass_kg=inside.mass_kg,
                own_centre_m=glass,
            )
        )
    return parts, eye
