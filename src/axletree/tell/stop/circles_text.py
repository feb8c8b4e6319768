"""In which words are the readings of the setting circles told, as the person's are marked?"""

from __future__ import annotations

from typing import Protocol

from axletree.axis.circles_read import SetOnStar
from axletree.axis.marks import HOUR_ANGLE, RIGHT_ASCENSION, AfterSetting
from axletree.axis.unknowns import LOST_CIRCLE_ARCMIN
from axletree.find.turning.by_circles import ByCircles
from axletree.kit.parts.circles import HourMarks
from axletree.tell.shared.words import degrees, hours_minutes, own_clock

SET_IT = "unknown, set it on a star"
_MARKS = {HOUR_ANGLE: "hour angle", RIGHT_ASCENSION: "right ascension"}


class CirclesOfRig(Protocol):
    """How the hour circle is marked and how it sits, of a document's rig."""

    @property
    def hour_marks(self) -> HourMarks: ...
    @property
    def hour_circle(self) -> str: ...


class CirclePlace(Protocol):
    """What stands on both circles at one moment, of a stop's document."""

    @property
    def hour_angle_h(self) -> float: ...
    @property
    def hour_circle_h(self) -> float: ...
    @property
    def declination_circle_deg(self) -> float: ...
    @property
    def sidereal_h(self) -> float | None: ...
    @property
    def hour_reading_h(self) -> float | None: ...
    @property
    def hour_circle_sigma_min(self) -> float | None: ...
    @property
    def declination_circle_sigma_deg(self) -> float | None: ...


def reading_words(marks: HourMarks, reading_h: float) -> str:
    """'+1h 20m' of hour angle, '5h 35m' of right ascension."""
    if marks == HOUR_ANGLE:
        return hours_minutes((reading_h + 12.0) % 24.0 - 12.0, signed=True)
    return hours_minutes(round(reading_h * 60.0) % 1440 / 60.0)


def led_to_words(led: ByCircles) -> str:
    """What both circles show on something: '−1h 19m, +38.8°'."""
    return (
        f"{reading_words(led.marks, led.hour_reading_h)}, "
        f"{degrees(led.declination_deg, 1, signed=True)}"
    )


def circles_words(
    rig: CirclesOfRig, place: CirclePlace, *, short: bool = False, places: int | None = None
) -> str:
    """'hour angle +1h 05m ± 2 min (right ascension 5h 35m), declination +38.8° ± 0.4°'.

    The hour circle as it is marked, the other figure behind it, errors where they are known.
    `short`: without the other figure's name, which `in_brackets_words` says once. `places` after
    the point of a declination; None: as they are usually written.
    """
    marks, shown = rig.hour_marks, place.declination_circle_deg
    declination = (
        degrees(shown, signed=True) if places is None else degrees(shown, places, signed=True)
    )
    hour_min, declination_deg = place.hour_circle_sigma_min, place.declination_circle_sigma_deg
    if declination_deg is not None:
        error = degrees(declination_deg, 2 if declination_deg < 0.1 else 1)
        lost = declination_deg * 60.0 > LOST_CIRCLE_ARCMIN
        declination = SET_IT if lost else f"{declination} ± {error}"
    reading, sidereal = place.hour_reading_h, place.sidereal_h
    if reading is None or sidereal is None:  # of an older sheet
        marks, reading = HOUR_ANGLE, place.hour_circle_h
    hour = reading_words(marks, reading)
    if hour_min is not None:
        error = f"{hour_min:.0f} min" if hour_min >= 1.0 else f"{hour_min:.1f} min"
        hour = SET_IT if hour_min * 15.0 > LOST_CIRCLE_ARCMIN else f"{hour} ± {error}"
    hour = f"{_MARKS[marks]} {hour}"
    if sidereal is not None:
        # Each follows from the other and the sidereal time. But one that the drive carries shows
        # the hour angle as of when it was set: the sky took it along.
        other = RIGHT_ASCENSION if marks == HOUR_ANGLE else HOUR_ANGLE
        carried = marks == HOUR_ANGLE and rig.hour_circle == "driven"
        now = place.hour_angle_h if carried else reading
        behind = reading_words(other, (sidereal - now) % 24.0)
        hour += f" ({behind})" if short else f" ({_MARKS[other]} {behind})"
    return f"{hour}, declination {declination}"


def set_on_words(setting: SetOnStar) -> str:
    """To what the hour circle is set on which star, and where to turn then, in a sentence."""
    star = reading_words(setting.marks, setting.star_reading_h)
    thing = reading_words(setting.marks, setting.object_reading_h)
    at = own_clock(setting.at)
    when = f" at {at}" if setting.marks == HOUR_ANGLE else ""
    first = f"Set the hour circle to {star} on {setting.star}{when}, then turn to {thing}"
    return {
        AfterSetting.WITH_CLOCK: f"{first}: both a minute more for each minute later.",
        AfterSetting.FALLS: f"{first} at once: a minute less for each minute since.",
        AfterSetting.KEPT: f"{first}; the drive keeps it.",
    }[setting.then]


def run_on_words(then_code: str) -> str:
    """What 'from a reading on a star' means on paper, and how it runs on, in sentences."""
    first = "With the star in the middle, set the hour circle to the reading behind 'from'"
    return {
        AfterSetting.WITH_CLOCK.value: (
            f"{first}, then turn to the stop's own; both are a minute more for each minute after "
            "its begin."
        ),
        AfterSetting.FALLS.value: (
            f"{first}, then turn at once: the stop's own is a minute less for each minute since."
        ),
        AfterSetting.KEPT.value: f"{first}, then turn to the stop's own; the drive keeps it.",
    }[then_code]


def in_brackets_words(marks: HourMarks) -> str:
    """What stands in the brackets of `circles_words`, in a sentence."""
    other = RIGHT_ASCENSION if marks == HOUR_ANGLE else HOUR_ANGLE
    return f"In brackets: {_MARKS[other]}."
