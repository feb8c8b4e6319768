"""When do things rise, culminate and set tonight, and when is it dark?

Levels are true altitudes of the centre unless said otherwise. Rise and set are when the upper
edge stands on a flat horizon at sea level: 34 arcminutes of refraction, for the Sun with 16 of
radius (-50 arcminutes), for the Moon with its own radius of the day; twilights are the Sun at
-6, -12 and -18 degrees. Source: definitions of the US Naval Observatory; J. Meeus,
Astronomical Algorithms, 2nd ed. 1998, ch. 15.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

import erfa
import numpy as np
from numpy.typing import NDArray

from axletree.sky.bodies import RADIUS_KM, body_positions, see_body
from axletree.sky.crossings import Crossings, find_crossings
from axletree.sky.ephemeris import AU_KM, Ephemeris, load_ephemeris
from axletree.sky.nights import Night
from axletree.sky.observer import Observer
from axletree.sky.orientation import orientation
from axletree.sky.positions import Positions, StarLike, one_star, star_positions
from axletree.sky.time import Instants

Floats = NDArray[np.float64]

HORIZON_DEG = -34.0 / 60.0
SUN_HORIZON_DEG = -50.0 / 60.0
CIVIL_DEG, NAUTICAL_DEG, ASTRONOMICAL_DEG = 6.0, 12.0, 18.0
_STEP_S = 600.0

Place = Callable[[Instants], Positions]


@dataclass(frozen=True)
class SunEvents:
    """The Sun's evening and morning, aware datetimes in the night's zone.

    None where the Sun doesn't pass that level this night; `note` then says why, in words.
    `lowest` is when it stands lowest, at `lowest_altitude_deg` (true altitude).
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
    note: str = ""


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

    @property
    def note(self) -> str:
        """Empty, or a sentence about a night that is never or always dark."""
        if self.never_dark:
            return (
                f"The Sun never goes {self.depression_deg:g}° below the horizon this night; it"
                f" is lowest at {self.lowest_sun_altitude_deg:.1f}°."
            )
        if self.never_light:
            return f"The Sun stays more than {self.depression_deg:g}° below the horizon."
        return ""


@dataclass(frozen=True)
class ObjectEvents:
    """One object's night: aware datetimes in order; empty tuples where nothing happens.

    `always_up` and `never_up` speak of the level that rise and set refer to.
    """

    rises: tuple[datetime, ...]
    sets: tuple[datetime, ...]
    upper_culminations: tuple[datetime, ...]
    lower_culminations: tuple[datetime, ...]
    always_up: bool
    never_up: bool


def sun_altitude_deg(
    instants: Instants, observer: Observer, ephemeris: Ephemeris | None = None
) -> Floats:
    """True topocentric altitude of the Sun's centre (n,), degrees; the quick way to it."""
    return body_altitude_deg("sun", instants, observer, ephemeris)


def body_altitude_deg(
    name: str,
    instants: Instants,
    observer: Observer,
    ephemeris: Ephemeris | None = None,
    *,
    upper_edge: bool = False,
) -> Floats:
    """True topocentric altitude (n,) of a body's centre or upper edge, degrees."""
    kernel = load_ephemeris() if ephemeris is None else ephemeris
    kernel.check(instants)
    turned = orientation(instants, observer)
    seen = see_body(name, instants, turned, kernel)
    ra, dec = erfa.ufunc.c2s(seen.cirs)
    _, zenith, _, _, _ = erfa.ufunc.atioq(ra, dec, turned.astrom)
    altitude = np.asarray(90.0 - np.degrees(zenith))
    if upper_edge:
        distance = np.linalg.norm(seen.from_observer_au, axis=-1)
        altitude = altitude + np.degrees(np.arcsin(RADIUS_KM[name] / (distance * AU_KM)))
    return altitude


def sun_events(night: Night, observer: Observer, ephemeris: Ephemeris | None = None) -> SunEvents:
    """Sunset, the three dusks and dawns, and sunrise of one night; within 1 s of the model."""
    base, spans = _spans([night])

    def altitude(seconds: Floats) -> Floats:
        return sun_altitude_deg(base.plus(seconds), observer, ephemeris)

    levels = (SUN_HORIZON_DEG, -CIVIL_DEG, -NAUTICAL_DEG, -ASTRONOMICAL_DEG)
    found = [find_crossings(altitude, *spans, _STEP_S, level) for level in levels]
    lowest_s, lowest = _lowest(altitude, 0.0, night.length_s)
    downs = [_first(c, base, night, upward=False) for c in found]
    ups = [_last(c, base, night, upward=True) for c in found]
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
        note=_sun_note(float(altitude(np.zeros(1))[0]), lowest),
    )


