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

from axletree.sky.air.refraction import (
    apparent_altitude_deg,
    refracted_pole_altitude_deg,
    true_altitude_deg,
)
from axletree.sky.arrays import Floats
from axletree.sky.directions import (
    azimuth_altitude,
    azimuth_altitude_from_vector,
    cross,
    hour_angle_declination,
    vector_from_azimuth_altitude,
    vector_from_hour_angle,
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


def sky_angles(seen: ArrayLike, observer: Observer) -> tuple[Floats, Floats]:
    """Hour angle (-12, 12] h and declination (degrees), without air, of seen local vectors.

    The inverse of `seen_vectors`, (..., 3) of any length.
    """
    azimuth, altitude = azimuth_altitude_from_vector(seen)
    return hour_angle_declination(
        azimuth, true_altitude_deg(altitude, observer), observer.latitude_deg
    )


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


def seen_from_mount_angles(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    high_arcmin: ArrayLike,
    east_arcmin: ArrayLike,
    observer: Observer,
    pole: Pole = "refracted",
) -> Floats:
    """Local vectors (..., 3) of an hour angle and a declination about the mount's own axis.

    The inverse of `mount_angles`; everything broadcasts.
    """
    sense = 1.0 if observer.north else -1.0
    H = np.asarray(hour_angle_h, dtype=np.float64) * _HOUR
    d = np.asarray(declination_deg, dtype=np.float64) * _DEG
    own = np.cos(d) * np.cos(H), -np.cos(d) * np.sin(H), sense * np.sin(d)
    # Carried the other way, the same turn leads from the axis back to the pole.
    high = -np.asarray(high_arcmin, dtype=np.float64) * _ARCMIN
    east = -np.asarray(east_arcmin, dtype=np.float64) * _ARCMIN
    up, e, p = _carried(own, high, east)
    a = pole_altitude_deg(observer, pole) * _DEG
    y = sense * (np.cos(a) * p - np.sin(a) * up)
    z = np.sin(a) * p + np.cos(a) * up
    return np.stack(np.broadcast_arrays(e, y, z), axis=-1)


def seen_rates(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    hour_rate: ArrayLike,
    declination_rate: ArrayLike,
    observer: Observer,
) -> Floats:
    """How fast `seen_vectors` move (..., 3), in radians per what the rates are counted in, times
    their unit of angle (arcseconds per second in, arcseconds per second out)."""
    H = np.asarray(hour_angle_h, dtype=np.float64) * _HOUR
    d = np.asarray(declination_deg, dtype=np.float64) * _DEG
    phi = observer.latitude_deg * _DEG
    true = vector_from_hour_angle(hour_angle_h, declination_deg, observer.latitude_deg)
    pole = np.array([0.0, np.cos(phi), np.sin(phi)])
    # Square to the declination circle, towards the pole that declination counts to.
    north = np.stack(
        np.broadcast_arrays(
            np.sin(d) * np.sin(H),
            np.cos(phi) * np.cos(d) + np.sin(phi) * np.sin(d) * np.cos(H),
            np.sin(phi) * np.cos(d) - np.cos(phi) * np.sin(d) * np.cos(H),
        ),
        axis=-1,
    )
    moving = (
        np.asarray(hour_rate, dtype=np.float64)[..., None] * cross(true, pole)
        + np.asarray(declination_rate, dtype=np.float64)[..., None] * north
    )
    if observer.air_pressure_hpa == 0.0:
        return np.asarray(moving)
    return _lifted_rate(true, moving, observer)


def _lifted_rate(true: Floats, moving: Floats, observer: Observer) -> Floats:
    """The rate of a direction as seen, from that without air: altitude alone is lifted."""
    flat = np.maximum(np.hypot(true[..., 0], true[..., 1]), 1e-12)
    ahead = true[..., :2] / flat[..., None]
    altitude = np.arctan2(true[..., 2], flat) / _DEG
    step = 1.0 / 60.0
    lift = apparent_altitude_deg(np.stack([altitude - step, altitude + step]), observer)
    seen = apparent_altitude_deg(altitude, observer) * _DEG
    # Along the azimuth circle and up, each as an angle; the air changes the second alone.
    sideways = moving[..., 1] * ahead[..., 0] - moving[..., 0] * ahead[..., 1]
    outward = np.sum(moving[..., :2] * ahead, axis=-1)
    rise = moving[..., 2] * np.cos(altitude * _DEG) - outward * np.sin(altitude * _DEG)
    rise = rise * (lift[1] - lift[0]) / (2.0 * step)
    turn = sideways / flat * np.cos(seen)
    x = -ahead[..., 1] * turn - ahead[..., 0] * np.sin(seen) * rise
    y = ahead[..., 0] * turn - ahead[..., 1] * np.sin(seen) * rise
    return np.stack([x, y, np.cos(seen) * rise], axis=-1)


def mount_rates(
    seen: Floats,
    moving: Floats,
    high_arcmin: ArrayLike,
    east_arcmin: ArrayLike,
    observer: Observer,
    pole: Pole = "refracted",
) -> tuple[Floats, Floats, Floats]:
    """Declination (degrees) about the mount's axis, and the rates of hour angle and declination.

    `moving` (..., 3): how fast the `seen` directions move; the rates come in its unit.
    """
    sense = 1.0 if observer.north else -1.0
    a = pole_altitude_deg(observer, pole)
    high = np.asarray(high_arcmin, dtype=np.float64) * _ARCMIN
    east = np.asarray(east_arcmin, dtype=np.float64) * _ARCMIN
    up, e, p = _carried(_in_pole_frame(np.asarray(seen), a, sense), high, east)
    up_rate, e_rate, p_rate = _carried(_in_pole_frame(np.asarray(moving), a, sense), high, east)
    flat2 = up * up + e * e
    hour = (e * up_rate - up * e_rate) / flat2
    return (
        sense * np.arctan2(p, np.sqrt(flat2)) / _DEG,
        hour,
        sense * p_rate / np.sqrt(flat2),
    )
