"""What does an hour circle show as it is marked, and how does that change while time passes?"""

from __future__ import annotations

from enum import StrEnum

from axletree.kit.parts.circles import Circles, HourMarks
from axletree.sky.directions import wrap_24h, wrap_h

HOUR_ANGLE: HourMarks = "hour angle"
RIGHT_ASCENSION: HourMarks = "right ascension"


class AfterSetting(StrEnum):
    """How the reading of an object changes once the hour circle was set on a star."""

    WITH_CLOCK = "with_clock"  # marked in hour angle: it grows a second a second
    FALLS = "falls"  # marked in right ascension, not driven: it falls a second a second
    KEPT = "kept"  # the drive carries the circle with the sky


def hour_reading_h(marks: HourMarks, hour_circle_h: float, sidereal_h: float) -> float:
    """What stands at the pointer of an hour circle that is right now, as it is marked.

    `hour_circle_h`: the same circle marked in hour angle; `sidereal_h`: local apparent sidereal
    time. Hour angle comes within -12 and 12 h, right ascension within 0 and 24 h: the sidereal
    time less the hour angle (by definition).
    """
    if marks == HOUR_ANGLE:
        return float(wrap_h(hour_circle_h))
    return float(wrap_24h(sidereal_h - hour_circle_h))


def after_setting(circles: Circles) -> AfterSetting | None:
    """How readings change after the hour circle was set; None for one that is never set.

    A circle on the housing shows the hour angle, plus a constant, whatever its figures count: an
    object's hour angle grows with the sidereal time. One carried by the drive turns with it.
    """
    if not circles.set_on_star:
        return None
    if circles.hour_circle == "driven":
        return AfterSetting.KEPT
    if circles.hour_marks == HOUR_ANGLE:
        return AfterSetting.WITH_CLOCK
    return AfterSetting.FALLS
