"""By which six figures does a mount differ from a perfect one, and how large are they usually?"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Literal

Circle = Literal["hour", "declination"]
CIRCLES: tuple[Circle, ...] = ("hour", "declination")

CONE, LEAN = "cone", "lean"
UNKNOWNS = ("high", "east", "index_hour", "index_declination", CONE, LEAN)
HIGH, EAST, INDEX_HOUR, INDEX_DECLINATION = range(4)

# What ordinary mounts have as they leave the bench (common practice, no source).
USUAL_CONE_ARCMIN = 20.0
USUAL_LEAN_ARCMIN = 10.0
# A circle that somebody once set by the level and the eye (our figure).
USUAL_INDEX_ARCMIN = 60.0
# Of a circle that was turned to anywhere: even chances over the hour circle's twelve hours and the
# declination circle's whole turn; of an axis that was moved: nobody's is ten degrees off.
LOST_INDEX_HOUR_ARCMIN = 12.0 * 900.0 / math.sqrt(12.0)
LOST_INDEX_DECLINATION_ARCMIN = 360.0 * 60.0 / math.sqrt(12.0)
LOST_AXIS_ARCMIN = 300.0
# A circle that is known no better than an hour, one standard deviation, helps nobody (our figure).
LOST_CIRCLE_ARCMIN = 900.0


class ModelPart(StrEnum):
    """What is measured, set and voided together."""

    AXIS = "axis"
    INDEX_HOUR = "index_hour"
    INDEX_DECLINATION = "index_declination"
    CONE = CONE
    LEAN = LEAN

    @property
    def places(self) -> tuple[int, ...]:
        """Where it stands among `UNKNOWNS`."""
        return (HIGH, EAST) if self is ModelPart.AXIS else (UNKNOWNS.index(self.value),)

    @property
    def lost_arcmin(self) -> float:
        """One standard deviation where nothing is known any more."""
        return _LOST[self]


_LOST = {
    ModelPart.AXIS: LOST_AXIS_ARCMIN,
    ModelPart.INDEX_HOUR: LOST_INDEX_HOUR_ARCMIN,
    ModelPart.INDEX_DECLINATION: LOST_INDEX_DECLINATION_ARCMIN,
    ModelPart.CONE: USUAL_CONE_ARCMIN,
    ModelPart.LEAN: USUAL_LEAN_ARCMIN,
}
