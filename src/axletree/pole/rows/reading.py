"""Which star is a row about, and when was it looked at?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.reading.table import Row
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.directions import azimuth_altitude
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import moves, object_positions
from axletree.sky.time.instants import Instants

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


def place_of(row: Row, at: datetime | None, observer: Observer) -> Placed:
    """The star of a row, from its name and time, or from hour angle and declination."""
    name = row.text("star")
    hour_angle = row.number("hour_angle_h", -12.0, 12.0)
    declination = row.number("declination_deg", -90.0, 90.0)
    if hour_angle is not None and declination is not None:
        placed = Placed(name or f"line {row.line}", hour_angle, declination, at)
    else:
        placed = _named(row, name, hour_angle, declination, at, observer)
    _, altitude = azimuth_altitude(
        placed.hour_angle_h, placed.declination_deg, observer.latitude_deg
    )
    if float(altitude) < 0.0:
        raise row.wrong(
            "", f"{placed.name} stands {-float(altitude):.0f}° below the horizon then, seen from "
            "this site; are the time and its zone right?",
        )  # fmt: skip
    return placed


def _named(
    row: Row, name: str, hour_angle: float | None, declination: float | None,
    at: datetime | None, observer: Observer,
) -> Placed:  # fmt: skip
    if not name:
        raise row.wrong("", "give a star's name, or hour_angle_h and declination_deg")
    try:
        thing = find(name)
    except AxletreeError as error:
        raise row.wrong("star", str(error)) from None
    if moves(thing):
        raise row.wrong("star", f"{thing.name} moves among the stars; choose a star")
    if at is None and hour_angle is None:
        raise row.wrong("", f"give the time at which {thing.name} was looked at, or hour_angle_h")
    H, dec = _where(thing, at, observer)
    if declination is not None:
        dec = declination
    return Placed(thing.name, H if hour_angle is None else hour_angle, dec, at)


def _where(thing: SkyObject, at: datetime | None, observer: Observer) -> tuple[float, float]:
    moment = at or datetime.fromisoformat("2026-01-01T00:00:00+00:00")
    place = object_positions([thing], Instants.from_datetime(moment), observer)
    hour = float(np.asarray(place.hour_angle_h)[0, 0])
    return hour, float(np.asarray(place.declination_deg)[0, 0])
