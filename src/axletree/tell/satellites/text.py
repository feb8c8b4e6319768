"""In which sentences is a satellite's crossing told?"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from axletree.evening.special.crossings import CrossingsTonight
from axletree.sky.satellites.crossings import (
    OLD_DAYS,
    TOO_OLD_DAYS,
    Crossing,
    CrossingEvent,
    CrossingMoment,
)
from axletree.sky.satellites.shadow import FADING_S
from axletree.tell.shared.words import compass_point, magnitude

# Begin and end within so many seconds of the top say the top as well.
_SAME_S = 2.0


def crossing_words(one: Crossing, zone: ZoneInfo) -> str:
    """'19:14:05 Made up comes up in the west, highest at 19:17:12, 62° in the south-west; ...'."""
    name = one.name or f"satellite {one.number}"
    begin = _begin(one.begin)
    parts = [f"{_seconds(one.begin.time, zone)} {name} {begin}"]
    apart = (one.highest.time - one.begin.time, one.end.time - one.highest.time)
    if min(apart) > timedelta(seconds=_SAME_S):
        top = one.highest
        parts.append(
            f"highest at {_seconds(top.time, zone)}, {top.altitude_deg:.0f}° in the "
            f"{compass_point(top.azimuth_deg)}"
        )
    parts.append(_end(one.end, zone))
    text = ", ".join(parts)
    if one.brightest_mag is not None:
        text += f"; about magnitude {magnitude(one.brightest_mag)} at best"
    fades = CrossingEvent.ENTERS_SHADOW in (one.begin.kind, one.end.kind)
    error = max(one.error_s, FADING_S) if fades else one.error_s
    text += f"; ± {error:.0f} s" if error >= 1.0 else "; ± 1 s"
    if one.old:
        text += f"; its elements are {one.age_days:.0f} days old"
    return text


def satellite_notes(tonight: CrossingsTonight) -> list[str]:
    """What was left out, and for what the old ones are told: a sentence each."""
    notes = []
    if tonight.more:
        crossing = "crossing is" if tonight.more == 1 else "crossings are"
        notes.append(f"{tonight.more} more {crossing} left out, fainter or lower than these.")
    if tonight.too_old:
        some = ", ".join(one.name or str(one.number) for one in tonight.too_old[:4])
        many = len(tonight.too_old)
        others = f" and {many - 4} more" if many > 4 else ""
        notes.append(
            f"Left out, elements more than {TOO_OLD_DAYS:.0f} days from this evening: "
            f"{some}{others}. Bring newer ones."
        )
    if any(one.old for one in tonight.crossings):
        notes.append(
            f"Elements older than {OLD_DAYS:.0f} days: bring newer ones; what was steered since "
            "then comes minutes off, or not at all."
        )
    return notes


def _begin(moment: CrossingMoment) -> str:
    point, place = _where(moment)
    return {
        CrossingEvent.RISES: f"comes up in the {point}",
        CrossingEvent.LEAVES_SHADOW: f"comes out of the Earth's shadow {place}",
        CrossingEvent.SKY_DARK: f"shows {place} as the sky darkens",
        CrossingEvent.BEGINS: f"stands {place} already",
    }[moment.kind]


def _end(moment: CrossingMoment, zone: ZoneInfo) -> str:
    (point, place), at = _where(moment), _seconds(moment.time, zone)
    return {
        CrossingEvent.SETS: f"gone in the {point} at {at}",
        CrossingEvent.ENTERS_SHADOW: f"fades into the Earth's shadow {place} at {at}",
        CrossingEvent.DAWN: f"lost in the dawn {place} at {at}",
        CrossingEvent.ENDS: f"still {place} at {at}",
    }[moment.kind]


def _where(moment: CrossingMoment) -> tuple[str, str]:
    """'north-east', and '30° high in the north-east'."""
    point = compass_point(moment.azimuth_deg)
    return point, f"{moment.altitude_deg:.0f}° high in the {point}"


def _seconds(moment: datetime, zone: ZoneInfo) -> str:
    return f"{moment.astimezone(zone) + timedelta(seconds=0.5):%H:%M:%S}"
