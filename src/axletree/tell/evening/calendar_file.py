"""How does the evening get into an ordinary calendar, with alarms for what must not be missed?

iCalendar (RFC 5545): an event for what a host has to be in time for, and not for each stop: the
whole session, arriving, the darkness, the axis set on the pole, the stops together, taking down,
and what makes the night a great one; moments in UTC, which every reader turns into its own time.
Alarms: when the pole star shows and when it is dark, before the tube changes its side, before the
room of an object ends that is still to come or on show, and before each moment of an eclipse or of
a star that the Moon hides. The same evening at the same place keeps its identities,
so that a file read again replaces what stands there.
"""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event

from axletree import __version__
from axletree.evening.objects.tonight import PALE, TIMED
from axletree.kit.errors import AxletreeError
from axletree.sky.special.kinds import MomentKind, SpecialKind
from axletree.sky.time.nights import later
from axletree.tell.evening.calendar_file_text import (
    DarkDepth,
    calendar_name,
    dark_alarm_words,
    dark_title,
    pole_alarm_words,
    room_alarm_words,
    session_title,
    session_words,
    side_alarm_words,
    stage_title,
    stage_words,
    stages_words,
    stop_words,
    stops_title,
    take_down_title,
)
from axletree.tell.evening.document import Evening
from axletree.tell.set_up.text import taken_down_so
from axletree.tell.shared.words import capital
from axletree.tell.special.data import SpecialNightData
from axletree.tell.special.text import moment_words, special_name

# How long before it happens each alarm sounds (ours).
DARK_BEFORE = timedelta(minutes=10)
SIDE_BEFORE = timedelta(minutes=3)
ROOM_BEFORE = timedelta(minutes=10)
MOMENT_BEFORE = timedelta(minutes=10)
# Stages that a host has to be in time for (ours).
ARRIVE, POLE = "arrive", "pole"
CALLED_TO = (ARRIVE, POLE)
# What is over in a moment keeps so long in a calendar (ours).
LEAST_SPAN = timedelta(minutes=30)
# A room that ends this long after its stop is no longer the host's concern (ours).
ROOM_AFTER_STOP = timedelta(minutes=30)


def evening_ics(evening: Evening) -> bytes:
    """The evening as an iCalendar file. Refuses a night in which nothing happens at all."""
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", f"-//Axletree//Axletree {__version__}//EN")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", calendar_name(evening))  # RFC 7986
    zone = ZoneInfo(evening.place.time_zone)
    events = [*_session(evening), *_darkness(evening), *_stages(evening)]
    events += [event for night in evening.special for event in _special(evening, night, zone)]
    events += _shown(evening, zone)
    if not events:
        raise AxletreeError(
            f"{evening.date}: no darkness and no stops this night, so there is nothing to write "
            "into a calendar"
        )
    for event in events:
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _event(
    evening: Evening, key: str, begin: datetime, end: datetime, summary: str, words: Iterable[str]
) -> Event:
    place = evening.place
    spot = f"{evening.date} {place.latitude_deg:.4f} {place.longitude_deg:.4f} {key}"
    event = Event()
    event.add("uid", f"{hashlib.sha256(spot.encode()).hexdigest()[:24]}@axletree.invalid")
    event.add("dtstamp", _utc(evening.made_at))
    event.add("dtstart", _utc(begin))
    if _utc(end) > _utc(begin):  # RFC 5545, 3.8.2.2: later than the start, or not at all
        event.add("dtend", _utc(end))
    event.add("summary", _plain(summary))
    if text := "\n".join(_plain(w) for w in words if w):
        event.add("description", text)
    event.add("location", _plain(place.name))
    longitude = (place.longitude_deg + 180.0) % 360.0 - 180.0
    event.add("geo", (round(place.latitude_deg, 5), round(longitude, 5)))
    event.add("transp", "TRANSPARENT")
    return event


def _utc(moment: datetime) -> datetime:
    """To the nearest second, in UTC."""
    return (moment.astimezone(UTC) + timedelta(microseconds=500_000)).replace(microsecond=0)


def _plain(words: str) -> str:
    """Without control characters, which RFC 5545, 3.1, keeps out of text."""
    return "".join(" " if unicodedata.category(c) == "Cc" else c for c in words)


