"""Which eyepiece does the person look through tonight, and where does a camera point?"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.optics import true_field_deg

# Declination at which a camera's demands are worked out unless the object is known: twice the
# rotation of the equator, and most of the sky asks for less.
CAMERA_DECLINATION_DEG = 60.0
# The apparent field of an eyepiece that isn't in the kit (common practice, no source).
ASSUMED_APPARENT_FIELD_DEG = 50.0


@dataclass(frozen=True)
class EyeUse:
    """Looking: field of the eyepiece in degrees, seconds between nudges, motor or by hand.

    `eyepiece` is its label in the kit; None for one that isn't there, taken with an apparent field
    of 50 degrees.
    """

    true_field_deg: float
    magnification: float
    focal_length_mm: float
    eyepiece: str | None
    nudge_every_s: float
    motor: bool


def eye_use_of(
    kit: Kit, eyepiece_mm: float | None = None, magnification: float | None = None,
    nudge_every_s: float | None = None,
) -> EyeUse:  # fmt: skip
    """Use of an eyepiece: the kit's strongest, or the one given by length or magnification.

    A magnification that no eyepiece gives is taken with an apparent field of 50 degrees.
    """
    focal = kit.tube.focal_length_mm
    if eyepiece_mm is not None and magnification is not None:
        raise AxletreeError("give the eyepiece or the magnification, not both")
    for name, value in (("an eyepiece in mm", eyepiece_mm), ("a magnification", magnification)):
        if value is not None and not 0 < value < 5000:
            raise AxletreeError(f"{name} of {value:g}: it must be more than 0 (and below 5000)")
    if magnification is not None:
        eyepiece_mm = focal / magnification
    wanted = min(e.focal_length_mm for e in kit.eyepieces) if eyepiece_mm is None else eyepiece_mm
    found = next((e for e in kit.eyepieces if abs(e.focal_length_mm - wanted) < 0.05), None)
    apparent = found.apparent_field_deg if found else ASSUMED_APPARENT_FIELD_DEG
    stop = found.field_stop_mm if found else None
    return EyeUse(
        true_field_deg=float(true_field_deg(focal, wanted, apparent, stop)),
        magnification=focal / wanted,
        focal_length_mm=wanted,
        eyepiece=found.label if found else None,
        nudge_every_s=kit.habits.nudge_every_s if nudge_every_s is None else nudge_every_s,
        motor=kit.mount.motion == "motor",
    )
