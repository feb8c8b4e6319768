"""How far may the axis be off for all that this kit does, and how far off is it at first?"""

from __future__ import annotations

from dataclasses import replace

from axletree.kit.kit import Kit
from axletree.pole.aim.scale import ScaleSetting
from axletree.pole.aim.target import PoleTarget
from axletree.pole.enough.fields import widest_field_deg
from axletree.pole.enough.methods import drift_test
from axletree.pole.enough.need import CAMERA_DECLINATION_DEG, eye_use_of
from axletree.pole.enough.rough import RoughAlignment, rough_alignment
from axletree.pole.enough.tolerance import (
    CameraUse,
    CirclesReach,
    Tolerance,
    camera_tolerance,
    circles_tolerance_arcmin,
    eye_tolerance,
)

# Half a division: how well a bubble is brought to the middle (common practice, no source).
BUBBLE_PART_OF_DIVISION = 0.5


def good_enough(kit: Kit) -> Tolerance:
    """The strictest tolerance of what this kit does: eye at its strongest eyepiece, camera, and
    setting circles that should bring objects into its widest eyepiece."""
    tube, camera = kit.tube, kit.camera
    use = eye_use_of(kit)
    strictest = eye_tolerance(use.true_field_deg, use.nudge_every_s, motor=use.motor)
    if camera is not None:
        photographed = camera_tolerance(
            CameraUse(
                tube.focal_length_mm,
                camera.pixel_um,
                camera.width_px,
                camera.height_px,
                camera.exposure_s,
                camera.guided,
            ),
            declination_deg=CAMERA_DECLINATION_DEG,
            seeing_arcsec=kit.site.seeing_arcsec,
            aperture_mm=tube.aperture_mm,
        )
        strictest = min(strictest, photographed, key=lambda t: t.largest_arcmin)
    widest = widest_field_deg(kit)
    circles = circles_tolerance_arcmin(widest)
    if strictest.largest_arcmin <= circles:
        return strictest
    # Long before an object leaves the field the circles stop bringing it there.
    return replace(
        strictest,
        largest_arcmin=circles,
        reason=CirclesReach(widest),
    )


def rough_of_kit(
    kit: Kit, target: PoleTarget, setting: ScaleSetting, magnetic_sigma_deg: float
) -> RoughAlignment:
    """The axis' error by this kit's own bubble and scale and a compass; drift tests mend it."""
    division_deg = kit.mount.tripod.bubble_arcmin_per_division / 60.0
    return rough_alignment(
        target.altitude_deg,
        setting.sigma_deg,
        magnetic_sigma_deg,
        level_sigma_deg=BUBBLE_PART_OF_DIVISION * division_deg,
        drift=drift_test(kit),
    )
