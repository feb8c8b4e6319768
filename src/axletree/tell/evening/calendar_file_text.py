"""In which sentences does the evening stand in an ordinary calendar?

What an event is called (`_title`), what stands in it (`_words`), and what an alarm says
(`_alarm_words`).
"""

from __future__ import annotations

from datetime import timedelta
from enum import Enum
from zoneinfo import ZoneInfo

from axletree.tell.evening.document import Evening
from axletree.tell.evening.parts.set_up_facts import StageFacts
from axletree.tell.evening.parts.stop_facts import StopFacts
from axletree.tell.shared.words import above_ground, clock, day_words, duration, stops_counted
from axletree.tell.stop.circles_text import circles_words


class DarkDepth(Enum):
    """How deep a darkness is."""

    DARK = "dark"
    FOR_BRIGHT_STARS = "for_bright_stars"


def calendar_name(evening: Evening) -> str:
    """What the whole calendar is called."""
    return f"Telescope, {day_words(evening.date)}"


def session_title(evening: Evening) -> str:
    """The session's name."""
    return f"Telescope: {evening.place.name}"


def session_words(evening: Evening) -> tuple[str, ...]:
    """What is to be known of the whole session."""
    moon = evening.darkness.moon
    return (
        f"{evening.rig.tube} on {evening.rig.mount}.",
        f"Moon {moon.lit_fraction * 100:.0f} % lit ({moon.phase}).",
        f"{len(evening.stops)} stops." if evening.stops else evening.order.words,
        *evening.cautions,
        "Not for navigation.",
    )


def dark_title(depth: DarkDepth) -> str:
    """A darkness's name."""
    return {
        DarkDepth.DARK: "Dark",
        DarkDepth.FOR_BRIGHT_STARS: "Dark enough for bright stars",
    }[depth]


def dark_alarm_words(depth: DarkDepth, before: timedelta) -> str:
    """That it will be dark."""
    return f"{dark_title(depth)} in {duration(before.total_seconds())}"


def stage_title(stage: StageFacts) -> str:
    """A stage's name."""
    return f"Set up: {stage.name}"


def stage_words(stage: StageFacts) -> tuple[str, ...]:
    """What is to be done at a stage."""
    return (stage.answer, *stage.details, *(f"Take care: {c}" for c in stage.cautions))


def pole_alarm_words(evening: Evening) -> str:
    """That the pole star shows."""
    return f"{evening.pole.star} shows: put the axis on the pole"


def stages_words(evening: Evening) -> tuple[str, ...]:
    """When each stage of setting up begins, a line each."""
    zone = ZoneInfo(evening.place.time_zone)
    return tuple(f"{clock(stage.begin, zone)} {stage.name}" for stage in evening.stages)


def stops_title(evening: Evening) -> str:
    """What all stops together are called."""
    count = len(evening.stops)
    return f"The sky, in {stops_counted(count)}"


def take_down_title() -> str:
    """What the end is called."""
    return "Take down"


def stop_words(stop: StopFacts, evening: Evening, zone: ZoneInfo) -> tuple[str, ...]:
    """When a stop begins and what is to be set at it, a line each."""
    side, view, ends = stop.chosen, stop.view, _room_ends(stop, zone)
    units = evening.units
    return (
        f"{clock(stop.begin, zone)} {stop.number}. {stop.name}",
        f"Tube {side.side}; " + (f"room to {ends}: {side.ends_by}." if ends else "room all night."),
        f"Circles: {circles_words(evening.rig, stop.start, places=1)}.",
        *(() if stop.set_on is None else (stop.set_on.words,)),
        f"{view.eyepiece}, {above_ground(view.height_mm, units)} up, face {view.face_words}.",
        *(f"Take care: {c}" for c in (*stop.turn_warnings, *stop.cautions)),
    )


def side_alarm_words(stop: StopFacts) -> str:
    """That the tube changes its side for this stop."""
    return (
        f"The tube goes over to side {stop.chosen.side} for {stop.name}: weights low, "
        "hold the tube, mind cables and legs"
    )


def room_alarm_words(stop: StopFacts, zone: ZoneInfo) -> str:
    """That the room of a stop's object ends, and what ends it."""
    return f"Room at {stop.name} ends at {_room_ends(stop, zone)}: {stop.chosen.ends_by}"


def _room_ends(stop: StopFacts, zone: ZoneInfo) -> str:
    """The clock time at which it does, '' where nothing ends it."""
    ends = stop.chosen.room_ends
    return "" if ends is None else f"{clock(ends, zone)}{stop.chosen.bar}"
