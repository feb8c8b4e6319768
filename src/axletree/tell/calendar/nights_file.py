"""How do the best nights and the special ones get into the calendar on somebody's phone?

iCalendar (RFC 5545), with moments in UTC, which every reader turns into its own time. The nights
are proposals: they leave the time free. The same night from the same place keeps its identity,
so that a file read again replaces what stands there.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Event

from axletree import __version__
from axletree.evening.year.nights_scored import ScoredNight
from axletree.kit.kit import Kit
from axletree.sky.special.kinds import SpecialNight
from axletree.sky.time.nights import later
from axletree.tell.calendar.drawing_text import file_description, file_name, file_summary
from axletree.tell.shared.words import capital
from axletree.tell.special.text import special_caution, special_title, special_words

# What is over in a moment keeps half an hour in a calendar.
_LEAST = timedelta(minutes=30)


def nights_ics(
    picks: Sequence[ScoredNight],
    kit: Kit,
    made_at: datetime,
    special: Sequence[SpecialNight] = (),
    *,
    sun_filters: bool = False,
) -> bytes:
    """The nights that have a session, and what is special, as an iCalendar file.

    `made_at` is aware; `sun_filters`: the kit names those that an eclipse of the Sun asks for.
    """
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", f"-//Axletree//Axletree {__version__}//EN")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", file_name(kit))  # RFC 7986
    for night in picks:
        if night.begin is not None and night.end is not None:
            calendar.add_component(_event(night, night.begin, night.end, kit, made_at))
    for one in special:
        calendar.add_component(_special(one, kit, made_at, sun_filters))
    return bytes(calendar.to_ical())


def _special(night: SpecialNight, kit: Kit, made_at: datetime, sun_filters: bool) -> Event:
    """From the first moment that is seen to the last, at least `_LEAST` long."""
    zone = kit.site.zone
    seen = [m.time for m in night.moments if m.seen] or [night.greatest.time]
    begin, end = min(seen), max(*seen, later(min(seen), _LEAST))
    what = f"{night.kind.value} {' '.join(night.bodies)}"
    event = _entry(f"{night.day.isoformat()} {what}", kit, made_at, (begin, end))
    event.add("summary", capital(special_title(night, zone)))
    told = [special_words(night, zone), special_caution(night, sun_filters)]
    event.add("description", " ".join(part for part in told if part))
    return event


def _event(
    night: ScoredNight, begin: datetime, end: datetime, kit: Kit, made_at: datetime
) -> Event:
    event = _entry(night.date.isoformat(), kit, made_at, (begin, end))
    event.add("summary", file_summary(night))
    event.add("description", file_description(night, kit))
    return event


def _entry(what: str, kit: Kit, made_at: datetime, span: tuple[datetime, datetime]) -> Event:
    """An entry without words, known again by its place and `what`."""
    site = kit.site
    spot = f"{site.latitude_deg:.4f} {site.longitude_deg:.4f} {what}"
    event = Event()
    event.add("uid", f"{hashlib.sha256(spot.encode()).hexdigest()[:24]}@axletree.invalid")
    event.add("dtstamp", made_at.astimezone(UTC).replace(microsecond=0))
    event.add("dtstart", span[0].astimezone(UTC).replace(microsecond=0))
    event.add("dtend", span[1].astimezone(UTC).replace(microsecond=0))
    event.add("location", site.name)
    longitude = (site.longitude_deg + 180.0) % 360.0 - 180.0
    event.add("geo", (round(site.latitude_deg, 4), round(longitude, 4)))
    event.add("transp", "TRANSPARENT")
    event.add("status", "TENTATIVE")
    return event
