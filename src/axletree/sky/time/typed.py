"""Which moment, and which evening, does a person mean by what they typed?"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta, tzinfo

from axletree.kit.errors import AxletreeError

# 'Tonight' is the night that began yesterday until this hour of the morning.
NEW_EVENING_FROM = time(4)


def typed_moment(text: str | None, zone: tzinfo, now: datetime) -> datetime:
    """An aware datetime from ISO 8601 text, in `zone` where it names none; None gives `now`.

    Refuses what is no date and time, and years from which a night would lead out of the calendar.
    """
    if text is None:
        return now
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        raise AxletreeError(
            f"--at '{text}' is not a date and time; write 2026-12-05T20:30 or ...T20:30Z"
        ) from None
    if not 2 <= moment.year <= 9998:
        raise AxletreeError(f"--at '{text}': no year that can be reckoned")
    return moment if moment.tzinfo else moment.replace(tzinfo=zone)


def typed_evening(text: str | None, zone: tzinfo, now: datetime) -> date:
    """The date of an evening from ISO 8601 text; None gives that of `now` in `zone`.

    Before 04:00 the evening is still yesterday's.
    """
    if text is None:
        local = now.astimezone(zone)
        early = local.time() < NEW_EVENING_FROM
        return (local - timedelta(days=1)).date() if early else local.date()
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise AxletreeError(f"--date '{text}' is not a date; write it like 2026-12-05") from None
