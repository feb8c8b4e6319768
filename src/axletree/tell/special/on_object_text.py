"""In which words is told what happens on one object tonight?"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.evening.objects.tonight import OnObject
from axletree.sky.happenings.ask import turns_between
from axletree.sky.happenings.kinds import HappeningKind
from axletree.sky.special.kinds import SpecialNight
from axletree.sky.time.nights import Night
from axletree.tell.eyepiece.happenings_text import happening_words
from axletree.tell.shared.words import one_and_another
from axletree.tell.special.text import special_details, special_title, tonight_title

# More than so many no line of a list holds.
_MOST = 3


def stop_special_words(night: SpecialNight, at: datetime, zone: ZoneInfo) -> str:
    """What is special about a stop's object in the night of `at`, with its moments: a sentence or
    two."""
    day = Night.containing(at, zone).date
    return f"Tonight: {tonight_title(night, day, zone)}. {special_details(night, zone)}"


def on_object_words(on_it: OnObject, start: datetime, stop: datetime, zone: ZoneInfo) -> str:
    """What happens on it from start to stop (aware), in half a line; '' where nothing does."""
    parts = [special_title(night, zone) for night in on_it.special]
    moons = [h for h in on_it.told if h.kind is not HappeningKind.FEATURE_IN_LIGHT]
    coming = {id(h): h for h, _ in turns_between(moons, start, stop)}
    parts += [happening_words(h, start, zone) for h in coming.values()]
    features = [h.actor for h in on_it.told if h.kind is HappeningKind.FEATURE_IN_LIGHT]
    if features:
        parts.append(f"low light on {one_and_another(features[:_MOST])}")
    return "; ".join(parts[:_MOST])
