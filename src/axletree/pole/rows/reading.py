"""Which star is a row about, and when was it looked at?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.reading.table import Row
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.directions import azimuth_altitude
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import moves, stars_of
from axletree.sky.positions.stars import star_positions_each
from axletree.sky.time.instants import Instants

# A star's declination changes by a third of an arcminute a year at most.
_ANY_TIME = datetime(2026, 1, 1, tzinfo=UTC)

Moment = Callable[[str], datetime]  # text to an aware datetime; ValueError where it is none


def moments_of_evening(now: datetime, zone: ZoneInfo) -> Moment:
    """Reads a time of day of the evening of `now` (noon to noon), or ISO 8601; the site's zone."""
    evening = (now.astimezone(zone) - timedelta(hours=12)).date()

    def moment(words: str) -> datetime:
        try:
            clock = time.fromisoformat(words)
        except ValueError:
            found = datetime.fromisoformat(words)
            return found if found.tzinfo else found.replace(tzinfo=zone)
        day = evening if clock.replace(tzinfo=None) >= time(12) else evening + timedelta(days=1)
        return datetime.combine(day, clock.replace(tzinfo=None), tzinfo=clock.tzinfo or zone)

    return moment


def moment_of(row: Row, column: str, moment: Moment) -> datetime | None:
    """A cell as an aware datetime, None if it is empty."""
    text = row.text(column)
    if not text:
        return None
    try:
        return moment(text)
    except ValueError:
        raise row.wrong(
            column, f"'{text}' is not a time; write 21:05, 21:05:30 or 2026-12-05T21:05"
        ) from None


@dataclass(frozen=True)
class Placed:
    """Which star a row is about: its name, hour angle (h) and declination (degrees) of date."""

    name: str
    hour_angle_h: float
    declination_deg: float
    at: datetime | None


@dataclass(frozen=True)
class _Asked:
    """What a row says of its star: the object whose place is wanted, or None where all is said."""

    name: str
    hour_angle_h: float | None
    declination_deg: float | None
    thing: SkyObject | None


def place_of(row: Row, at: datetime | None, observer: Observer) -> Placed:
    """The star of a row, from its name and time, or from hour angle and declination."""
    return places_of([row], [at], observer)[0]


def places_of(
    rows: Sequence[Row], times: Sequence[datetime | None], observer: Observer
) -> list[Placed]:
    """The same of many rows, each at its time; refuses the first that names no star that is up."""
    known: dict[str, SkyObject] = {}
    asked = [_asked(row, at, known) for row, at in zip(rows, times, strict=True)]
    H = np.array([np.nan if a.hour_angle_h is None else a.hour_angle_h for a in asked])
    dec = np.array([np.nan if a.declination_deg is None else a.declination_deg for a in asked])
    named = [k for k, a in enumerate(asked) if a.thing is not None]
    if named:
        things = [thing for a in asked if (thing := a.thing) is not None]
        moments = [times[k] or _ANY_TIME for k in named]
        seen = star_positions_each(stars_of(things), Instants.from_datetimes(moments), observer)
        H[named] = np.where(np.isnan(H[named]), seen.hour_angle_h, H[named])
        dec[named] = np.where(np.isnan(dec[named]), seen.declination_deg, dec[named])
    _, altitude = azimuth_altitude(H, dec, observer.latitude_deg)
    placed = [
        Placed(one.name, float(h), float(d), at)
        for one, h, d, at in zip(asked, H, dec, times, strict=True)
    ]
    for k in np.flatnonzero(altitude < 0.0)[:1]:
        raise rows[k].wrong(
            "", f"{placed[k].name} stands {-float(altitude[k]):.0f}° below the horizon then, seen "
            "from this site; are the time and its zone right?",
        )  # fmt: skip
    return placed


def _asked(row: Row, at: datetime | None, known: dict[str, SkyObject]) -> _Asked:
    """What a row says; `known` keeps the objects of names that were looked up."""
    name = row.text("star")
    hour_angle = row.number("hour_angle_h", -12.0, 12.0)
    declination = row.number("declination_deg", -90.0, 90.0)
    if hour_angle is not None and declination is not None:
        return _Asked(name or f"line {row.line}", hour_angle, declination, None)
    if not name:
        raise row.wrong("", "give a star's name, or hour_angle_h and declination_deg")
    thing = known.get(name)
    if thing is None:
        try:
            thing = known[name] = find(name)
        except AxletreeError as error:
            raise row.wrong("star", str(error)) from None
    if moves(thing):
        raise row.wrong("star", f"{thing.name} moves among the stars; choose a star")
    if at is None and hour_angle is None:
        raise row.wrong("", f"give the time at which {thing.name} was looked at, or hour_angle_h")
    return _Asked(thing.name, hour_angle, declination, thing)
