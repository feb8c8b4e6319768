"""Which words stand beside one stop of the printed run sheet?"""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from axletree.evening.stops.stop import NudgeDirection
from axletree.find.instruments import InstrumentKind
from axletree.mount.rig.eyepiece import Stance
from axletree.tell.evening.document import Evening
from axletree.tell.evening.parts.finding_facts import FindingFacts
from axletree.tell.evening.parts.stop_facts import NudgeFacts, SideFacts, StopFacts, ViewFacts
from axletree.tell.find.view_text import field_words
from axletree.tell.shared.words import (
    above_ground,
    capital,
    clock,
    degrees,
    knob_turns,
    to_the_second,
)
from axletree.tell.stop.circles_text import (
    circles_words,
    reading_words,
)

# More stops than this are printed small, so that three pages hold them.
LARGE_STOPS = 10


def _touch_rows(side: SideFacts) -> list[dict[str, Any]]:
    """From when on something may touch."""
    return [{"label": "Watch", "value": side.touch}] if side.touch else []


def stop_row(stop: StopFacts, evening: Evening, zone: ZoneInfo) -> dict[str, Any]:
    side, view, start, nudge = stop.chosen, stop.view, stop.start, stop.nudge
    height = above_ground(view.height_mm, evening.units, view.height_error_mm)
    until = "all night"
    if side.room_ends:
        until = f"to {clock(side.room_ends, zone)}{side.bar}, then {side.ends_by}"
    rows = [
        {
            "label": "Circles",
            "value": f"{_circles(stop, evening)}; "
            f"{degrees(start.altitude_deg, 0)} high, azimuth {degrees(start.azimuth_deg, 0)}",
        },
        *_find_rows(stop),
        {"label": "Room", "value": until + (", weights up" if side.weights_up else "")},
        *_touch_rows(side),
        {
            "label": view.eyepiece,
            "value": f"{view.magnification:.0f} times, "
            f"{height} up, face "
            f"{view.face_words}{_posture(view)}; {_nudge(nudge)}",
        },
    ]
    return {
        "number": stop.number,
        "name": stop.name,
        "what": _what(stop, len(evening.stops) > LARGE_STOPS),
        "before": before_words(stop, zone),
        "begin": clock(stop.begin, zone),
        "end": clock(stop.end, zone),
        "side": side.side,
        "rows": rows,
        "sight": sight_words(stop),
        "warnings": [*stop.turn_warnings, *stop.cautions],
        "drawing": None,
        "drawing_alt": "",
        "field": None,
        "field_alt": "",
        "field_below": "" if stop.finding is None else field_below(stop.finding),
        "field_corner": "" if stop.finding is None else field_corner(stop.finding),
        "drawing_words": "",
    }


def before_words(stop: StopFacts, zone: ZoneInfo) -> str:
    """What to do in a long wait before this stop; '' where there is none."""
    return "" if stop.wait is None else f"{clock(stop.wait.begin, zone)}. {stop.wait.words}"


def _circles(stop: StopFacts, evening: Evening) -> str:
    """Both circles, and on which star the hour circle is set first; the rest is said once."""
    marks = evening.rig.hour_marks
    both = circles_words(evening.rig, stop.start, short=True)
    if stop.set_on is None:
        return both
    reading = reading_words(marks, stop.set_on.star_reading_h)
    return f"{both}, from {reading} on {stop.set_on.star}"


def _find_rows(stop: StopFacts) -> list[dict[str, str]]:
    found = stop.finding
    if found is None:
        return []
    label = "Find it" if found.eyepiece == stop.view.eyepiece else f"Find it, {found.eyepiece}"
    return [{"label": label, "value": found.words}]


def sight_words(stop: StopFacts) -> str:
    """How well it shows, and what: of Moon, planets and pairs as they are at that minute."""
    shows = f"{capital(stop.visibility)}."
    say = f" {stop.sayings[0]}" if stop.sayings else ""
    # What is special comes in the place of what could be said any night.
    say = "".join(f" {words}" for words in stop.tonight) or say
    if stop.eyepiece is None:
        return f"{shows} {stop.why}{say}"
    seen = stop.eyepiece["short"]
    return f"{shows} {capital(seen)}.{say}"


def _what(stop: StopFacts, compact: bool) -> str:
    """What it is; in a small print, which has no line of its own for it, also what it shows."""
    words = ", ".join(w for w in (*stop.also_called[:1], kind_of(stop), stop.constellation) if w)
    if not compact or stop.eyepiece is None or stop.eyepiece["kind"] == "pair":
        return words
    return f"{words}: {stop.eyepiece['short']}"


def kind_of(stop: StopFacts) -> str:
    """Of which kind it is; '' of the Moon, which nobody has to be told."""
    return "" if stop.kind == stop.name.casefold() else stop.kind


def field_below(finding: FindingFacts) -> str:
    """What stands below the small field, 'finder 7°'."""
    view = finding.views[0]
    what = "finder" if view["instrument"] == InstrumentKind.FINDER.value else view["label"]
    if view["instrument"] == InstrumentKind.PLAIN_SIGHT.value:
        what = "sight"
    return f"{what}, {field_words(view['field_deg'])}"


# Where what stands below the field can stand, clockwise from the top: in the mean of its letters.
_CORNERS_DEG = {
    "bottom right": 146.0, "bottom left": 214.0, "top right": 34.0, "top left": 326.0,
}  # fmt: skip


_CLEAR_DEG = 36.0  # so far from its middle neither its letters nor a mark's reach


def field_corner(finding: FindingFacts) -> str:
    """The corner of the small field's square that north and drift leave free, the first of those
    that are clear, else the clearest."""
    view = finding.views[0]
    marks = (view["north_deg"], view["drift_deg"])
    free = {
        corner: min(abs((mark - at + 180.0) % 360.0 - 180.0) for mark in marks)
        for corner, at in _CORNERS_DEG.items()
    }
    clear = [corner for corner, apart in free.items() if apart >= _CLEAR_DEG]
    return clear[0] if clear else max(free, key=free.__getitem__)


def _posture(view: ViewFacts) -> str:
    return "" if view.reach_code == Stance.STAND.value else f", {view.reach}"


def _nudge(nudge: NudgeFacts) -> str:
    if nudge.knob_turns > 0 and nudge.every_s is not None:
        return (
            f"{knob_turns(nudge.knob_turns)} {nudge.direction} every {to_the_second(nudge.every_s)}"
        )
    if nudge.direction_code == NudgeDirection.MOTOR.value:
        return "the motor follows"
    return "there is no knob: push the tube gently towards the west"
