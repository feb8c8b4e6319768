"""When is the Moon new or full, and when do the seasons begin?

A phase is a difference in apparent geocentric ecliptic longitude (0, 90, 180, 270 degrees), as
almanacs define it; a season begins when the Sun's apparent longitude is a multiple of 90.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta, tzinfo

import erfa
import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_360
from axletree.sky.events.crossings import Crossings, find_crossings
from axletree.sky.positions.bodies import see_body
from axletree.sky.positions.ephemeris import Ephemeris, load_ephemeris
from axletree.sky.time.instants import Instants
from axletree.sky.time.orientation import orientation

_erfa = erfa.ufunc

MOON_PHASES = ("new", "first quarter", "full", "last quarter")
SEASONS = ("March equinox", "June solstice", "September equinox", "December solstice")


@dataclass(frozen=True)
class SkyDate:
    """One of `MOON_PHASES` or `SEASONS`, and its aware datetime."""

    name: str
    time: datetime


def ecliptic_longitude_deg(
    name: str, instants: Instants, ephemeris: Ephemeris | None = None
) -> tuple[Floats, Floats]:
    """Apparent geocentric longitude 0-360 and latitude, ecliptic and equinox of date, (n,)."""
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    turned = orientation(instants, None)
    cirs = see_body(name, instants, turned, kernel).cirs
    ra, dec = _erfa.c2s(cirs)
    equatorial = _erfa.s2c(ra - turned.origins_rad, dec)
    # 2000B nutation tilts the ecliptic's node within 0.001 arcseconds of 2000A.
    _, nutation = _erfa.nut00b(instants.tt1, instants.tt2)
    tilt = _erfa.obl06(instants.tt1, instants.tt2) + nutation
    x, y, z = equatorial[:, 0], equatorial[:, 1], equatorial[:, 2]
    along = y * np.cos(tilt) + z * np.sin(tilt)
    up = z * np.cos(tilt) - y * np.sin(tilt)
    return wrap_360(np.degrees(np.arctan2(along, x))), np.degrees(np.arcsin(up))


def moon_phases(
    start: datetime,
    stop: datetime,
    zone: str | tzinfo = UTC,
    ephemeris: Ephemeris | None = None,
) -> list[SkyDate]:
    """Every new Moon, first quarter, full Moon and last quarter between two aware datetimes."""
    base = Instants.from_datetime(start)

    def ahead(seconds: Floats) -> Floats:
        instants = base.plus(seconds)
        moon, _ = ecliptic_longitude_deg("moon", instants, ephemeris)
        sun, _ = ecliptic_longitude_deg("sun", instants, ephemeris)
        return np.asarray(moon - sun)

    return _quarters(ahead, base, stop, 86400.0, MOON_PHASES, zone)


def seasons(
    year: int, zone: str | tzinfo = UTC, ephemeris: Ephemeris | None = None
) -> list[SkyDate]:
    """Both equinoxes and both solstices of a calendar year (UTC)."""
    start = datetime(year, 3, 15, tzinfo=UTC)
    base = Instants.from_datetime(start)

    def longitude(seconds: Floats) -> Floats:
        return ecliptic_longitude_deg("sun", base.plus(seconds), ephemeris)[0]

    stop = start + timedelta(days=285)
    return _quarters(longitude, base, stop, 8 * 86400.0, SEASONS, zone)


def _quarters(
    angle: Callable[[Floats], Floats],
    base: Instants,
    stop: datetime,
    step_s: float,
    names: tuple[str, ...],
    zone: str | tzinfo,
) -> list[SkyDate]:
    """When an ever-growing angle passes multiples of 90 degrees, named by the quarter."""
    length = Instants.from_datetime(stop).seconds_since(base)
    # sin 2a passes 0 at each quarter, up and down in turn.
    found: Crossings = find_crossings(
        lambda s: np.sin(np.radians(2.0 * angle(s))), np.zeros(1), length, step_s
    )
    if found.seconds.size == 0:
        return []
    quarter = np.round(angle(found.seconds) / 90.0).astype(np.int64) % 4
    times = base.plus(found.seconds).to_datetimes(zone)
    return [SkyDate(names[q], t) for q, t in zip(quarter, times, strict=True)]