def _alarm(event: Event, words: str, trigger: datetime | timedelta) -> None:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _plain(words))
    if isinstance(trigger, datetime):
        alarm.add("trigger", _utc(trigger), parameters={"VALUE": "DATE-TIME"})
    else:
        alarm.add("trigger", trigger)
    event.add_component(alarm)


def _session(evening: Evening) -> list[Event]:
    """From arriving to the end of the last stop; the only event that takes up the time."""
    spans = [(s.begin, s.end) for s in evening.stages]
    spans += [(s.begin, s.end) for s in evening.stops]
    if not spans:
        return []
    begin, end = min(a for a, _ in spans), max(b for _, b in spans)
    words = session_words(evening)
    event = _event(evening, "session", begin, end, session_title(evening), words)
    event["transp"] = "OPAQUE"
    return [event]


def _darkness(evening: Evening) -> list[Event]:
    """The deepest darkness that this night reaches, with its alarm; none on a light night."""
    dark = evening.darkness
    for depth, begin, end in (
        (DarkDepth.DARK, dark.astronomical_dusk, dark.astronomical_dawn),
        (DarkDepth.FOR_BRIGHT_STARS, dark.nautical_dusk, dark.nautical_dawn),
    ):
        if begin is not None and end is not None and begin < end:
            event = _event(evening, "dark", begin, end, dark_title(depth), (dark.note,))
            _alarm(event, dark_alarm_words(depth, DARK_BEFORE), -DARK_BEFORE)
            return [event]
    return []


def _special(evening: Evening, night: SpecialNightData, zone: ZoneInfo) -> list[Event]:
    """A great one of which anything is seen, from its first moment seen to its last."""
    seen = [moment for moment in night["moments"] if moment["seen"]]
    if not night["great"] or not seen:
        return []
    times = [datetime.fromisoformat(moment["at"]) for moment in seen]
    begin, end = min(times), max(*times, later(min(times), LEAST_SPAN))
    key = f"special {night['kind']} {' '.join(night['bodies'])}"
    words = (night["words"], night["caution"])
    event = _event(evening, key, begin, end, capital(night["title"]), words)
    if SpecialKind(night["kind"]) in TIMED:
        for moment, at in zip(seen, times, strict=True):
            what = MomentKind(moment["what"])
            if what not in PALE:
                name = special_name(SpecialKind(night["kind"]), night["bodies"])
                words_then = f"{capital(name)}: {moment_words(what, at, zone)}"
                _alarm(event, words_then, later(at, -MOMENT_BEFORE))
    return [event]


def _stages(evening: Evening) -> list[Event]:
    """Arriving, and the axis set on the pole with an alarm; the other stages stand in the first."""
    events = []
    for stage in evening.stages:
        if stage.name not in CALLED_TO:
            continue
        words = stage_words(stage)
        if stage.name == ARRIVE:
            words = (*words, *stages_words(evening))
        event = _event(
            evening, f"stage {stage.name}", stage.begin, stage.end, stage_title(stage), words
        )
        shows = evening.darkness.pole_star_visible
        if stage.name == POLE and shows is not None:
            _alarm(event, pole_alarm_words(evening), max(shows, stage.begin))
        events.append(event)
    return events


def _shown(evening: Evening, zone: ZoneInfo) -> list[Event]:
    """All stops as one event, with the alarms that they need, and taking down after them."""
    if not evening.stops:
        return []
    first, last = evening.stops[0], evening.stops[-1]
    words = [line for stop in evening.stops for line in stop_words(stop, evening, zone)]
    event = _event(evening, "stops", first.begin, last.end, stops_title(evening), words)
    for before, stop in pairwise(evening.stops):
        if before.chosen.side != stop.chosen.side:
            _alarm(event, side_alarm_words(stop), later(stop.begin, -SIDE_BEFORE))
    for stop in evening.stops:
        ends = stop.chosen.room_ends
        if ends is not None and ends <= stop.end + ROOM_AFTER_STOP:
            _alarm(event, room_alarm_words(stop, zone), later(ends, -ROOM_BEFORE))
    packed = later(last.end, timedelta(minutes=evening.take_down_min))
    down = _event(
        evening, "take down", last.end, packed, take_down_title(), (capital(taken_down_so()),)
    )  # fmt: skip
    return [event, down]
