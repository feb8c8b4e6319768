"""Which words stand on the printed run sheet, and in which order?"""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from axletree.tell.evening.document import Evening
from axletree.tell.evening.notes.look_up_text import paper_lines
from axletree.tell.evening.notes.plan_b_text import plan_b_words
from axletree.tell.evening.notes.reasons_text import reason_groups
from axletree.tell.evening.parts.set_up_facts import StageFacts
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.kit.measure_data import DimensionToMeasure
from axletree.tell.kit.measure_text import rooms_known_words
from axletree.tell.kit.tape_text import tape_words
from axletree.tell.paper.stop_text import LARGE_STOPS, stop_row
from axletree.tell.paper.typeset import TYPST_PAPER, Paper
from axletree.tell.shared.words import (
    clock,
    degrees,
    dial_place,
    stops_counted,
    weekday_words,
)
from axletree.tell.stop.circles_text import (
    in_brackets_words,
    run_on_words,
)

# On paper so many names stand for one reason.
NAMES_A_REASON = 3
# Stages whose details stand at the end: the first page holds setting up and the cautions.
NOTED_AT_END = ("arrive", "cool")


def sheet_of(evening: Evening, paper: Paper = "a4") -> dict[str, Any]:
    """Every word of the paper, in the order in which it is printed."""
    zone = ZoneInfo(evening.place.time_zone)
    night = evening.darkness

    def at(moment: Any) -> str:
        return clock(moment, zone) if moment else "never"

    return {
        "paper": TYPST_PAPER[paper],
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
        "stops": [stop_row(stop, evening, zone) for stop in evening.stops],
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


def children_line(evening: Evening) -> str:
    """Until when the children are there; '' where nobody said."""
    return "" if evening.children is None else evening.children.words


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