def _sun_note(noon: float, lowest: float) -> str:
    if lowest > SUN_HORIZON_DEG:
        return f"The Sun doesn't set this night; it is lowest at {lowest:.1f}°."
    note = ""
    if noon < SUN_HORIZON_DEG:
        note = "The Sun doesn't rise above the horizon at noon. "
    if lowest > -CIVIL_DEG:
        return note + f"Civil twilight lasts all night; the Sun is lowest at {lowest:.1f}°."
    if lowest > -NAUTICAL_DEG:
        return note + f"Nautical twilight lasts all night; the Sun is lowest at {lowest:.1f}°."
    if lowest > -ASTRONOMICAL_DEG:
        return note + (f"It doesn't get fully dark this night; the Sun is lowest at {lowest:.1f}°.")
    return note.strip()


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
    base, spans = _spans(nights)

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


def body_events(
    name: str,
    night: Night,
    observer: Observer,
    *,
    altitude_deg: float | None = None,
    ephemeris: Ephemeris | None = None,
) -> ObjectEvents:
    """Rise, culminations and set of the Sun, the Moon or a planet during one night.

    With `altitude_deg`, rise and set are the passages of its centre, as seen through the air,
    through that altitude.
    """

    def place(instants: Instants) -> Positions:
        return body_positions(name, instants, observer, ephemeris=ephemeris)

    def edge(instants: Instants) -> Floats:
        if altitude_deg is not None:
            return np.asarray(place(instants).altitude_deg[0] - altitude_deg)
        if name == "moon":
            moon = body_altitude_deg(name, instants, observer, ephemeris, upper_edge=True)
            return moon - HORIZON_DEG
        level = SUN_HORIZON_DEG if name == "sun" else HORIZON_DEG
        return body_altitude_deg(name, instants, observer, ephemeris) - level

    return _object_events(place, edge, night)


def star_events(
    stars: StarLike, night: Night, observer: Observer, *, altitude_deg: float | None = None
) -> list[ObjectEvents]:
    """Rise, culminations and set of each star, as for `body_events`.

    One star at a time: for a whole catalogue `windows` is the quick way.
    """
    return [
        _object_events(*_star_functions(stars, k, observer, altitude_deg), night)
        for k in range(len(stars.ra_deg))
    ]


def _star_functions(
    stars: StarLike, k: int, observer: Observer, altitude_deg: float | None
) -> tuple[Place, Callable[[Instants], Floats]]:
    star = one_star(stars, k)

    def place(instants: Instants) -> Positions:
        return star_positions(star, instants, observer)

    def edge(instants: Instants) -> Floats:
        seen = place(instants)
        if altitude_deg is None:
            return np.asarray(seen.altitude_true_deg[0] - HORIZON_DEG)
        return np.asarray(seen.altitude_deg[0] - altitude_deg)

    return place, edge


def _object_events(place: Place, edge: Callable[[Instants], Floats], night: Night) -> ObjectEvents:
    base, spans = _spans([night])
    passes = find_crossings(lambda s: edge(base.plus(s)), *spans, _STEP_S)
    # sin H passes 0 upward on the upper meridian and downward on the lower.
    meridian = find_crossings(
        lambda s: np.sin(np.radians(15.0 * place(base.plus(s)).hour_angle_h[0])), *spans, _STEP_S
    )
    up_at_noon = bool(edge(base)[0] >= 0.0)
    still = passes.seconds.size == 0
    return ObjectEvents(
        rises=_all(passes, base, night, upward=True),
        sets=_all(passes, base, night, upward=False),
        upper_culminations=_all(meridian, base, night, upward=True),
        lower_culminations=_all(meridian, base, night, upward=False),
        always_up=still and up_at_noon,
        never_up=still and not up_at_noon,
    )


def _spans(nights: Sequence[Night]) -> tuple[Instants, tuple[Floats, Floats]]:
    starts = Instants.from_datetimes([n.start for n in nights])
    base = starts[0]
    start_s = starts.seconds_since(base)
    return base, (start_s, start_s + np.array([n.length_s for n in nights]))


def _all(found: Crossings, base: Instants, night: Night, *, upward: bool) -> tuple[datetime, ...]:
    seconds = found.seconds[found.upward == upward]
    return tuple(base.plus(seconds).to_datetimes(night.zone)) if seconds.size else ()


def _first(found: Crossings, base: Instants, night: Night, *, upward: bool) -> datetime | None:
    times = _all(found, base, night, upward=upward)
    return times[0] if times else None


def _last(found: Crossings, base: Instants, night: Night, *, upward: bool) -> datetime | None:
    times = _all(found, base, night, upward=upward)
    return times[-1] if times else None


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
