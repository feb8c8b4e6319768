"""Which moment or date do a person's words mean, at a site whose clock shows so much now?

The caller reads the clock: nothing here does.
"""

from __future__ import annotations

import datetime as dt

from axletree.kit.errors import AxletreeError

# Until this time of the site's clock, 'tonight' is the night that began yesterday (ours).
NIGHT_LASTS_UNTIL = dt.time(4)
DAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def moment_from(text: str, zone: dt.tzinfo) -> dt.datetime:
    """The aware moment that ISO 8601 text says; without a zone of its own, in this one.

    Refuses other text, and years whose nights would lead out of the calendar.
    """
    try:
        moment = dt.datetime.fromisoformat(text.strip())
    except ValueError:
        raise AxletreeError(
            f"'{text}' is not a date and time; write 2026-12-05T20:30 or ...T20:30Z"
        ) from None
    if not 2 <= moment.year <= 9998:
        raise AxletreeError(f"'{text}': no year that can be reckoned")
    return moment if moment.tzinfo else moment.replace(tzinfo=zone)


def date_from(text: str) -> dt.date:
    """The date that ISO 8601 text says; refuses other text."""
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError:
        raise AxletreeError(f"'{text}' is not a date; write it like 2026-12-05") from None


def tonight(now: dt.datetime) -> dt.date:
    """The evening that is meant by 'tonight' at this moment of the site's own clock."""
    return (now - dt.timedelta(days=1)).date() if now.time() < NIGHT_LASTS_UNTIL else now.date()


def weekdays_from(text: str) -> frozenset[int]:
    """Numbers of the named days of the week, Monday 0: 'fri,sat'; refuses other words."""
    found = set()
    for word in text.replace(",", " ").lower().split():
        if len(word) < 2 or (number := _day_number(word)) is None:
            raise AxletreeError(f"no day of the week '{word}'; write fri,sat")
        found.add(number)
    if not found:
        raise AxletreeError("name days of the week, such as fri,sat")
    return frozenset(found)


def _day_number(word: str) -> int | None:
    fits = [k for k, day in enumerate(DAY_NAMES) if day.lower().startswith(word.rstrip("s"))]
    return fits[0] if len(fits) == 1 else None
