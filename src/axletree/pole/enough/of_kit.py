"""How far may the axis be off for all that this kit does?"""

from __future__ import annotations

from dataclasses import replace

from axletree.kit.kit import Kit
from axletree.pole.enough.need import CAMERA_DECLINATION_DEG, eye_use_of, widest_field_deg
from axletree.pole.enough.tolerance import (
    CameraUse,
    CirclesReach,
    Tolerance,
    camera_tolerance,
    circles_tolerance_arcmin,
    eye_tolerance,
)


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
