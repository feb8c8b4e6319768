"""How is the run sheet read in a terminal? Eighty columns, one answer first, then the reasons."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.kit.frozen import dataclass
from axletree.tell.evening.document import Evening
from axletree.tell.evening.notes.look_up_text import satellite_lines
from axletree.tell.evening.notes.plan_b_text import plan_b_words
from axletree.tell.evening.notes.reasons_text import reason_groups
from axletree.tell.evening.parts.set_up_facts import MoonFacts, NightFacts, StageFacts
from axletree.tell.evening.parts.stop_facts import StopFacts, WaitFacts
from axletree.tell.eyepiece.data import features_said
from axletree.tell.shared.words import (
    above_ground,
    capital,
    clock,
    degrees,
    knob_turns,
    stops_counted,
    to_the_second,
    weekday_words,
)
from axletree.tell.stop.circles_text import circles_words

WIDTH = 80


def evening_text(evening: Evening) -> str:
    """The whole run sheet as plain text, no line longer than 80 columns."""
    zone = ZoneInfo(evening.place.time_zone)
    parts = [*_head(evening, zone), ""]
    if evening.stages:
        parts += [_rule("SETTING UP"), *_stages(evening.stages, zone)]
    parts += [_rule(f"The sky, in {stops_counted(len(evening.stops))}".upper())]
    if not evening.stops:
        ended = evening.order.empty_because == "session over"
        parts += _wrap(
            "No time is left for a stop." if ended
            else "Nothing can be shown tonight; the reasons are below.", "",
        )  # fmt: skip
    if evening.ways_words:
        parts += [*_wrap(f"Find it. {evening.ways_words}", ""), ""]
    if evening.happenings:
        told = [f"{one.words}." for one in evening.happenings]
        parts += ["What happens meanwhile:", *_points(told), ""]
    for stop in evening.stops:
        if evening.children is not None and stop.number == evening.children.stops + 1:
            parts += [*_wrap(evening.children.words, " " * 7, _clock_head(evening, zone)), ""]
        parts += [*_stop(stop, evening, zone), ""]
    parts += _wrap(f"Order: {evening.order.words}", "")
    if look_up := satellite_lines(evening):
        parts += ["", "Look up, with the bare eye:", *_points(look_up)]
    if plan_b := plan_b_words(evening):
        parts += ["", *_wrap(f"Plan B. {plan_b}", "")]
    if evening.measure_first:
        told = [f"{one['words']}." for one in evening.measure_first]
        parts += ["", "Measure first, by daylight:", *_points(told)]
    parts += _given_up(evening)
    if evening.cautions:
        parts += ["", _rule("TAKE CARE"), *_points(evening.cautions)]
    if evening.notes:
        parts += ["", _rule("NOTES"), *_points(evening.notes)]
    parts += ["", *_assumed(evening)]
    return "\n".join(parts).rstrip()


def _clock_head(evening: Evening, zone: ZoneInfo) -> str:
    return f"{clock(evening.children.until, zone)}  " if evening.children else ""


def _rule(words: str) -> str:
    return f"{words} " + "─" * (WIDTH - len(words) - 1)


def _wrap(text: str, indent: str, first: str | None = None) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent if first is None else first, subsequent_indent=indent,
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip


def _points(lines: Iterable[str]) -> list[str]:
    return [row for line in lines for row in _wrap(line, "  ", "- ")]


def _time(moment: datetime | None, zone: ZoneInfo) -> str:
    return clock(moment, zone) if moment else "never"


def _dark(night: NightFacts, zone: ZoneInfo) -> str:
    dusk, dawn = night.astronomical_dusk, night.astronomical_dawn
    if dusk is None or dawn is None:
        return "never fully dark"
    return f"dark {clock(dusk, zone)} to {clock(dawn, zone)}"


def _rises_and_sets(moon: MoonFacts, zone: ZoneInfo) -> str:
    both = (("rises", moon.rise), ("sets", moon.set))
    told = [f"{what} {clock(at, zone)}" for what, at in both if at is not None]
    return ", ".join(told) or "neither rises nor sets"


def _pole_star(night: NightFacts, zone: ZoneInfo) -> str:
    shows = night.pole_star_visible
    return "no pole star to set by" if shows is None else f"pole star shows {clock(shows, zone)}"


def _head(evening: Evening, zone: ZoneInfo) -> list[str]:
    night, place = evening.darkness, evening.place
    title = f"{place.name}, {weekday_words(evening.date)}"
    lines = _wrap(title, "")
    lines += _wrap(f"{evening.rig.tube} on {evening.rig.mount}; times are {zone.key}", "")
    for first in filter(None, (evening.stop_sign, evening.tonight)):
        lines += _wrap(first, "")
    lines += [
        f"Sun sets {_time(night.sunset, zone)}, {_pole_star(night, zone)}, {_dark(night, zone)}",
        f"Moon {night.moon.lit_fraction * 100:.0f} % lit ({night.moon.phase}), "
        f"{_rises_and_sets(night.moon, zone)}",
    ]
    if night.note:
        lines += _wrap(night.note, "")
    return lines


def _stages(stages: Iterable[StageFacts], zone: ZoneInfo) -> list[str]:
    lines: list[str] = []
    for stage in stages:
        lines += _wrap(f"{stage.answer}", " " * 17, f"{clock(stage.begin, zone)}  {stage.name:<9} ")
        for detail in stage.details:
            lines += _wrap(detail, " " * 17)
        for caution in stage.cautions:
            lines += _wrap(f"! {caution}", " " * 19, " " * 17)
    return [*lines, ""]


def _stop(stop: StopFacts, evening: Evening, zone: ZoneInfo) -> list[str]:
    title = stop.name + (f" ({', '.join(stop.also_called[:2])})" if stop.also_called else "")
    pad = " " * 7
    lines = [] if stop.wait is None else _wait(stop.wait, zone)
    lines += _wrap(
        f"{stop.number}. {title}"
        + (f", {stop.kind}" if stop.kind != stop.name.lower() else "")
        + (f" in {stop.constellation}" if stop.constellation else ""),
        pad,
        f"{clock(stop.begin, zone)}  ",
    )
    start = stop.start
    side = stop.chosen
    room = (
        f"room to {clock(side.room_ends, zone)}{side.bar} ({side.ends_by})"
        if side.room_ends
        else "room all night"
    )
    weights = ", weights up" if side.weights_up else ""
    lines += _wrap(f"Tube {side.side}{weights}; {room}. {stop.why_side}", pad)
    if side.touch:
        lines += _wrap(side.touch, pad)
    lines += _wrap(
        f"Circles: {circles_words(evening.rig, start)}; it stands "
        f"{degrees(start.altitude_deg, 0)} high, azimuth {degrees(start.azimuth_deg, 0)}."
        + ("" if stop.set_on is None else f" {stop.set_on.words}"),
        pad,
    )
    if stop.finding is not None:
        lines += _wrap(f"Find it: {stop.finding.words}; {stop.finding.eyepieces}.", pad)
    view = stop.view
    height = above_ground(view.height_mm, evening.units, view.height_error_mm)
    lines += _wrap(
        f"{view.eyepiece}, {view.magnification:.0f} times, field {view.true_field_deg:.2f}°. "
        f"Eyepiece {height} up, face {view.face_words}: "
        f"{view.reach}. {view.orientation}",
        pad,
    )
    nudge = stop.nudge
    if nudge.knob_turns > 0 and nudge.every_s is not None:
        lines += _wrap(
            f"Nudge every {to_the_second(nudge.every_s)}: {knob_turns(nudge.knob_turns)} of the "
            f"hour knob, {nudge.direction}.",
            pad,
        )
    else:
        lines += _wrap(nudge.direction, pad)
    lines += _wrap(f"{capital(stop.visibility)}. {stop.why}", pad)
    for words in stop.tonight:
        lines += _wrap(words, pad)
    if stop.eyepiece is not None:
        lines += _wrap(f"See: {stop.eyepiece['short']}.", pad)
        for told in features_said(stop.eyepiece):
            lines += _wrap(told, pad)
    if stop.sayings:
        lines += _wrap(f"Say: {' '.join(stop.sayings)}", pad)
    for warning in (*stop.turn_warnings, *stop.cautions):
        lines += _wrap(f"! {warning}", pad + "  ", pad)
    return lines


def _wait(wait: WaitFacts, zone: ZoneInfo) -> list[str]:
    return [*_wrap(wait.words, " " * 7, f"{clock(wait.begin, zone)}  "), ""]


def _given_up(evening: Evening) -> list[str]:
    if not evening.given_up:
        return []
    lines = ["Left out:"]
    groups = reason_groups(evening.given_up)
    for names, reason in groups[:12]:
        lines += _wrap(f"{names}: {reason}", "    ", "  ")
    rest = len(groups) - 12
    if rest > 0:
        lines.append(f"  and {rest} more reasons (all are in the JSON)")
    return lines


def _assumed(evening: Evening) -> list[str]:
    lines = _wrap("Assumed: " + "; ".join(evening.assumptions), "  ", "")
    guessed = evening.rig.guessed
    if guessed:
        lines += _wrap(
            f"Guessed: {len(guessed)} dimensions ('axletree kit check' lists them); measure those "
            "that matter.",
            "  ",
            "",
        )
    return [*lines, "Not for navigation."]


@dataclass(frozen=True)
class EveningDrawingWords:
    """What stands on the drawing beside the stops."""

    title: str
    description: str
    day: str
    where: str
    nothing: str
    setting_up: str
    darkness: str
    legend: str


def drawing_words(evening: Evening) -> EveningDrawingWords:
    """The words of the drawing; `nothing` says why there are no stops."""
    zone = ZoneInfo(evening.place.time_zone)
    day = weekday_words(evening.date)
    stages = ", ".join(f"{s.name} {clock(s.begin, zone)}" for s in evening.stages)
    note = evening.notes[0] if evening.notes else evening.order.words
    return EveningDrawingWords(
        title=f"The evening of {day}",
        description="A line of time for each stop.",
        day=day,
        where=f"{evening.place.name}; {evening.rig.tube}",
        nothing=note or "no stops",
        setting_up=f"Setting up: {stages}." if stages else "",
        darkness="darkness",
        legend="brass: at the eyepiece; line: room left on that side",
    )


def row_words(stop: StopFacts) -> tuple[str, str]:
    """A stop's name and its tube side, as they stand before its line."""
    name = f"{stop.number}. {stop.name}"
    if stop.also_called and len(stop.name) < 7:
        name += f", {stop.also_called[0]}"
    side = stop.chosen.side
    return name, f"{side}, weights up" if stop.chosen.weights_up else side
