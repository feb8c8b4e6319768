"""When and where does a satellite cross the sky while it is lit and the sky is dark?

Public: ``Crossing``, ``CrossingMoment``, ``CrossingEvent``, ``crossings_in``, ``CrossingsAsked``,
``OLD_DAYS``, ``TOO_OLD_DAYS``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from enum import Enum

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.satellites.brightness import satellite_magnitude
from axletree.sky.satellites.motion import SatelliteSights, satellite_sights, sky_at
from axletree.sky.satellites.two_line import TwoLine
from axletree.sky.time.instants import Instants, span

# Elements are told as old from here on, and left out from there on.
OLD_DAYS, TOO_OLD_DAYS = 7.0, 30.0
# Visitors see a satellite from this height on (common practice, no source).
LEAST_ALTITUDE_DEG = 10.0
# The sky is dark enough for satellites of the first magnitudes with the Sun this deep, the end of
# civil twilight; then no part of the Sun has been up for 20 minutes, nor will be for as long.
SUN_DEEP_DEG = -6.0
# Slower than this it crosses no sky while people look: SGP4's own bound of near orbits, 225 min.
LEAST_TURNS_PER_DAY = 6.4
# Along its way the elements err by so much at their epoch, and so much more a day (from memory).
ERROR_KM, ERROR_KM_PER_DAY, SPEED_KM_S = 1.0, 2.0, 7.5
_STEP_S, _FINE_S = 20.0, 0.5


class CrossingEvent(Enum):
    """What happens at a moment of a crossing."""

    RISES = "rises"
    LEAVES_SHADOW = "leaves_shadow"
    SKY_DARK = "sky_dark"
    BEGINS = "begins"
    HIGHEST = "highest"
    ENTERS_SHADOW = "enters_shadow"
    SETS = "sets"
    DAWN = "dawn"
    ENDS = "ends"


@dataclass(frozen=True)
class CrossingMoment:
    """Where it stands at a moment: azimuth from true north through east, altitude as seen, degrees;
    magnitude (None: no standard magnitude was given). BEGINS and ENDS: the time asked for does."""

    kind: CrossingEvent
    time: datetime
    azimuth_deg: float
    altitude_deg: float
    distance_km: float
    magnitude: float | None


@dataclass(frozen=True)
class Crossing:
    """One satellite crossing the sky where it can be seen: when it begins, stands highest and ends.

    `error_s` is one standard deviation of the times, `age_days` that of the elements; `old` where
    it is more than `OLD_DAYS`.
    """

    name: str
    number: int
    begin: CrossingMoment
    highest: CrossingMoment
    end: CrossingMoment
    age_days: float
    error_s: float

    @property
    def old(self) -> bool:
        """Whether its elements are told as old."""
        return self.age_days > OLD_DAYS

    @property
    def brightest_mag(self) -> float | None:
        """The brightest of its moments."""
        known = [m.magnitude for m in (self.begin, self.highest, self.end)]
        lights = [light for light in known if light is not None]
        return min(lights) if lights else None


@dataclass(frozen=True)
class CrossingsAsked:
    """From when to when, over which skyline (azimuth to altitude, degrees), with which standard
    magnitudes by number (`satellite_magnitude`)."""

    begin: datetime
    end: datetime
    skyline: Callable[[Floats], Floats]
    standard_mag: Mapping[int, float]


def crossings_in(
    satellites: Sequence[TwoLine], asked: CrossingsAsked, observer: Observer
) -> tuple[Crossing, ...]:
    """All crossings in their order of time; elements that are too old are the caller's matter.

    One that is seen for less than a step (20 s) may be missed.
    """
    near = [one for one in satellites if one.turns_per_day >= LEAST_TURNS_PER_DAY]
    _, length_s = span(asked.begin, asked.end)
    if not near or length_s <= 0.0:
        return ()
    count = max(2, int(np.ceil(length_s / _STEP_S)) + 1)
    times = Instants.grid(asked.begin, count=count, step_s=length_s / (count - 1))
    sky = sky_at(times, observer)
    seen = satellite_sights(near, sky)
    clear = _clear_deg(seen, sky.sun_altitude_deg, asked).min(axis=0) > 0.0
    found = [
        _crossing(one, (first, last), times, asked, observer)
        for one, row in zip(near, clear, strict=True)
        for first, last in _runs(row)
    ]
    return tuple(sorted(found, key=lambda one: (one.begin.time, one.number)))


def _clear_deg(seen: SatelliteSights, sun_deg: Floats, asked: CrossingsAsked) -> Floats:
    """By how much each of height, light and darkness allows it to be seen, (3, n, m)."""
    lowest = np.maximum(asked.skyline(seen.azimuth_deg), LEAST_ALTITUDE_DEG)
    dark = np.broadcast_to(SUN_DEEP_DEG - sun_deg, seen.altitude_deg.shape)
    return np.nan_to_num(np.stack([seen.altitude_deg - lowest, seen.lit_deg, dark]), nan=-90.0)


def _runs(row: np.ndarray) -> list[tuple[int, int]]:
    """First and last index of each stretch that is True."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], row, [False]]).astype(np.int8)))
    return [(int(a), int(b) - 1) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def _crossing(
    one: TwoLine, run: tuple[int, int], times: Instants, asked: CrossingsAsked, observer: Observer
) -> Crossing:
    """One stretch in steps of half a second, its ends by straight lines between them."""
    first, last = max(run[0] - 1, 0), min(run[1] + 1, len(times) - 1)
    start = times[first]
    length_s = float(times[last].seconds_since(start)[0])
    seconds = np.linspace(0.0, length_s, max(2, int(np.ceil(length_s / _FINE_S)) + 1))
    fine = start.plus(seconds)
    sky = sky_at(fine, observer)
    seen = satellite_sights([one], sky)
    each = _clear_deg(seen, sky.sun_altitude_deg, asked)[:, 0]
    clear = np.flatnonzero(each.min(axis=0) > 0.0)
    low, high = int(clear[0]), int(clear[-1])
    begin_s, why_begin = _edge(each, seconds, low - 1, low)
    end_s, why_end = _edge(each, seconds, high + 1, high)
    top = low + int(np.argmax(seen.altitude_deg[0, low : high + 1]))
    standard = asked.standard_mag.get(one.number)
    track = _Track(seen, seconds, start, standard)
    begins = (
        CrossingEvent.RISES,
        CrossingEvent.LEAVES_SHADOW,
        CrossingEvent.SKY_DARK,
        CrossingEvent.BEGINS,
    )
    ends = (
        CrossingEvent.SETS,
        CrossingEvent.ENTERS_SHADOW,
        CrossingEvent.DAWN,
        CrossingEvent.ENDS,
    )
    age = abs(float((start.utc1[0] - one.epoch_jd) + start.utc2[0]))
    return Crossing(
        name=one.name,
        number=one.number,
        begin=track.at(begins[why_begin], begin_s),
        highest=track.at(CrossingEvent.HIGHEST, float(seconds[top])),
        end=track.at(ends[why_end], end_s),
        age_days=age,
        error_s=(ERROR_KM + ERROR_KM_PER_DAY * age) / SPEED_KM_S,
    )


def _edge(each: Floats, seconds: Floats, outside: int, inside: int) -> tuple[float, int]:
    """When the first of the three forbids it, and which; 3 where the time asked for ends there."""
    if not 0 <= outside < len(seconds):
        return float(seconds[inside]), 3
    before, after = each[:, outside], each[:, inside]
    part = np.where(before <= 0.0, after / np.maximum(after - before, 1e-12), np.inf)
    which = int(np.argmin(part))
    share = float(np.clip(part[which], 0.0, 1.0))
    return float(seconds[inside] + share * (seconds[outside] - seconds[inside])), which


@dataclass(frozen=True)
class _Track:
    """One satellite at fine steps."""

    seen: SatelliteSights
    seconds: Floats
    start: Instants
    standard_mag: float | None

    def at(self, kind: CrossingEvent, second: float) -> CrossingMoment:
        """Where it stands then, by straight lines between the steps."""
        azimuth = np.unwrap(self.seen.azimuth_deg[0], period=360.0)

        def line(row: Floats) -> float:
            return float(np.interp(second, self.seconds, row))

        distance, phase = line(self.seen.distance_km[0]), line(self.seen.phase_deg[0])
        light = None
        if self.standard_mag is not None:
            light = float(
                satellite_magnitude(self.standard_mag, np.array(distance), np.array(phase))
            )
        [time] = self.start.plus(second).to_datetimes()
        return CrossingMoment(
            kind, time, line(azimuth) % 360.0, line(self.seen.altitude_deg[0]), distance, light
        )
