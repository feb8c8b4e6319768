"""When does the pole star come out tonight, and does anything stand in front of it?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from enum import Enum
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.pole.aim.target import PoleTarget, pole_star
from axletree.sky.arrays import Floats
from axletree.sky.events.rise_and_set import darkness, darkness_of
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import star_positions
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

Skyline = Callable[[ArrayLike], Floats]

# How low the Sun must be. Polaris (2 mag) shows to the naked eye with the Sun about 8 degrees down;
# sigma Octantis (5.4 mag) needs nautical dusk in a polar scope, more for the naked eye (common
# practice, no source).
POLARIS_SUN_DEG = 8.0
SIGMA_IN_SCOPE_SUN_DEG = 12.0
SIGMA_NAKED_EYE_SUN_DEG = 14.0
_STEP_S = 300.0
_LONGEST_SEARCH_NIGHTS = 190


class StarNight(Enum):
    """What one night does with the pole star: the Sun alone decides."""

    COMES_OUT = "comes out"
    NEVER_DARK_ENOUGH = "never dark enough"
    DARK_ALL_ALONG = "dark all along"


@dataclass(frozen=True)
class StarTonight:
    """The pole star during one night (noon to noon).

    `out`: intervals when the Sun is low enough and the star stands above the skyline; aware, in
    the night's zone. `comes_out`, `fades`: the same for the Sun alone, None if it never gets low
    enough or always is. `state` says which. `next_night`: the first night on which the star
    comes out again, where it doesn't tonight. Margins over the skyline in degrees, negative:
    hidden; None without a skyline. `least_margin_deg` is the smallest of the whole night.
    """

    star: str
    sun_depression_deg: float
    state: StarNight
    comes_out: datetime | None
    fades: datetime | None
    lowest_sun_altitude_deg: float
    next_night: date | None
    out: tuple[tuple[datetime, datetime], ...]
    pole_margin_deg: float | None
    star_margin_deg: float | None
    least_margin_deg: float | None


def sun_depression_for(north: bool, kind: Literal["scope", "hollow", "none"]) -> float:
    """How far the Sun must be below the horizon for this pole star, seen this way, degrees."""
    if north:
        return POLARIS_SUN_DEG
    return SIGMA_IN_SCOPE_SUN_DEG if kind == "scope" else SIGMA_NAKED_EYE_SUN_DEG


def star_tonight(
    observer: Observer,
    target: PoleTarget,
    at: datetime,
    zone: str,
    *,
    sun_depression_deg: float = POLARIS_SUN_DEG,
    skyline: Skyline | None = None,
) -> StarTonight:
    """The pole star during the night around `at` (an aware moment), margins at that moment.

    After dawn it is the coming night's.
    """
    night = Night.containing(at, zone)
    dark = darkness(night, observer, sun_depression_deg)
    if dark.intervals and dark.intervals[-1][1] < min(at, night.stop):
        # A morning whose dawn has passed asks about the coming evening.
        night = Night.of(night.date + timedelta(days=1), zone)
        dark = darkness(night, observer, sun_depression_deg)
    star = pole_star(target.north)
    state = StarNight.COMES_OUT
    if dark.never_dark:
        state = StarNight.NEVER_DARK_ENOUGH
    elif dark.never_light:
        state = StarNight.DARK_ALL_ALONG
    pole_margin = star_margin = least = None
    out = dark.intervals
    if skyline is not None:
        pole_margin = float(target.altitude_deg - skyline(target.azimuth_deg))
        star_margin = float(_margins(observer, target, Instants.from_datetime(at), skyline)[0])
        grid = Instants.grid(night.start, night.stop, step_s=_STEP_S)
        margins = _margins(observer, target, grid, skyline)
        least = float(margins.min())
        if least < 0.0:
            out = _clear_parts(dark.intervals, grid, margins, zone)
    comes_out = fades = None
    if state is StarNight.COMES_OUT:
        comes_out = dark.intervals[0][0] if dark.intervals[0][0] > night.start else None
        fades = dark.intervals[-1][1] if dark.intervals[-1][1] < night.stop else None
    return StarTonight(
        star=star.name,
        sun_depression_deg=sun_depression_deg,
        state=state,
        comes_out=comes_out,
        fades=fades,
        lowest_sun_altitude_deg=dark.lowest_sun_altitude_deg,
        next_night=_next_night(night, observer, sun_depression_deg) if dark.never_dark else None,
        out=out,
        pole_margin_deg=pole_margin,
        star_margin_deg=star_margin,
        least_margin_deg=least,
    )


def _margins(
    observer: Observer, target: PoleTarget, instants: Instants, skyline: Skyline
) -> Floats:
    """Altitude of the pole star above the skyline, (n,), degrees."""
    seen = star_positions(pole_star(target.north).place, instants, observer)
    return np.asarray(seen.altitude_deg[0] - skyline(seen.azimuth_deg[0]))


def _clear_parts(
    dark: tuple[tuple[datetime, datetime], ...], grid: Instants, margins: Floats, zone: str
) -> tuple[tuple[datetime, datetime], ...]:
    """The dark intervals without the times when the star is behind the skyline (to 5 minutes)."""
    times = grid.to_datetimes(zone)
    parts: list[tuple[datetime, datetime]] = []
    for start, stop in dark:
        inside = [start, *(t for t in times if start < t < stop), stop]
        clear = (
            np.interp([t.timestamp() for t in inside], [t.timestamp() for t in times], margins)
            > 0.0
        )
        first = None
        for moment, free in zip(inside, clear, strict=True):
            if free and first is None:
                first = moment
            if first is not None and (not free or moment is inside[-1]):
                if moment > first:
                    parts.append((first, moment))
                first = None
    return tuple(parts)


def _next_night(night: Night, observer: Observer, depression_deg: float) -> date | None:
    """The first later night that gets dark enough, within half a year."""
    for weeks in range(0, _LONGEST_SEARCH_NIGHTS, 10):
        nights = [
            Night.of(night.date + timedelta(days=weeks + k), night.zone) for k in range(1, 11)
        ]
        for found in darkness_of(nights, observer, depression_deg):
            if not found.never_dark:
                return found.night.date
    return None
