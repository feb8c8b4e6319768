"""Where does an object stand at one moment, what do the mount's circles read there, and on which
star is the hour circle set before?
"""

from __future__ import annotations

from datetime import datetime
from enum import Enum

from axletree.axis.marks import AfterSetting
from axletree.kit.frozen import dataclass
from axletree.kit.parts.circles import HourMarks


class CirclesOf(Enum):
    """Whose circles a stop's figures are those of."""

    PERFECT = "perfect"
    OWN = "own"  # of this mount, by what was measured of it
    # Of a mount without faults, as well as this one's axis was set: nobody looked yet.
    AS_SET = "as_set"
    OUT_OF_REACH = "out_of_reach"  # perfect, since this mount's tube can't be pointed there


@dataclass(frozen=True)
class StopPlace:
    """Where an object stands at one moment, and what the mount's circles read there.

    `hour_circle_h` counts hour angle; `hour_reading_h` is what the kit's circle shows as it is
    marked, just set on the stop's star where it is set on one. The sigmas, minutes and degrees of
    the circle, are None where nothing is known of the mount.
    """

    at: datetime
    hour_angle_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    airmass: float
    hour_circle_h: float
    declination_circle_deg: float
    sidereal_h: float
    hour_reading_h: float
    hour_circle_sigma_min: float | None = None
    declination_circle_sigma_deg: float | None = None
    circles: CirclesOf = CirclesOf.PERFECT


@dataclass(frozen=True)
class SetOnStar:
    """The hour circle set on a star, before the turn to the object.

    Readings as the kit's circle is marked, in hours, for the moment `at`: to what it is set on the
    star, and what it shows on the object, with `sigma_min` where the mount was measured, the
    person's readings included. `then`: how the latter changes afterwards.
    """

    star: str
    apart_deg: float
    at: datetime
    marks: HourMarks
    star_reading_h: float
    object_reading_h: float
    sigma_min: float | None
    then: AfterSetting
