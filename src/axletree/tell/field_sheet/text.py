"""How does the evening read on a phone where nothing but words is shown?"""

from __future__ import annotations

from typing import Any
from zoneinfo import ZoneInfo

from axletree.mount.room.side_answer import SideCaution, SideWarning
from axletree.tell.evening.document import Evening
from axletree.tell.evening.notes.look_up_text import satellite_lines
from axletree.tell.evening.parts.stop_facts import StopFacts
from axletree.tell.shared.words import (
    above_ground,
    capital,
    clock,
    day_and_clock,
    knob_turns,
    to_the_second,
    weekday_words,
)
from axletree.tell.side.text import side_caution_words
from axletree.tell.stop.circles_text import circles_words


def warning_sentence(warning: SideWarning) -> str:
    """What a tube side warns of, as a sentence."""
    words = side_caution_words(SideCaution(warning))
    return words[:1].upper() + words[1:] + "."


def field_words(evening: Evening) -> dict[str, Any]:
    """The words of the sheet's plain part, by the names that its template uses."""
    zone = ZoneInfo(evening.place.time_zone)
    return {
        "day": weekday_words(evening.date),
        "made": day_and_clock(evening.made_at, zone),
        "dark": _dark(evening, zone),
        "stages": [
            {
                "time": clock(stage.begin, zone),
                "name": stage.name,
                "answer": stage.answer,
                "details": stage.details,
                "cautions": stage.cautions,
            }
            for stage in evening.stages
        ],
        "stops": [_stop(stop, zone, evening) for stop in evening.stops],
        "look_up": satellite_lines(evening),
    }


def _dark(evening: Evening, zone: ZoneInfo) -> str:
    dark, moon = evening.darkness, evening.darkness.moon
    said = []
    for words, moment in (
        ("Sun sets", dark.sunset),
        ("pole star shows", dark.pole_star_visible),
        ("dark from", dark.astronomical_dusk),
        ("dark until", dark.astronomical_dawn),
    ):
        if moment is not None:
            said.append(f"{words} {clock(moment, zone)}")
    moonlight = f"Moon {moon.lit_fraction * 100:.0f} % lit ({moon.phase})"
    for words, moment in (("rises", moon.rise), ("sets", moon.set)):
        if moment is not None:
            moonlight += f", {words} {clock(moment, zone)}"
    light = "; ".join([", ".join(said), moonlight] if said else [dark.note, moonlight]) + "."
    return " ".join(filter(None, (evening.stop_sign, evening.tonight, light)))


def _stop(stop: StopFacts, zone: ZoneInfo, evening: Evening) -> dict[str, Any]:
    called = ", ".join((*stop.also_called, stop.kind))
    view, units = stop.view, evening.units
    height = above_ground(view.height_mm, units, view.height_error_mm)
    return {
        "time": clock(stop.begin, zone),
        "name": stop.name,
        "called": called + (f" in {stop.constellation}" if stop.constellation else ""),
        "lines": (
            f"Tube {stop.chosen.side}; {_room(stop, zone)}.",
            f"Circles at its begin: {circles_words(evening.rig, stop.start, places=1)}.",
            *(() if stop.set_on is None else (stop.set_on.words,)),
            *_find(stop),
            f"{view.eyepiece}, {height} up, face {view.face_words}: "
            f"{view.reach}. {view.orientation}",
            _nudge(stop),
            f"{capital(stop.visibility)}. {stop.why}",
        ),
        "cautions": (*stop.turn_warnings, *stop.cautions),
    }


def _find(stop: StopFacts) -> tuple[str, ...]:
    found = stop.finding
    return () if found is None else (f"Find it: {found.words}; {found.eyepieces}.",)


def _room(stop: StopFacts, zone: ZoneInfo) -> str:
    side = stop.chosen
    if side.room_ends is None:
        return "room all night"
    touch = f". {side.touch}" if side.touch else ""
    return f"room to {clock(side.room_ends, zone)}{side.bar}: {side.ends_by}{touch}"


def _nudge(stop: StopFacts) -> str:
    nudge = stop.nudge
    if nudge.every_s is None or nudge.knob_turns == 0:
        return nudge.direction
    return (
        f"Nudge every {to_the_second(nudge.every_s)}: {knob_turns(nudge.knob_turns)} of the hour "
        f"knob, {nudge.direction}."
    )
