"""When does the Sun set, and when is it truly dark?

Sunset and sunrise are the Sun's centre at -50 arcminutes of true altitude (34 of refraction at
a flat horizon, 16 of radius), the twilights -6, -12 and -18 degrees. Source: definitions of the
US Naval Observatory; J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 15.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.events.crossings import find_crossings, passages, spans_of
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import sun_altitude_deg
from axletree.sky.positions.ephemeris import Ephemeris
from axletree.sky.time.nights import Night

SUN_HORIZON_DEG = -50.0 / 60.0
CIVIL_DEG, NAUTICAL_DEG, ASTRONOMICAL_DEG = 6.0, 12.0, 18.0
_STEP_S = 600.0


class Darkest(Enum):
    """How dark a night gets where the Sun stands lowest."""

    SUN_UP = "sun_up"
    CIVIL = "civil_twilight"
    NAUTICAL = "nautical_twilight"
    ASTRONOMICAL = "astronomical_twilight"
    NIGHT = "night"


def darkest_at(lowest_sun_altitude_deg: float) -> Darkest:
    """What the light sinks to when the Sun goes down to this true altitude."""
    for level, found in (
        (SUN_HORIZON_DEG, Darkest.SUN_UP),
        (-CIVIL_DEG, Darkest.CIVIL),
        (-NAUTICAL_DEG, Darkest.NAUTICAL),
        (-ASTRONOMICAL_DEG, Darkest.ASTRONOMICAL),
    ):
        if lowest_sun_altitude_deg > level:
            return found
    return Darkest.NIGHT


@dataclass(frozen=True)
class SunEvents:
    """The Sun's evening and morning, aware datetimes in the night's zone.

    None where the Sun doesn't pass that level this night. `lowest` is when it stands lowest, at
    `lowest_altitude_deg` (true altitude). `dark_noon`: it isn't up at the noon that begins the
    night either.
    """

    sunset: datetime | None
    civil_dusk: datetime | None
    nautical_dusk: datetime | None
    astronomical_dusk: datetime | None
    astronomical_dawn: datetime | None
    nautical_dawn: datetime | None
    civil_dawn: datetime | None
    sunrise: datetime | None
    lowest: datetime
    lowest_altitude_deg: float
    dark_noon: bool


@dataclass(frozen=True)
class Darkness:
    """When the Sun is lower than `depression_deg` below the horizon during one night.

    `intervals` are aware (from, to) pairs in the night's zone, cut at its noons; `hours` their
    total. `never_dark`: the Sun doesn't go that low. `never_light`: it stays below it all along.
    """

    night: Night
    depression_deg: float
    intervals: tuple[tuple[datetime, datetime], ...]
    hours: float
    never_dark: bool
    never_light: bool
    lowest_sun_altitude_deg: float


def sun_events(night: Night, observer: Observer, ephemeris: Ephemeris | None = None) -> SunEvents:
    """Sunset, the three dusks and dawns, and sunrise of one night; within 1 s of the model."""
    base, spans = spans_of([night])

    def altitude(seconds: Floats) -> Floats:
        return sun_altitude_deg(base.plus(seconds), observer, ephemeris)

    levels = (SUN_HORIZON_DEG, -CIVIL_DEG, -NAUTICAL_DEG, -ASTRONOMICAL_DEG)
    found = [find_crossings(altitude, *spans, _STEP_S, level) for level in levels]
    lowest_s, lowest = _lowest(altitude, 0.0, night.length_s)
    downs = [next(iter(passages(c, base, night, upward=False)), None) for c in found]
    ups = [next(reversed(passages(c, base, night, upward=True)), None) for c in found]
    return SunEvents(
        sunset=downs[0],
        civil_dusk=downs[1],
        nautical_dusk=downs[2],
        astronomical_dusk=downs[3],
        astronomical_dawn=ups[3],
        nautical_dawn=ups[2],
        civil_dawn=ups[1],
        sunrise=ups[0],
        lowest=base.plus(lowest_s).to_datetimes(night.zone)[0],
        lowest_altitude_deg=lowest,
        dark_noon=bool(altitude(np.zeros(1))[0] < SUN_HORIZON_DEG),
    )


def darkness(
    night: Night,
    observer: Observer,
    depression_deg: float = ASTRONOMICAL_DEG,
    ephemeris: Ephemeris | None = None,
) -> Darkness:
    """When it is dark during one night; see `Darkness`."""
    return darkness_of([night], observer, depression_deg, ephemeris)[0]


def darkness_of(
    nights: Sequence[Night],
    observer: Observer,
    depression_deg: float = ASTRONOMICAL_DEG,
    ephemeris: Ephemeris | None = None,
) -> list[Darkness]:
    """When it is dark in each of many nights, worked out together."""
    if not nights:
        return []
    base, spans = spans_of(nights)

    def altitude(seconds: Floats) -> Floats:
        return sun_altitude_deg(base.plus(seconds), observer, ephemeris)

    found = find_crossings(altitude, *spans, _STEP_S, -depression_deg)
    at_noon = altitude(spans[0])
    lowest = [float(v) for v in _lowest_of(altitude, *spans)]
    result = []
    for k, night in enumerate(nights):
        mine = found.span == k
        edges = found.seconds[mine]
        dark = bool(at_noon[k] < -depression_deg)
        marks = [*([spans[0][k]] if dark else []), *edges]
        if len(marks) % 2:
            marks.append(spans[1][k])
        times = base.plus(np.array(marks)).to_datetimes(night.zone) if marks else []
        pairs = tuple(zip(times[0::2], times[1::2], strict=True))
        seconds = float(np.sum(np.diff(np.array(marks).reshape(-1, 2)))) if marks else 0.0
        result.append(
            Darkness(
                night=night,
                depression_deg=depression_deg,
                intervals=pairs,
                hours=seconds / 3600.0,
                never_dark=not marks,
                never_light=dark and edges.size == 0,
                lowest_sun_altitude_deg=lowest[k],
            )
        )
    return result


def _lowest(altitude: Callable[[Floats], Floats], start: float, stop: float) -> tuple[float, float]:
    """Seconds and value of the least altitude within a span."""
    seconds = start
    step = (stop - start) / 48.0
    low, high = start, stop
    for _ in range(4):
        t = np.clip(np.linspace(low, high, 49), start, stop)
        f = altitude(t)
        seconds = float(t[np.argmin(f)])
        low, high = seconds - step, seconds + step
        step = (high - low) / 48.0
    return seconds, float(altitude(np.array([seconds]))[0])


def _lowest_of(altitude: Callable[[Floats], Floats], start: Floats, stop: Floats) -> Floats:
    """Least altitude in each span: samples each half hour and a parabola through the lowest."""
    count = 51
    t = start[:, np.newaxis] + (stop - start)[:, np.newaxis] * np.linspace(0.0, 1.0, count)
    f = altitude(t.ravel()).reshape(t.shape)
    k = np.clip(np.argmin(f, axis=1), 1, count - 2)
    row = np.arange(len(f))
    before, here, after = f[row, k - 1], f[row, k], f[row, k + 1]
    curve = before - 2.0 * here + after
    shift = np.clip(0.5 * (before - after) / np.where(curve != 0.0, curve, 1.0), -1.0, 1.0)
    moved = t[row, k] + shift * (t[row, 1] - t[row, 0])
    return np.asarray(np.minimum(altitude(moved), f.min(axis=1)))
