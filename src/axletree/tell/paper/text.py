"""Which words stand on the printed run sheet, and in which order?"""

from __future__ import annotations

from typing import Any, Literal
from zoneinfo import ZoneInfo

from axletree.evening.stops.stop import NudgeDirection
from axletree.find.instruments import InstrumentKind
from axletree.mount.rig.eyepiece import Stance
from axletree.tell.evening.document import Evening
from axletree.tell.evening.notes.look_up_text import paper_lines
from axletree.tell.evening.notes.plan_b_text import plan_b_words
from axletree.tell.evening.notes.reasons_text import reason_groups
from axletree.tell.evening.parts.finding_facts import FindingFacts
from axletree.tell.evening.parts.set_up_facts import StageFacts
from axletree.tell.evening.parts.stop_facts import NudgeFacts, SideFacts, StopFacts, ViewFacts
from axletree.tell.find.view_text import field_words
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.kit.measure_data import DimensionToMeasure
from axletree.tell.kit.measure_text import rooms_known_words
from axletree.tell.kit.tape_text import tape_words
from axletree.tell.shared.words import (
    above_ground,
    capital,
    clock,
    degrees,
    dial_place,
    knob_turns,
    stops_counted,
    to_the_second,
    weekday_words,
)
from axletree.tell.stop.circles_text import (
    circles_words,
    in_brackets_words,
    reading_words,
    run_on_words,
)

# More stops than this are printed small, so that three pages hold them.
LARGE_STOPS = 10
# On paper so many names stand for one reason.
NAMES_A_REASON = 3
# Stages whose details stand at the end: the first page holds setting up and the cautions.
NOTED_AT_END = ("arrive", "cool")

Paper = Literal["a4", "us-letter"]


def sheet_of(evening: Evening, paper: Paper = "a4") -> dict[str, Any]:
    """Every word of the paper, in the order in which it is printed."""
    zone = ZoneInfo(evening.place.time_zone)
    night = evening.darkness

    def at(moment: Any) -> str:
        return clock(moment, zone) if moment else "never"

    return {
        "paper": paper,
        "title": evening.place.name,
        "subtitle": f"{weekday_words(evening.date)}. {evening.rig.tube} on {evening.rig.mount}.",
        "keywords": ["run sheet", "equatorial mount", evening.date.isoformat()],
        "facts": [
            {"label": "Sun sets", "value": at(night.sunset)},
            {"label": "pole star", "value": "not used"}
            if night.pole_star_visible is None
            else {"label": "pole star shows", "value": at(night.pole_star_visible)},
            {"label": "dark from", "value": at(night.astronomical_dusk)},
            {"label": "Moon", "value": f"{night.moon.lit_fraction * 100:.0f} %"},
            {"label": _moon_label(evening, zone)[0], "value": _moon_label(evening, zone)[1]},
        ],
        "stop_sign": evening.stop_sign,
        "note": " ".join(
            words for words in (evening.tonight, night.note, children_line(evening)) if words
        ),
        "stages": [_stage(stage, zone) for stage in evening.stages],
        "compact": len(evening.stops) > LARGE_STOPS,
        "stops_title": f"The sky, in {stops_counted(len(evening.stops))}",
        "ways": evening.ways_words,
        "stops": [_stop(stop, evening, zone) for stop in evening.stops],
        "order": evening.order.words[:1].upper() + evening.order.words[1:],
        "plan_b": plan_b_words(evening),
        "look_up": paper_lines(evening),
        "given_up": [
            {"name": names, "reason": reason}
            for names, reason in reason_groups(evening.given_up, NAMES_A_REASON)[:6]
        ],
        "notes": [
            *(said for s in evening.stages if s.name in NOTED_AT_END for said in s.details),
            *evening.notes,
        ],
        "measure_title": "Measure first, by daylight",
        "measure": list(map(_to_measure, evening.measure_first)),
        "cautions": list(evening.cautions),
        "assumed": _assumed(evening),
        "footer": (
            f"{degrees(evening.place.latitude_deg, 3)}, "
            f"{degrees(evening.place.longitude_deg, 3)}. Times are "
            f"{evening.place.time_zone}. Not for navigation."
        ),
    }


def _to_measure(one: DimensionToMeasure) -> dict[str, Any]:
    """A dimension, what it brings and where the tape goes; its drawing is put in later."""
    name = dimension_words(one["key"])
    after, before = one["room_error_after_s"], one["room_error_before_s"]
    return {
        "key": one["key"],
        "name": name,
        "brings": rooms_known_words(after, before),
        "tape": tape_words(one["key"]),
        "drawing": None,
        "drawing_alt": f"where the tape goes: {name}",
    }


def _moon_label(evening: Evening, zone: ZoneInfo) -> tuple[str, str]:
    moon = evening.darkness.moon
    events = [(m, w) for m, w in ((moon.rise, "Moon rises"), (moon.set, "Moon sets")) if m]
    if not events:
        return "Moon", "no rise or set"
    after = [e for e in events if evening.darkness.sunset and e[0] > evening.darkness.sunset]
    moment, words = min(after or events)
    return words, clock(moment, zone)


def _stage(stage: StageFacts, zone: ZoneInfo) -> dict[str, Any]:
    return {
        "time": clock(stage.begin, zone),
        "name": stage.name[:1].upper() + stage.name[1:],
        "answer": stage.answer,
        "details": [] if stage.name in NOTED_AT_END else list(stage.details),
        "cautions": list(stage.cautions),
    }


def _touch_rows(side: SideFacts) -> list[dict[str, Any]]:
    """From when on something may touch."""
    return [{"label": "Watch", "value": side.touch}] if side.touch else []


def _stop(stop: StopFacts, evening: Evening, zone: ZoneInfo) -> dict[str, Any]:
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


def children_line(evening: Evening) -> str:
    """Until when the children are there; '' where nobody said."""
    return "" if evening.children is None else evening.children.words


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


def _assumed(evening: Evening) -> str:
    words = "Assumed: " + "; ".join(evening.assumptions) + "."
    if any(stop.start.hour_reading_h is not None for stop in evening.stops):
        words = f"{in_brackets_words(evening.rig.hour_marks)} {words}"
    setting = next((stop.set_on for stop in evening.stops if stop.set_on), None)
    if setting is not None:
        words = f"{run_on_words(setting.then_code)} {words}"
    if evening.rig.guessed:
        words += f" {len(evening.rig.guessed)} dimensions of the rig were guessed."
    return words


# Under the drawing beside a stop.
SEEN_FROM = "seen from behind"


def drawing_of_stop(name: str) -> str:
    """What the drawing beside a stop shows, for who cannot see it."""
    return f"The rig at {name}, seen from behind"


def field_of_stop(name: str) -> str:
    """What the field beside a stop shows, for who cannot see it."""
    return f"What the finder shows around {name}, turned as the eye meets it"


BALANCE_PICTURE = "Weights on the shaft and the tube on its saddle"


def pole_picture_words(evening: Evening) -> str:
    """What the drawing of the pole shows, for who cannot see it."""
    return f"{evening.pole.star} {dial_place(evening.pole.clock_hour)} on the dial"
