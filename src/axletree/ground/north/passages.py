"""When does something next stand exactly on the meridian, and how fast does it cross?

At the upper passage (hour angle 0) a body stands due south or due north, whichever side of the
zenith its declination puts it; at the lower (12 h) below the elevated pole. A shadow then lies
exactly along the meridian.
"""

from __future__ import annotations

from dataclasses import fields
from datetime import datetime

import numpy as np

from axletree.ground.north.pointers import PositionsAt, ValuesAt
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import StarLike, Stars, star_positions, star_positions_each
from axletree.sky.time.instants import SIDEREAL_DAY_S, Instants
from axletree.sky.time.nights import later

# Over how long a pace of the hour angle is taken, and the step after which the next is none.
_PACE_S, _STEP_S, _MOST_GUESSES = 60.0, 1.0, 6


@dataclass(frozen=True)
class Passage:
    """One crossing of the meridian: when, upper or lower, azimuth 0 or 180 as exactly as the
    Earth's axis stands in the ground, altitude as seen, and the pace of the azimuth."""

    at: datetime
    upper: bool
    azimuth_deg: float
    altitude_deg: float
    rate_deg_per_min: float


def azimuth_rate(azimuth_deg: Floats, altitude_deg: Floats, latitude_deg: float) -> Floats:
    """Change of azimuth for a change of hour angle, degrees a degree.

    sin(phi) - tan(e) cos(A) cos(phi). Source: P. T. Wallace, SLALIB (SUN/67), ALTAZ.
    """
    A, e, phi = np.radians(azimuth_deg), np.radians(altitude_deg), np.radians(latitude_deg)
    return np.asarray(np.sin(phi) - np.tan(e) * np.cos(A) * np.cos(phi))


def body_passages(
    place: PositionsAt, observer: Observer, at: datetime, hours: float = 25.0,
    hour_angle_h: ValuesAt | None = None,
) -> list[Passage]:  # fmt: skip
    """Every crossing of the meridian by one body within `hours` from `at`, in order.

    `hour_angle_h` (n,) is given where it can be had for less than the whole place.
    """
    base = Instants.from_datetime(at)
    quick = hour_angle_h or (lambda instants: place(instants).hour_angle_h[0])
    seconds, upper = _crossed(quick, base, hours * 3600.0)
    if not seconds.size:
        return []
    # The body's own motion: half a minute to both sides of its passages.
    around = place(base.plus(np.concatenate([seconds + s for s in (0.0, -30.0, 30.0)])))
    there, before, after = np.split(around.azimuth_deg[0], 3)
    rate = (after - before + 180.0) % 360.0 - 180.0
    return [
        Passage(
            at=later(at, float(seconds[k])),
            upper=bool(upper[k]),
            azimuth_deg=_due(float(there[k])),
            altitude_deg=float(around.altitude_deg[0, k]),
            rate_deg_per_min=float(rate[k]),
        )
        for k in range(seconds.size)
    ]


def _crossed(hour_angle_h: ValuesAt, base: Instants, until_s: float) -> tuple[Floats, Mask]:
    """When a body stands at hour angle 0 or 12 h, seconds in order, and at which are upper ones.

    By Newton's way: hour angles of the Sun, Moon and planets run so evenly that the pace at the
    last guess leaves of its error a hundredth, of that a ten-thousandth, and so on.
    """
    around = hour_angle_h(base.plus(np.array([0.0, _PACE_S])))
    pace = wrap_h(around[1] - around[0]) / _PACE_S
    turn_s = 24.0 / pace
    turns = np.arange(int(np.ceil(until_s / turn_s)) + 1)
    goal = np.repeat([0.0, 12.0], turns.size)
    seconds = np.mod(goal - around[0], 24.0) / pace + np.tile(turns, 2) * turn_s
    near = seconds < until_s + 3600.0  # so far off is no first guess
    seconds, goal = seconds[near], goal[near]
    for _ in range(_MOST_GUESSES if seconds.size else 0):
        there = hour_angle_h(base.plus(np.concatenate([seconds, seconds + _PACE_S])))
        now, soon = np.split(there, 2)
        step = wrap_h(goal - now) / wrap_h(soon - now) * _PACE_S
        seconds = seconds + step
        if np.all(np.abs(step) < _STEP_S):
            break
    kept = np.flatnonzero((seconds >= 0.0) & (seconds <= until_s))
    kept = kept[np.argsort(seconds[kept])]
    return seconds[kept], goal[kept] == 0.0


@dataclass(frozen=True)
class StarPassages:
    """Next crossings of many stars: arrays (stars, 2), upper then lower.

    `wait_s` seconds from the asked moment, azimuth 0 or 180, altitude as seen, degrees of
    azimuth a minute of time.
    """

    wait_s: Floats
    azimuth_deg: Floats
    altitude_deg: Floats
    rate_deg_per_min: Floats


def star_passages(stars: StarLike, observer: Observer, at: datetime) -> StarPassages:
    """The next upper and lower passage of each star, to a tenth of a second.

    A star's hour angle runs evenly but for precession and its kin, which one correction mends.
    """
    base = Instants.from_datetime(at)
    H = star_positions(stars, base, observer).hour_angle_h  # (stars, 1)
    wait = np.hstack([np.mod(-H, 24.0), np.mod(12.0 - H, 24.0)]) * SIDEREAL_DAY_S / 24.0
    count = len(wait)
    goal = np.repeat([0.0, 12.0], count)
    own = np.tile(np.arange(count), 2)
    flat = wait.T.ravel()
    each = Stars(*(getattr(stars, f.name)[own] for f in fields(Stars)))
    seen = star_positions_each(each, base.plus(flat), observer)
    off = (seen.hour_angle_h - goal + 12.0) % 24.0 - 12.0
    flat = flat - off * SIDEREAL_DAY_S / 24.0
    azimuth, altitude, true = seen.azimuth_deg, seen.altitude_deg, seen.altitude_true_deg
    due = np.where((azimuth > 90.0) & (azimuth < 270.0), 180.0, 0.0)
    rate = azimuth_rate(due, true, observer.latitude_deg) * 360.0 / (SIDEREAL_DAY_S / 60.0)

    def shaped(values: Floats) -> Floats:
        return np.asarray(values.reshape(2, count).T)

    return StarPassages(shaped(flat), shaped(due), shaped(altitude), shaped(rate))


def _due(azimuth_deg: float) -> float:
    return 180.0 if 90.0 < azimuth_deg < 270.0 else 0.0
