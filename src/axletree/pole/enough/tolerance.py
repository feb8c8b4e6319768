"""How far may the axis be off before anything that the person will do suffers?

The picture moves as `axletree.pole.enough.movement` says, exactly; the worst of all hour angles
counts,
since nobody knows the direction of the error before it is measured.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from functools import lru_cache

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.enough.movement import (
    worst_declination_drift_arcsec,
    worst_movement_arcsec,
    worst_rotation_deg,
    worst_turn_arcsec,
)

_DEG = np.pi / 180.0
# The search ends here: an axis 45 degrees off is no equatorial mount any more.
LARGEST_ERROR_ARCMIN = 45.0 * 60.0


class Use(StrEnum):
    """What the axis is aligned for."""

    EYE = "eye"
    CAMERA = "camera"


class Limit(StrEnum):
    """Which effect of a misaligned axis sets the tolerance."""

    DRIFT = "drift"
    FIELD_ROTATION = "field rotation"
    NOTHING = "nothing"


@dataclass(frozen=True)
class FieldPart:
    """An object may wander this part of the way from the middle to the edge of a field."""

    use_of_field: float
    true_field_deg: float


@dataclass(frozen=True)
class UnseenTrail:
    """A trail isn't seen: the larger of one pixel and half of a star's width in this seeing."""

    pixel_arcsec: float
    seeing_arcsec: float


@dataclass(frozen=True)
class AllowedTrail:
    """A trail may have so many pixels."""

    pixels: float


@dataclass(frozen=True)
class CirclesReach:
    """The setting circles should bring objects into a field."""

    true_field_deg: float


# Where the movement that is allowed comes from.
Reason = FieldPart | UnseenTrail | AllowedTrail | CirclesReach


@dataclass(frozen=True)
class CameraUse:
    """Photographing: lens or tube, sensor, exposure, and whether a guider corrects the drift.

    `allowed_px`: the longest trail, None for one that isn't seen. `guide_star_deg` from the
    frame's middle; None: in its own corner, as with a guide camera that looks through the same
    tube.
    """

    focal_length_mm: float
    pixel_um: float
    width_px: int
    height_px: int
    exposure_s: float
    guided: bool
    allowed_px: float | None = None
    guide_star_deg: float | None = None


@dataclass(frozen=True)
class Tolerance:
    """The largest axis error that doesn't matter, arcminutes, and what sets it.

    `largest_arcmin` is the smaller of the two parts; a part is None where it plays no role, and
    2700 (45 degrees) where nothing sensible is too much. `allowed_arcsec`: how far the picture
    may move; `reason`: where that comes from; `limited_by` which part rules.
    """

    use: Use
    largest_arcmin: float
    by_drift_arcmin: float | None
    by_rotation_arcmin: float | None
    limited_by: Limit
    seconds: float
    declination_deg: float
    allowed_arcsec: float
    reason: Reason


def _largest(worst_arcsec: Callable[[float], float], allowed_arcsec: float) -> float:
    """The error at which the worst movement reaches what is allowed; bisects its logarithm."""
    low, high = np.log(1e-4), np.log(LARGEST_ERROR_ARCMIN)
    if worst_arcsec(LARGEST_ERROR_ARCMIN) <= allowed_arcsec:
        return LARGEST_ERROR_ARCMIN
    while high - low > 1e-5:
        middle = (low + high) / 2.0
        if worst_arcsec(float(np.exp(middle))) <= allowed_arcsec:
            low = middle
        else:
            high = middle
    return float(np.exp(low))


@lru_cache(maxsize=32)
def eye_tolerance(
    true_field_deg: float,
    nudge_every_s: float,
    *,
    motor: bool,
    declination_deg: float = 0.0,
    use_of_field: float = 0.5,
) -> Tolerance:
    """For an eye at an eyepiece with this field, that may touch the mount only every so often.

    The object starts in the middle and may wander `use_of_field` of the way to the edge (0.5:
    half-way, where most eyepieces are still sharp). With a motor the whole movement counts; by
    hand the hour knob is turned anyway and only the drift in declination, the second knob's
    business, does. Field rotation doesn't matter to an eye.
    """
    _more_than_zero(true_field_deg=true_field_deg, nudge_every_s=nudge_every_s)
    _declination(declination_deg)
    if not 0 < use_of_field <= 1:
        raise AxletreeError(f"use_of_field is {use_of_field}: it must lie between 0 and 1")
    allowed = true_field_deg / 2.0 * use_of_field * 3600.0

    def worst(error: float) -> float:
        if motor:
            return worst_movement_arcsec(error, declination_deg, nudge_every_s)
        return worst_declination_drift_arcsec(error, declination_deg, nudge_every_s)

    largest = _largest(worst, allowed)
    return Tolerance(
        use=Use.EYE,
        largest_arcmin=largest,
        by_drift_arcmin=largest,
        by_rotation_arcmin=None,
        limited_by=Limit.DRIFT if largest < LARGEST_ERROR_ARCMIN else Limit.NOTHING,
        seconds=nudge_every_s,
        declination_deg=declination_deg,
        allowed_arcsec=allowed,
        reason=FieldPart(use_of_field, true_field_deg),
    )


def circles_tolerance_arcmin(true_field_deg: float) -> float:
    """Largest axis error with which setting circles still bring objects into this field.

    Circles read wrong by the axis error at most (to first order), and by more in hour angle only
    as that counts less on the sky: half the field.
    """
    return true_field_deg * 30.0


def allowed_trail_arcsec(pixel_arcsec: float, seeing_arcsec: float, aperture_mm: float) -> float:
    """A trail that isn't seen: one pixel, or half of the star's own width if that is more.

    The width: seeing and Rayleigh's limit as squares. A straight trail of half the width makes
    an image 6 % longer than wide: second moments, L^2 / 12 beside FWHM^2 / 5.545.
    """
    width = float(np.hypot(seeing_arcsec, 138.4 / aperture_mm))
    return max(pixel_arcsec, width / 2.0)


def camera_tolerance(
    use: CameraUse,
    *,
    declination_deg: float = 60.0,
    seeing_arcsec: float = 2.5,
    aperture_mm: float = 100.0,
) -> Tolerance:
    """For a camera: trails in the farthest corner stay within what isn't seen, or is allowed.

    Unguided, drift and rotation about the middle add up, exactly. Guided, the drift is taken out
    and the picture turns about the guide star, so the trail counts in the corner on the other
    side.
    """
    _more_than_zero(
        focal_length_mm=use.focal_length_mm,
        pixel_um=use.pixel_um,
        exposure_s=use.exposure_s,
        width_px=use.width_px,
        height_px=use.height_px,
    )
    _declination(declination_deg)
    scale = _angle_deg(use, 1.0) * 3600.0
    reason: Reason
    if use.allowed_px is None:
        allowed = allowed_trail_arcsec(scale, seeing_arcsec, aperture_mm)
        reason = UnseenTrail(scale, seeing_arcsec)
    else:
        _more_than_zero(allowed_px=use.allowed_px)
        allowed = use.allowed_px * scale
        reason = AllowedTrail(use.allowed_px)
    corner = _angle_deg(use, float(np.hypot(use.width_px, use.height_px)) / 2.0)
    if use.guided:
        away = corner + (corner if use.guide_star_deg is None else use.guide_star_deg)
        # A picture that turns by r moves a point at the angle A by 2 asin(sin A sin r/2).
        half = np.sin(allowed / 3600.0 * _DEG / 2.0) / np.sin(min(away, 90.0) * _DEG)
        turn_allowed = float(2.0 * np.degrees(np.arcsin(min(1.0, half))))
        largest = rotation = _largest(
            lambda e: worst_rotation_deg(e, declination_deg, use.exposure_s), turn_allowed
        )
        drift = None
    else:
        drift = _largest(
            lambda e: worst_movement_arcsec(e, declination_deg, use.exposure_s), allowed
        )
        rotation = _largest(
            lambda e: worst_turn_arcsec(e, declination_deg, use.exposure_s, corner), allowed
        )
        both = _largest(
            lambda e: worst_movement_arcsec(e, declination_deg, use.exposure_s, corner), allowed
        )
        largest = min(both, drift)
    rules = Limit.DRIFT if drift is not None and drift <= rotation else Limit.FIELD_ROTATION
    return Tolerance(
        use=Use.CAMERA,
        largest_arcmin=largest,
        by_drift_arcmin=drift,
        by_rotation_arcmin=rotation,
        limited_by=rules if largest < LARGEST_ERROR_ARCMIN else Limit.NOTHING,
        seconds=use.exposure_s,
        declination_deg=declination_deg,
        allowed_arcsec=allowed,
        reason=reason,
    )


def _angle_deg(use: CameraUse, pixels: float) -> float:
    """The angle that so many pixels from the middle stand for."""
    return float(np.degrees(np.arctan(pixels * use.pixel_um * 1e-3 / use.focal_length_mm)))


def _more_than_zero(**values: float) -> None:
    for name, value in values.items():
        if not value > 0 or not np.isfinite(value):
            raise AxletreeError(f"{name} is {value}: it must be more than 0")


def _declination(value: float) -> None:
    if not -90.0 < value < 90.0:
        raise AxletreeError(f"declination {value:g}°: it must lie between -90 and 90 degrees")
