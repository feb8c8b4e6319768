"""What does a program get to know about how good is good enough? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.pole.enough.methods import Method
from axletree.pole.enough.need import EyeUse
from axletree.pole.enough.tolerance import (
    AllowedTrail,
    CameraUse,
    CirclesReach,
    FieldPart,
    Tolerance,
    UnseenTrail,
)
from axletree.stages.set_up.enough import EnoughAnswer
from axletree.tell.enough.reason_text import reason_words
from axletree.tell.enough.text import (
    METHOD_WORDS,
    assumed_words,
    basis_words,
    eyepiece_words,
)

Reason = Literal["part_of_field", "unseen_trail", "allowed_trail", "setting_circles"]
REASON_CODES: dict[type, Reason] = {
    FieldPart: "part_of_field",
    UnseenTrail: "unseen_trail",
    AllowedTrail: "allowed_trail",
    CirclesReach: "setting_circles",
}


class EyeUseData(TypedDict):
    """The eyepiece in use; `eyepiece_in_kit` is false where its field was assumed."""

    true_field_deg: float
    magnification: float
    focal_length_mm: float
    eyepiece: str
    eyepiece_in_kit: bool
    nudge_every_s: float
    motor: bool


class CameraUseData(TypedDict):
    """The camera in use; `allowed_px` null: a trail that isn't seen."""

    focal_length_mm: float
    pixel_um: float
    width_px: int
    height_px: int
    exposure_s: float
    guided: bool
    allowed_px: float | None
    guide_star_deg: float | None


class ToleranceData(TypedDict):
    """The largest axis error for one use; a part is null where it plays no role."""

    largest_axis_error_arcmin: float
    by_drift_arcmin: float | None
    by_field_rotation_arcmin: float | None
    limited_by: str
    time_s: float
    declination_deg: float
    allowed_movement_arcsec: float
    because_code: Reason
    because: str


class EyeData(ToleranceData):
    """For the eye."""

    use: EyeUseData


class CameraData(ToleranceData):
    """For the camera."""

    use: CameraUseData


class AligningMethodData(TypedDict):
    """One method of aligning; errors each way, one standard deviation.

    `obstacle_code` is null where the method can be had.
    """

    code: str
    name: str
    minutes: float
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    chance: float
    enough: bool
    possible: bool
    obstacle_code: str | None
    why: str
    within_90_arcmin: float


class EnoughData(TypedDict):
    """The answer of `axletree enough`; codes stand beside words, in the same order."""

    version: Literal[1]
    largest_axis_error_arcmin: float
    limited_by: str
    eye: EyeData | None
    camera: CameraData | None
    methods: list[AligningMethodData]
    quickest_code: str | None
    quickest: str | None
    drift_test_needed_min: float | None
    setting_circles_arcmin: float
    stop_arcmin: float
    assumption_codes: list[str]
    assumed: list[str]


def enough_data(answer: EnoughAnswer) -> EnoughData:
    """The answer for programs."""
    strictest, best = answer.strictest, answer.best
    eye: EyeData | None = None
    camera: CameraData | None = None
    if answer.eye is not None and answer.eye_use is not None:
        eye = {**_tolerance(answer.eye), "use": _eye_use(answer.eye_use)}
    if answer.camera is not None and answer.camera_use is not None:
        camera = {**_tolerance(answer.camera), "use": _camera_use(answer.camera_use)}
    return {
        "version": 1,
        "largest_axis_error_arcmin": strictest.largest_arcmin,
        "limited_by": strictest.limited_by.value,
        "eye": eye,
        "camera": camera,
        "methods": [_method(method) for method in answer.methods],
        "quickest_code": None if best is None else best.method.value,
        "quickest": None if best is None else METHOD_WORDS[best.method],
        "drift_test_needed_min": answer.drift_minutes,
        "setting_circles_arcmin": answer.circles_arcmin,
        "stop_arcmin": answer.stop_arcmin,
        "assumption_codes": [assumption.value for assumption in answer.assumptions],
        "assumed": assumed_words(answer),
    }


def _tolerance(found: Tolerance) -> ToleranceData:
    return {
        "largest_axis_error_arcmin": found.largest_arcmin,
        "by_drift_arcmin": found.by_drift_arcmin,
        "by_field_rotation_arcmin": found.by_rotation_arcmin,
        "limited_by": found.limited_by.value,
        "time_s": found.seconds,
        "declination_deg": found.declination_deg,
        "allowed_movement_arcsec": found.allowed_arcsec,
        "because_code": REASON_CODES[type(found.reason)],
        "because": reason_words(found),
    }


def _eye_use(use: EyeUse) -> EyeUseData:
    return {
        "true_field_deg": use.true_field_deg,
        "magnification": use.magnification,
        "focal_length_mm": use.focal_length_mm,
        "eyepiece": eyepiece_words(use),
        "eyepiece_in_kit": use.eyepiece is not None,
        "nudge_every_s": use.nudge_every_s,
        "motor": use.motor,
    }


def _camera_use(use: CameraUse) -> CameraUseData:
    return {
        "focal_length_mm": use.focal_length_mm,
        "pixel_um": use.pixel_um,
        "width_px": use.width_px,
        "height_px": use.height_px,
        "exposure_s": use.exposure_s,
        "guided": use.guided,
        "allowed_px": use.allowed_px,
        "guide_star_deg": use.guide_star_deg,
    }


def _method(method: Method) -> AligningMethodData:
    return {
        "code": method.method.value,
        "name": METHOD_WORDS[method.method],
        "minutes": method.minutes,
        "high_sigma_arcmin": method.high_sigma_arcmin,
        "east_sigma_arcmin": method.east_sigma_arcmin,
        "chance": method.chance,
        "enough": method.enough,
        "possible": method.possible,
        "obstacle_code": None if method.obstacle is None else method.obstacle.value,
        "why": basis_words(method),
        "within_90_arcmin": method.within_90_arcmin,
    }
