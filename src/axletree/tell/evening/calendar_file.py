"""How does the evening get into an ordinary calendar, with alarms for what must not be missed?

iCalendar (RFC 5545): the session, each stage of setting up, the darkness and each stop as an
event, moments in UTC, which every reader turns into its own time. Alarms: when the pole star
shows and when it is dark, before the tube changes its side, and before the room of an object
ends that is still to come or on show. The same evening at the same place keeps its identities,
so that a file read again replaces what stands there.
"""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event

from axletree import __version__
from axletree.kit.errors import AxletreeError
from axletree.tell.evening.document import Evening, StageFacts, StopFacts
from axletree.tell.shared.words import above_ground, clock, degrees, duration, hours_minutes

# How long before it happens each alarm sounds (ours).
DARK_BEFORE = timedelta(minutes=10)
SIDE_BEFORE = timedelta(minutes=3)
ROOM_BEFORE = timedelta(minutes=10)
# A room that ends this long after its stop is no longer the host's concern (ours).
ROOM_AFTER_STOP = timedelta(minutes=30)


def evening_ics(evening: Evening) -> bytes:
    """The evening as an iCalendar file. Refuses a night in which nothing happens at all."""
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", f"-//Axletree//Axletree {__version__}//EN")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", f"Telescope, {evening.date.isoformat()}")  # RFC 7986
    zone = ZoneInfo(evening.place.time_zone)
    events = [*_session(evening), *_darkness(evening), *_stages(evening)]
    before: StopFacts | None = None
    for stop in evening.stops:
        events.append(_stop(evening, stop, before, zone))
        before = stop
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
    moon = evening.darkness.moon
    words = (
        f"{evening.rig.tube} on {evening.rig.mount}.",
        f"Moon {moon.lit_fraction * 100:.0f} % lit ({moon.phase}).",
        f"{len(evening.stops)} stops." if evening.stops else evening.order.words,
        *evening.cautions,
        "Not for navigation.",
    )
    event = _event(evening, "session", begin, end, f"Telescope: {evening.place.name}", words)
    event["transp"] = "OPAQUE"
    return [event]


def _darkness(evening: Evening) -> list[Event]:
    """The deepest darkness that this night reaches, with its alarm; none on a light night."""
    dark = evening.darkness
    for words, begin, end in (
        ("Dark", dark.astronomical_dusk, dark.astronomical_dawn),
        ("Dark enough for bright stars", dark.nautical_dusk, dark.nautical_dawn),
    ):
        if begin is not None and end is not None and begin < end:
            event = _event(evening, "dark", begin, end, words, (dark.note,))
            _alarm(event, f"{words} in {duration(DARK_BEFORE.total_seconds())}", -DARK_BEFORE)
            return [event]
    return []


def _stages(evening: Evening) -> list[Event]:
    events = []
    for stage in evening.stages:
        event = _stage(evening, stage)
        shows = evening.darkness.pole_star_visible
        if stage.name == "pole" and shows is not None:
            _alarm(event, f"{evening.pole.star} shows: put the axis on the pole",
                   max(shows, stage.begin))  # fmt: skip
        events.append(event)
    return events


def _stage(evening: Evening, stage: StageFacts) -> Event:
    words = (stage.answer, *stage.details, *(f"Take care: {c}" for c in stage.cautions))
    return _event(
        evening, f"stage {stage.name}", stage.begin, stage.end, f"Set up: {stage.name}", words
    )


def _stop(evening: Evening, stop: StopFacts, before: StopFacts | None, zone: ZoneInfo) -> Event:
    side, view = stop.chosen, stop.view
    ends = None if side.room_ends is None else clock(side.room_ends, zone)
    hour = hours_minutes(stop.start.hour_circle_h, signed=True)
    declination = degrees(stop.start.declination_circle_deg, 1, signed=True)
    words = (
        f"Tube {side.side}; " + (f"room to {ends}: {side.ends_by}." if ends else "room all night."),
        f"Circles: hour angle {hour}, declination {declination}.",
        f"{view.eyepiece}, {above_ground(view.height_mm, evening.units)} up, "
        f"face {view.face_words}.",
        *(f"Take care: {c}" for c in (*stop.turn_warnings, *stop.cautions)),
    )
    event = _event(
        evening, f"stop {stop.catalogue_id}", stop.begin, stop.end,
        f"{stop.number}. {stop.name}", words,
    )  # fmt: skip
    if before is not None and before.chosen.side != side.side:
        _alarm(event, f"The tube goes over to side {side.side} for {stop.name}: weights low, "
               "hold the tube, mind cables and legs", -SIDE_BEFORE)  # fmt: skip
    if side.room_ends is not None and side.room_ends <= stop.end + ROOM_AFTER_STOP:
        _alarm(event, f"Room at {stop.name} ends at {ends}: {side.ends_by}",
               side.room_ends - ROOM_BEFORE)  # fmt: skip
    return event
