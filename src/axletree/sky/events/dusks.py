"""When does the Sun pass a depression in each of many nights, quickly?

In closed form from the Sun's place, brought up to date at the passage itself: a year in some
hundredths of a second, where `twilight.darkness_of` watches the Sun through every night. Within
a second of it, but for nights on which the Sun hardly passes the level, where the time itself
is loose.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.sky.arrays import Floats
from axletree.sky.events.crossings import spans_of
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import see_body
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.positions.stars import positions_from_cirs
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night
from axletree.sky.time.orientation import orientation

_MOST_TURNS = 6  # each gains a factor of 50 or more on the time, away from the poles
_CLOSE_H = 0.5 / 3600.0


def dark_hours(
    nights: Sequence[Night], observer: Observer, depression_deg: float
) -> tuple[Floats, Floats]:
    """From and to, hours after each night's start (n,), with the Sun's centre below -depression.

    The one stretch around the Sun's lowest moment, cut at the night's noons; nan where the Sun
    does not sink that far. True altitude, as in `twilight`.
    """
    if not nights:
        return np.empty(0), np.empty(0)
    base, (start_s, stop_s) = spans_of(nights)
    length_h = (stop_s - start_s) / 3600.0
    lowest_h = length_h / 2.0
    for _ in range(2):
        hour, _, _ = _sun(base, start_s + lowest_h * 3600.0, observer)
        lowest_h = lowest_h - _from_midnight_h(hour)
    _, _, altitude = _sun(base, start_s + lowest_h * 3600.0, observer)
    edges = []
    for sign in (-1.0, 1.0):
        at = lowest_h + sign * 6.0
        for _ in range(_MOST_TURNS):
            hour, declination, _ = _sun(base, start_s + at * 3600.0, observer)
            half = _half_night_h(declination, observer, depression_deg)
            late = _from_midnight_h(hour) - sign * half
            at = at - late
            if np.all(np.abs(late) < _CLOSE_H):
                break
        # Where the Sun does not come up at all, nothing but the night's noons cuts the stretch.
        at = np.where(half >= 12.0, lowest_h + sign * 24.0, at)
        edges.append(np.clip(at, 0.0, length_h))
    never = altitude > -depression_deg
    return np.where(never, np.nan, edges[0]), np.where(never, np.nan, edges[1])


def _sun(base: Instants, seconds: Floats, observer: Observer) -> tuple[Floats, Floats, Floats]:
    """The Sun's hour angle (h), declination and true altitude (deg), each (n,)."""
    instants = base.plus(seconds)
    kernel = load_ephemeris()
    kernel.check(instants)
    turned = orientation(instants, observer)
    cirs = see_body("sun", instants, turned, kernel).cirs
    ra, dec = np.arctan2(cirs[:, 1], cirs[:, 0]), np.arcsin(np.clip(cirs[:, 2], -1.0, 1.0))
    here = positions_from_cirs(ra, dec, turned, observer)
    return here.hour_angle_h, here.declination_deg, here.altitude_true_deg


def _from_midnight_h(hour_angle_h: Floats) -> Floats:
    """Hours since the nearest lower passage, within -12 and 12."""
    return np.asarray(np.mod(hour_angle_h, 24.0) - 12.0)


def _half_night_h(declination_deg: Floats, observer: Observer, depression_deg: float) -> Floats:
    """Half the time below the level; J. Meeus 1998, ch. 15: cos H0. 12 h if never above it."""
    phi, delta = observer.latitude_rad, np.radians(declination_deg)
    sin_h = np.sin(np.radians(-depression_deg)) - np.sin(phi) * np.sin(delta)
    flat = np.maximum(np.cos(phi) * np.cos(delta), 1e-9)
    return np.asarray(12.0 - np.degrees(np.arccos(np.clip(sin_h / flat, -1.0, 1.0))) / 15.0)
