"""In which words is told what moons do with their planet, and when?

The moment told is that of the moon's middle (what almanacs print) where it can be seen, else the
first or last one that can.
"""

from __future__ import annotations

import math
from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.sky.happenings.kinds import Happening, HappeningKind, Turn, TurnKind
from axletree.sky.lunar.light import HIGHEST_SUN_DEG, LOWEST_SUN_DEG
from axletree.tell.shared.words import clock

MOON_NAMES = {
    "io": "Io",
    "europa": "Europa",
    "ganymede": "Ganymede",
    "callisto": "Callisto",
    "titan": "Titan",
}
PLANET_NAMES = {"jupiter": "Jupiter", "saturn": "Saturn"}
_BEGINS = {
    HappeningKind.MOON_BEFORE_DISC: "its middle comes on",
    HappeningKind.SHADOW_ON_DISC: "its middle comes on",
    HappeningKind.MOON_BEHIND_DISC: "its middle goes behind",
    HappeningKind.MOON_IN_SHADOW: "half faded",
}
_ENDS = {
    HappeningKind.MOON_BEFORE_DISC: "leaves",
    HappeningKind.SHADOW_ON_DISC: "leaves",
    HappeningKind.MOON_BEHIND_DISC: "comes out",
    HappeningKind.MOON_IN_SHADOW: "half bright again",
}
_HEIGHTS = {
    TurnKind.SUN_AT_LOWEST: f"{LOWEST_SUN_DEG:.0f}° high",
    TurnKind.SUN_AT_HIGHEST: f"{HIGHEST_SUN_DEG:.0f}° high",
}
# A moment of the moon's middle is told as such; of an edge, which one.
_EDGE = {
    TurnKind.FIRST_EDGE_IN: " (first edge)",
    TurnKind.LAST_EDGE_IN: " (last edge)",
    TurnKind.FIRST_EDGE_OUT: " (first edge)",
    TurnKind.LAST_EDGE_OUT: " (last edge)",
}
_COMING = (TurnKind.MIDDLE_IN, TurnKind.FIRST_EDGE_IN, TurnKind.LAST_EDGE_IN)
_GOING = (TurnKind.MIDDLE_OUT, TurnKind.LAST_EDGE_OUT, TurnKind.FIRST_EDGE_OUT)


def happening_words(told: Happening, at: datetime, zone: ZoneInfo) -> str:
    """'Io's shadow on the disc: its middle came on at 20:01, leaves at 22:14 ± 1 min', no stop."""
    if told.kind is HappeningKind.FEATURE_IN_LIGHT:
        heights = [f"{_HEIGHTS[t.kind]} at {_when(t, zone)}" for t in told.turns]
        return f"{told.actor} on the Moon: the Sun stands there {', '.join(heights)}"
    what = _what(told)
    parts = []
    begin, end = begin_of(told), end_of(told)
    if begin is not None:
        word = f"since {_when(begin, zone)}"
        if begin.time > at:
            word = f"{_BEGINS[told.kind]}{_EDGE.get(begin.kind, '')} at {_when(begin, zone)}"
        parts.append(word)
    if end is not None:
        parts.append(f"{_ENDS[told.kind]}{_EDGE.get(end.kind, '')} at {_when(end, zone)}")
    grazes = "; it grazes the edge, so the times are rough" if told.grazing else ""
    return f"{what}: {', '.join(parts)}{grazes}" if parts else what


def _what(told: Happening) -> str:
    moon = MOON_NAMES.get(told.actor, told.actor)
    planet = PLANET_NAMES.get(told.body, told.body)
    return {
        HappeningKind.MOON_BEFORE_DISC: f"{moon} before the disc",
        HappeningKind.SHADOW_ON_DISC: f"{moon}'s shadow on the disc",
        HappeningKind.MOON_BEHIND_DISC: f"{moon} behind the disc",
        HappeningKind.MOON_IN_SHADOW: f"{moon} in {planet}'s shadow",
    }[told.kind]


def begin_of(told: Happening) -> Turn | None:
    """The moment that is told for its begin: the middle's, else an edge's; None where unseen."""
    return _first_seen(told, _COMING)


def end_of(told: Happening) -> Turn | None:
    """The moment that is told for its end."""
    return _first_seen(told, _GOING)


def _first_seen(told: Happening, kinds: tuple[TurnKind, ...]) -> Turn | None:
    found = (told.turn(kind) for kind in kinds)
    return next((turn for turn in found if turn is not None and turn.seen), None)


def _when(turn: Turn, zone: ZoneInfo) -> str:
    return f"{clock(turn.time, zone)} ± {max(1, math.ceil(turn.doubt_s / 60.0 - 0.5))} min"
