"""What will the person do tonight, and how good must the axis be for it?"""

from __future__ import annotations

from dataclasses import dataclass

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.pole.aim.target import PoleTarget
from axletree.pole.enough.methods import Method, drift_minutes_for, methods, quickest
from axletree.pole.enough.tolerance import (
    Tolerance,
    camera_tolerance,
    circles_tolerance_arcmin,
    eye_tolerance,
)
from axletree.sky.optics import true_field_deg

# Declination at which a camera's demands are worked out unless the object is known: twice the
# rotation of the equator, and most of the sky asks for less.
CAMERA_DECLINATION_DEG = 60.0


@dataclass(frozen=True)
class EyeUse:
    """Looking: field of the eyepiece in degrees, seconds between nudges, motor or by hand."""

    true_field_deg: float
    magnification: float
    eyepiece: str
    nudge_every_s: float
    motor: bool


@dataclass(frozen=True)
class CameraUse:
    """Photographing: what `camera_tolerance` needs."""

    focal_length_mm: float
    pixel_um: float
    width_px: int
    height_px: int
    exposure_s: float
    guided: bool
    allowed_px: float | None = None
    guide_star_deg: float | None = None


@dataclass(frozen=True)
class Need:
    """The answer: tolerance of each use, the strictest of them, and what reaches it.

    `circles_arcmin`: the largest error with which setting circles still bring objects into the
    widest eyepiece. `drift_minutes`: how long a drift test must last where no method is enough.
    """

    eye: Tolerance | None
    eye_use: EyeUse | None
    camera: Tolerance | None
    camera_use: CameraUse | None
    strictest: Tolerance
    methods: tuple[Method, ...]
    best: Method | None
    drift_minutes: float | None
    circles_arcmin: float


def eye_use_of(
    kit: Kit, eyepiece_mm: float | None = None, magnification: float | None = None,
    nudge_every_s: float | None = None,
) -> EyeUse:  # fmt: skip
    """Use of an eyepiece: the kit's strongest, or the one asked for by length or magnification.

    A magnification that no eyepiece gives is taken with an apparent field of 50 degrees.
    """
    focal = kit.tube.focal_length_mm
    if eyepiece_mm is not None and magnification is not None:
        raise AxletreeError("give the eyepiece or the magnification, not both")
    for name, value in (("eyepiece-mm", eyepiece_mm), ("magnification", magnification)):
        if value is not None and not 0 < value < 5000:
            raise AxletreeError(f"--{name} {value:g}: it must be more than 0 (and below 5000)")
    if magnification is not None:
        eyepiece_mm = focal / magnification
    wanted = min(e.focal_length_mm for e in kit.eyepieces) if eyepiece_mm is None else eyepiece_mm
    found = next((e for e in kit.eyepieces if abs(e.focal_length_mm - wanted) < 0.05), None)
    apparent = found.apparent_field_deg if found else 50.0
    stop = found.field_stop_mm if found else None
    return EyeUse(
        true_field_deg=float(true_field_deg(focal, wanted, apparent, stop)),
        magnification=focal / wanted,
        eyepiece=found.label if found else f"{wanted:.3g} mm (50° assumed)",
        nudge_every_s=kit.habits.nudge_every_s if nudge_every_s is None else nudge_every_s,
        motor=kit.mount.motion == "motor",
    )


def need_of(
    kit: Kit,
    target: PoleTarget,
    pole_distance_arcmin: float,
    magnetic_sigma_deg: float,
    *,
    eye: EyeUse | None = None,
    camera: CameraUse | None = None,
    declination_deg: float | None = None,
    use_of_field: float = 0.5,
    pole_in_view: bool | None = None,
) -> Need:
    """How good is good enough for these uses; at least one of them must be given."""
    looked = photographed = None
    if eye is not None:
        looked = eye_tolerance(
            eye.true_field_deg,
            eye.nudge_every_s,
            motor=eye.motor,
            declination_deg=declination_deg or 0.0,
            use_of_field=use_of_field,
        )
    if camera is not None:
        photographed = camera_tolerance(
            camera.focal_length_mm,
            camera.pixel_um,
            camera.width_px,
            camera.height_px,
            camera.exposure_s,
            guided=camera.guided,
            declination_deg=CAMERA_DECLINATION_DEG if declination_deg is None else declination_deg,
            allowed_px=camera.allowed_px,
            seeing_arcsec=kit.site.seeing_arcsec,
            aperture_mm=kit.tube.aperture_mm,
            guide_star_deg=camera.guide_star_deg,
        )
    both = [t for t in (looked, photographed) if t is not None]
    if not both:
        raise AxletreeError("nothing to do: say whether it is for the eye or for a camera")
    strictest = min(both, key=lambda t: t.largest_arcmin)
    found = methods(
        kit,
        target,
        pole_distance_arcmin,
        magnetic_sigma_deg,
        strictest.largest_arcmin,
        pole_in_view=pole_in_view,
    )
    best = quickest(found)
    widest = max(
        float(
            true_field_deg(
                kit.tube.focal_length_mm, e.focal_length_mm, e.apparent_field_deg, e.field_stop_mm
            )
        )
        for e in kit.eyepieces
    )
    return Need(
        eye=looked,
        eye_use=eye,
        camera=photographed,
        camera_use=camera,
        strictest=strictest,
        methods=found,
        best=best,
        drift_minutes=None if best else drift_minutes_for(kit, target, strictest.largest_arcmin),
        circles_arcmin=circles_tolerance_arcmin(widest),
    )
