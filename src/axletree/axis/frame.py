"""Which hour angle and declination does a mount see whose axis is a little off?

The star's direction is where it is seen, lifted by the air. The mount's frame is the pole's frame
carried to the axis along the great circle between them, so that no turn about the axis itself is
mixed in (that would be an index error of the hour circle). All exact, for errors of any size.
"""

from __future__ import annotations

import functools
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.air.refraction import apparent_altitude_deg, refracted_pole_altitude_deg
from axletree.sky.arrays import Floats
from axletree.sky.directions import (
    azimuth_altitude,
    vector_from_azimuth_altitude,
    wrap_h,
)
from axletree.sky.observer import Observer

Pole = Literal["refracted", "true"]

_DEG = np.pi / 180.0
_ARCMIN = _DEG / 60.0
_HOUR = np.pi / 12.0


@functools.lru_cache(maxsize=256)  # a solver asks for the same one hundreds of times
def pole_altitude_deg(observer: Observer, pole: Pole = "refracted") -> float:
    """Altitude of the pole that the axis should meet: as seen through the air, or the true one."""
    if pole == "true":
        return abs(observer.latitude_deg)
    return refracted_pole_altitude_deg(observer)


def seen_vectors(hour_angle_h: ArrayLike, declination_deg: ArrayLike, observer: Observer) -> Floats:
    """Local vectors (..., 3), x east, y north, z up, of where things are seen through the air.

    Hour angle and declination are apparent of date, without air.
    """
    azimuth, altitude = azimuth_altitude(hour_angle_h, declination_deg, observer.latitude_deg)
    return vector_from_azimuth_altitude(azimuth, apparent_altitude_deg(altitude, observer))


def _in_pole_frame(seen: Floats, pole_altitude: float, sense: float) -> tuple[Floats, ...]:
    """Parts of local vectors towards the meridian above the pole, east, and the elevated pole."""
    a = pole_altitude * _DEG
    x, y, z = seen[..., 0], sense * seen[..., 1], seen[..., 2]
    return -np.sin(a) * y + np.cos(a) * z, x, np.cos(a) * y + np.sin(a) * z


def _carried(parts: tuple[Floats, ...], high: Floats, east: Floats) -> tuple[Floats, ...]:
    """The same parts in the frame carried from the pole to the axis; high and east in radians."""
    up, e, p = parts
    t = np.sqrt(high * high + east * east)
    sine = np.sinc(t / np.pi)  # sin(t) / t
    versine = 0.5 * np.sinc(t / (2.0 * np.pi)) ** 2  # (1 - cos(t)) / t^2
    along = high * up + east * e
    shift = -versine * along - sine * p
    return up + high * shift, e + east * shift, np.cos(t) * p + sine * along


def mount_angles(
    seen: ArrayLike,
    high_arcmin: ArrayLike,
    east_arcmin: ArrayLike,
    observer: Observer,
    pole: Pole = "refracted",
) -> tuple[Floats, Floats]:
    """Hour angle (-12, 12] h, west positive, and declination, degrees, about the mount's axis.

    `seen`: local vectors (..., 3), see `seen_vectors`. Axis errors are great-circle arcminutes
    from the chosen pole and broadcast against the vectors' leading shape.
    """
    sense = 1.0 if observer.north else -1.0
    parts = _in_pole_frame(
        np.asarray(seen, dtype=np.float64), pole_altitude_deg(observer, pole), sense
    )
    high = np.asarray(high_arcmin, dtype=np.float64) * _ARCMIN
    east = np.asarray(east_arcmin, dtype=np.float64) * _ARCMIN
    up, e, p = _carried(parts, high, east)
    return (
        wrap_h(np.arctan2(-e, up) / _HOUR),
        sense * np.arctan2(p, np.sqrt(up * up + e * e)) / _DEG,
    )
