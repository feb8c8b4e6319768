"""In which rows are both tube sides of one object set beside each other?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from axletree.axis.marks import HOUR_ANGLE, RIGHT_ASCENSION
from axletree.kit.kit import Kit
from axletree.mount.room.choice import Choice
from axletree.mount.room.side_answer import SideAnswer
from axletree.sky.time.nights import later
from axletree.stages.target.point import PointAnswer
from axletree.tell.point.circles_text import (
    declination_circle_words,
    hour_circle_words,
)
from axletree.tell.shared.words import (
    above_ground,
    clock,
    clock_face,
    compass_point,
    duration,
    length,
)
from axletree.tell.side.doubt_text import (
    bar_words,
    touch_words,
)
from axletree.tell.side.text import (
    posture_words,
)

FIRST, COLUMN = 22, 30


def _row(name: str, east: str, west: str) -> str:
    return f"  {name:<{FIRST - 2}}{east:<{COLUMN}}{west}".rstrip()


def _room(answer: SideAnswer) -> str:
    if not answer.usable:
        return "none now"
    if answer.endless:
        return "all night"
    return f"{duration(answer.room_s)}, {answer.room_h * 15:.0f}°"


def _until(answer: SideAnswer, moment: datetime, zone: ZoneInfo) -> str:
    if not answer.usable:
        if answer.opens_in_s is None:
            return "not within a day"
        return f"can be used from {clock(later(moment, answer.opens_in_s), zone)}"
    if answer.endless:
        return ""
    return f"until {clock(later(moment, answer.room_s), zone)}"


def _ends_row(answer: PointAnswer, choice: Choice) -> list[str]:
    """When each room ends, ± what the dimensions leave open, and from when on something may
    touch."""
    moment, zone = answer.at, answer.kit.site.zone
    pairs = list(zip(choice.sides, answer.doubts_of_room, strict=True))
    ends = [_until(side, moment, zone) for side, _ in pairs]
    bars = [bar_words(doubt) if end and side.usable else ""
            for end, (side, doubt) in zip(ends, pairs, strict=True)]  # fmt: skip
    return [
        _row("", *(end + bar for end, bar in zip(ends, bars, strict=True))),
        _row("a touch possible", *(touch_words(doubt, moment, zone) for _, doubt in pairs)),
    ]


def _face(answer: SideAnswer) -> str:
    azimuth = float(answer.eye.face_azimuth_deg)
    if math.isnan(azimuth):
        return "any way, it is so steep"
    return f"{compass_point(azimuth)} ({azimuth:.0f}°)"


def _gap(answer: SideAnswer, units: str) -> str:
    if answer.clearance_m <= 0:
        return "in contact"
    return f"{length(answer.clearance_m * 1000, units)} apart"


def barrel_words(altitude_deg: float) -> str:
    """How the eyepiece's barrel points."""
    if altitude_deg >= 80:
        return "upright: look down into it"
    if altitude_deg <= -80:
        return "hanging: look straight up"
    if abs(altitude_deg) < 0.5:
        return "level"
    return f"{abs(altitude_deg):.0f}° {'above' if altitude_deg > 0 else 'BELOW'} the level"


def _weights(answer: SideAnswer) -> str:
    return f"at {clock_face(answer.weights_clock_deg)}" + (" (UP)" if answer.weights_up else "")


def _weights_down(answer: SideAnswer, moment: datetime, zone: ZoneInfo) -> str:
    if not answer.usable:
        return ""
    if answer.weights_up:
        return "they are above it now"
    if answer.weights_down_h >= answer.room_h - 1e-6:
        return "all that time"
    return f"until {clock(later(moment, answer.weights_down_s), zone)}"


def _since(answer: SideAnswer, moment: datetime, zone: ZoneInfo) -> str:
    if not answer.usable:
        return ""
    if answer.endless:
        return "always"
    return clock(later(moment, -answer.since_s), zone)


def sides_table(answer: PointAnswer, choice: Choice) -> str:
    """Side by side, a row a thing; of a side that has no room why it has none."""
    kit, moment = answer.kit, answer.at
    if not choice.better:
        return _later(choice, kit, moment)
    zone, units = kit.site.zone, kit.habits.units
    east, west = choice.sides

    def both(name: str, text: Any) -> str:
        return _row(name, text(east), text(west))

    better = choice.better
    titles = [f"side {a.side}{' (better)' if better == a.side else ''}" for a in choice.sides]
    rows = [
        _row("", *titles),
        both("room", _room),
        *_ends_row(answer, choice),
        both("weights below tube", lambda a: _weights_down(a, moment, zone)),
        both("in reach since", lambda a: _since(a, moment, zone)),
        *_circles(answer),
        both("weights hang", _weights),
        both("nearest parts", lambda a: _gap(a, units)),
        _row("eyepiece height", *_eye_heights(answer, choice)),
        both("", lambda a: posture_words(a.posture, units)),
        both("face", _face),
        both("barrel", lambda a: barrel_words(float(a.eye.barrel_altitude_deg))),
        both("north in the view", lambda a: f"towards {clock_face(float(a.picture.north_deg))}"),
        both("the sky drifts", lambda a: f"towards {clock_face(float(a.picture.drift_deg))}"),
    ]
    return "\n".join(row for row in rows if row.strip())


def _eye_heights(answer: PointAnswer, choice: Choice) -> list[str]:
    """The eyepiece above the ground on both sides, with its error where asked."""
    return [
        above_ground(
            float(side.eye.height_m) * 1000.0,
            answer.kit.habits.units,
            0.0 if doubt is None else doubt.eye_sigma_m * 1000.0,
        )
        for side, doubt in zip(choice.sides, answer.doubts_of_room, strict=True)
    ]


def _circles(answer: PointAnswer) -> list[str]:
    """What the person's own circles show, the hour circle once it was set on its star."""
    assert answer.circles is not None
    marks = answer.kit.mount.circles.hour_marks
    other = RIGHT_ASCENSION if marks == HOUR_ANGLE else HOUR_ANGLE
    pairs = list(zip(answer.circles, answer.set_on, strict=True))
    return [
        _row("hour circle", *(hour_circle_words(one, marks, on) for one, on in pairs)),
        _row(f"or {other}", *(hour_circle_words(one, other, on) for one, on in pairs)),
        _row("declination circle", *map(declination_circle_words, answer.circles)),
    ]


def _later(choice: Choice, kit: Kit, moment: datetime) -> str:
    """When an object that can't be reached now can be."""
    rows = [f"Side {a.side}: {_until(a, moment, kit.site.zone)}." for a in choice.sides]
    return "\n".join(rows)
