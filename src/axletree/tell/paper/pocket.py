"""How is the evening printed on one page for the pocket?

A row a stop: when, what, which side, how it is found, how high the eyepiece stands, what to see.
The layout is `pocket.typ`; what is written comes from the `Evening` document alone.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any
from zoneinfo import ZoneInfo

from axletree.tell.evening.document import Evening
from axletree.tell.evening.notes.plan_b_text import plan_b_words
from axletree.tell.evening.parts.stop_facts import StopFacts
from axletree.tell.paper.stop_text import before_words, kind_of, sight_words
from axletree.tell.paper.text import children_line
from axletree.tell.paper.typeset import TYPST_PAPER, Paper, typeset
from axletree.tell.shared.words import above_ground, clock, weekday_words

# Of more stops than this one page has no room to tell what to see.
MOST_TOLD = 16
# Stages of setting up whose answer is needed in the dark.
STAGES = ("pole", "check")


def pocket_pdf(evening: Evening, paper: Paper = "a4") -> bytes:
    """The PDF (PDF/UA-1), one page of either paper; same document, same bytes."""
    sheet = json.dumps(pocket_of(evening, paper), ensure_ascii=False).encode()
    source = files("axletree.tell.paper") / "pocket.typ"
    return typeset({"main.typ": source.read_bytes(), "sheet.json": sheet}, evening.made_at)


def pocket_of(evening: Evening, paper: Paper = "a4") -> dict[str, Any]:
    """Every word of the page, in the order in which it is printed."""
    zone = ZoneInfo(evening.place.time_zone)
    night = evening.darkness
    moon = f"Moon {night.moon.lit_fraction * 100:.0f} % lit"
    sun = f"Sun sets {clock(night.sunset, zone)}" if night.sunset else ""
    dark = f"dark {clock(night.astronomical_dusk, zone)}" if night.astronomical_dusk else ""
    return {
        "paper": TYPST_PAPER[paper],
        "title": f"{evening.place.name}, {weekday_words(evening.date)}",
        "keywords": ["run sheet", "one page", evening.date.isoformat()],
        "stop_sign": evening.stop_sign,
        "tonight": evening.tonight,
        "night": ", ".join(words for words in (sun, dark, moon) if words),
        "children": children_line(evening),
        "stages": [
            {"name": stage.name[:1].upper() + stage.name[1:], "answer": stage.answer}
            for stage in evening.stages
            if stage.name in STAGES
        ],
        "stops": [_row(stop, evening, zone) for stop in evening.stops],
        "ways": evening.ways_words,
        "plan_b": plan_b_words(evening),
        "notes": list(evening.notes),
        "footer": "Nothing near the Sun while it is up. Hold the tube while a lock is open.",
    }


def _row(stop: StopFacts, evening: Evening, zone: ZoneInfo) -> dict[str, str]:
    view = stop.view
    called = ", ".join(words for words in (*stop.also_called[:1], kind_of(stop)) if words)
    return {
        "before": before_words(stop, zone),
        "time": clock(stop.begin, zone),
        "name": stop.name,
        "called": called,
        "side": stop.chosen.side,
        "find": "" if stop.finding is None else stop.finding.words,
        "eyepiece": view.eyepiece,
        "height": above_ground(view.height_mm, evening.units),
        "room": _room(stop, zone),
        "see": "" if len(evening.stops) > MOST_TOLD else sight_words(stop),
    }


def _room(stop: StopFacts, zone: ZoneInfo) -> str:
    ends = stop.chosen.room_ends
    return "all night" if ends is None else f"to {clock(ends, zone)}{stop.chosen.bar}"
