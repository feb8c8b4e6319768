"""In which sentences is it told how sure a room is, when something may touch, and what measured
would tell?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.mount.room.choice import Choice
from axletree.mount.sure.room_doubt import RoomDoubt, Telling
from axletree.sky.time.nights import later
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.shared.words import bar, capital, clock, duration

# An end that is this sure needs no bar on a sheet of whole minutes.
_SURE_S = 30.0
_AT_ONCE_S = 60.0
# An end errs to one side where the other reaches no further than this part of it (our figure).
_ONE_SIDED = 0.2
# Rarer than this the other side isn't spoken of (our figure).
_OTHER_SIDE_MATTERS = 0.05


def bar_words(doubt: RoomDoubt | None) -> str:
    """' ± 26 min' behind the end of a room, '' where it is sure to the minute; ' or 2 h 14 min
    less' (or more) where it errs to one side alone, as where the sky ends it unless a part does
    before.
    """
    if doubt is None or doubt.half_width_s < _SURE_S:
        return ""
    less_s, more_s = doubt.told_s - doubt.early_s, doubt.late_s - doubt.told_s
    if more_s < _ONE_SIDED * less_s:
        return f" or {_at_least_a_minute(less_s)} less"
    if less_s < _ONE_SIDED * more_s:
        return f" or {_at_least_a_minute(more_s)} more"
    return f" ± {_at_least_a_minute(doubt.half_width_s)}"


def _at_least_a_minute(seconds: float) -> str:
    """Ends are told to the minute: an error has no seconds, and is never nothing."""
    return duration(seconds) if seconds >= 3600.0 else f"{bar(seconds / 60.0)} min"


def touch_words(doubt: RoomDoubt | None, moment: datetime, zone: ZoneInfo) -> str:
    """'from 00:58' or 'any time': from when on something may touch; '' where nothing may."""
    if doubt is None or doubt.touch_s is None:
        return ""
    if doubt.touch_s < _AT_ONCE_S:
        return "any time"
    return f"from {clock(later(moment, doubt.touch_s), zone)}"


def touch_sentence(doubt: RoomDoubt | None, moment: datetime, zone: ZoneInfo) -> str:
    """'From 00:58 the tube may touch the tray (1 in 20): watch them.'; '' where nothing may."""
    since = touch_words(doubt, moment, zone)
    if doubt is None or not since:
        return ""
    moving, other = doubt.parts
    return f"{capital(since)} the {moving} may touch the {other} (1 in 20): watch them."


def other_side_words(choice: Choice, chance: float) -> str:
    """'Of rigs that may be yours 1 in 8 does better on side west.'; '' where hardly any does."""
    if chance < _OTHER_SIDE_MATTERS:
        return ""
    other = "west" if choice.better == "east" else "east"
    return f"Of the rigs that may be yours 1 in {1.0 / chance:.0f} does better on side {other}."


def telling_words(tellings: Sequence[Telling]) -> str:
    """Which dimension measured would tell most; '' where none would."""
    if not tellings:
        return ""
    best = tellings[0]
    return (
        f"{dimension_words(best.name)}: measured, the end is known to "
        f"±{_at_least_a_minute(best.then_s)} instead of ±{_at_least_a_minute(best.now_s)}."
    )
