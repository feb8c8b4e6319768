"""How do the best nights get into the calendar on somebody's phone?

iCalendar (RFC 5545), with moments in UTC, which every reader turns into its own time. The nights
are proposals: they leave the time free. The same night from the same place keeps its identity,
so that a file read again replaces what stands there.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import UTC, datetime

from icalendar import Calendar, Event

from axletree import __version__
from axletree.evening.year.nights_scored import ScoredNight
from axletree.kit.kit import Kit
from axletree.tell.calendar.text import file_description, file_name, file_summary


def nights_ics(picks: Sequence[ScoredNight], kit: Kit, made_at: datetime) -> bytes:
    """The nights that have a session as an iCalendar file; `made_at` is aware."""
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", f"-//Axletree//Axletree {__version__}//EN")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", file_name(kit))  # RFC 7986
    for night in picks:
        if night.begin is not None and night.end is not None:
            calendar.add_component(_event(night, night.begin, night.end, kit, made_at))
    return bytes(calendar.to_ical())


def _event(
    night: ScoredNight, begin: datetime, end: datetime, kit: Kit, made_at: datetime
) -> Event:
    site = kit.site
    spot = f"{site.latitude_deg:.4f} {site.longitude_deg:.4f} {night.date.isoformat()}"
    event = Event()
    event.add("uid", f"{hashlib.sha256(spot.encode()).hexdigest()[:24]}@axletree.invalid")
    event.add("dtstamp", made_at.astimezone(UTC).replace(microsecond=0))
    event.add("dtstart", begin.astimezone(UTC).replace(microsecond=0))
    event.add("dtend", end.astimezone(UTC).replace(microsecond=0))
    event.add("summary", file_summary(night))
    event.add("description", file_description(night, kit))
    event.add("location", site.name)
    longitude = (site.longitude_deg + 180.0) % 360.0 - 180.0
    event.add("geo", (round(site.latitude_deg, 4), round(longitude, 4)))
    event.add("transp", "TRANSPARENT")
    event.add("status", "TENTATIVE")
    return event
