"""How do the angles of the sky turn into directions on the ground, and back?

Local frame: x east, y north, z up; vectors have shape (..., 3). Azimuth from true north
through east; hour angle positive west, in hours; latitude negative in the south. Everything
broadcasts; a number is the same code as an array.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats

_DEG = np.pi / 180.0
_HOUR = np.pi / 12.0


def wrap_360(angle_deg: ArrayLike) -> Floats:
    """The same angle within [0, 360) degrees."""
    wrapped = np.mod(np.asarray(angle_deg, dtype=np.float64), 360.0)
    return np.asarray(np.where(wrapped >= 360.0, 0.0, wrapped))


def wrap_180(angle_deg: ArrayLike) -> Floats:
    """The same angle within (-180, 180] degrees."""
    return 180.0 - wrap_360(180.0 - np.asarray(angle_deg, dtype=np.float64))


def wrap_h(hours: ArrayLike) -> Floats:
    """The same hour angle within (-12, 12] hours."""
    return wrap_180(np.asarray(hours, dtype=np.float64) * 15.0) / 15.0


def wrap_24h(hours: ArrayLike) -> Floats:
    """The same right ascension or sidereal time within [0, 24) hours."""
    wrapped = np.mod(np.asarray(hours, dtype=np.float64), 24.0)
    return np.asarray(np.where(wrapped >= 24.0, 0.0, wrapped))


def vector_from_angles(longitude_deg: ArrayLike, latitude_deg: ArrayLike) -> Floats:
    """Unit vectors (..., 3) of any spherical pair, such as right ascension and declination."""
    lon = np.asarray(longitude_deg, dtype=np.float64) * _DEG
    lat = np.asarray(latitude_deg, dtype=np.float64) * _DEG
    cos_lat = np.cos(lat)
    return _joined(cos_lat * np.cos(lon), cos_lat * np.sin(lon), np.sin(lat))


def angles_from_vector(vector: ArrayLike) -> tuple[Floats, Floats]:
    """Longitude 0-360 and latitude in degrees of vectors (..., 3) of any length."""
    v = np.asarray(vector, dtype=np.float64)
    x, y, z = v[..., 0], v[..., 1], v[..., 2]
    return wrap_360(np.arctan2(y, x) / _DEG), np.arctan2(z, np.sqrt(x * x + y * y)) / _DEG


def vector_from_azimuth_altitude(azimuth_deg: ArrayLike, altitude_deg: ArrayLike) -> Floats:
    """Local unit vectors (..., 3), x east, y north, z up."""
    return vector_from_angles(90.0 - np.asarray(azimuth_deg, dtype=np.float64), altitude_deg)


def azimuth_altitude_from_vector(vector: ArrayLike) -> tuple[Floats, Floats]:
    """Azimuth 0-360 and altitude in degrees of local vectors (..., 3) of any length."""
    lon, lat = angles_from_vector(vector)
    return wrap_360(90.0 - lon), lat


def vector_from_hour_angle(
    hour_angle_h: ArrayLike, declination_deg: ArrayLike, latitude_deg: ArrayLike
) -> Floats:
    """Local unit vectors (..., 3) of an hour angle and a declination, both hemispheres."""
    H = np.asarray(hour_angle_h, dtype=np.float64) * _HOUR
    d = np.asarray(declination_deg, dtype=np.float64) * _DEG
    phi = np.asarray(latitude_deg, dtype=np.float64) * _DEG
    cos_d, sin_d, cos_phi, sin_phi = np.cos(d), np.sin(d), np.cos(phi), np.sin(phi)
    cos_H = np.cos(H)
    east = -cos_d * np.sin(H)
    north = cos_phi * sin_d - sin_phi * cos_d * cos_H
    up = sin_phi * sin_d + cos_phi * cos_d * cos_H
    return _joined(east, north, up)


def _joined(x: Floats, y: Floats, z: Floats) -> Floats:
    """Vectors (..., 3) of three components that broadcast."""
    vector = np.empty((*np.broadcast_shapes(x.shape, y.shape, z.shape), 3))
    vector[..., 0], vector[..., 1], vector[..., 2] = x, y, z
    return vector


def cross(a: ArrayLike, b: ArrayLike) -> Floats:
    """The vector product (..., 3), broadcast.

    What `numpy.cross` gives, to the last digit: that one looks at the axes for four fifths of the
    time where vectors are few.
    """
    u, v = np.asarray(a, dtype=np.float64), np.asarray(b, dtype=np.float64)
    ux, uy, uz = u[..., 0], u[..., 1], u[..., 2]
    vx, vy, vz = v[..., 0], v[..., 1], v[..., 2]
    return _joined(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx)


def hour_angle_from_vector(vector: ArrayLike, latitude_deg: ArrayLike) -> tuple[Floats, Floats]:
    """Hour angle in (-12, 12] hours and declination in degrees of local vectors (..., 3)."""
    v = np.asarray(vector, dtype=np.float64)
    phi = np.asarray(latitude_deg, dtype=np.float64) * _DEG
    east, north, up = v[..., 0], v[..., 1], v[..., 2]
    to_meridian = np.cos(phi) * up - np.sin(phi) * north
    to_pole = np.sin(phi) * up + np.cos(phi) * north
    H = np.arctan2(-east, to_meridian) / _HOUR
    d = np.arctan2(to_pole, np.sqrt(east * east + to_meridian * to_meridian)) / _DEG
    return wrap_h(H), d


def azimuth_altitude(
    hour_angle_h: ArrayLike, declination_deg: ArrayLike, latitude_deg: ArrayLike
) -> tuple[Floats, Floats]:
    """Azimuth 0-360 and altitude (no refraction) in degrees.

    Source: J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 13, here from vectors.
    """
    return azimuth_altitude_from_vector(
        vector_from_hour_angle(hour_angle_h, declination_deg, latitude_deg)
    )


def hour_angle_declination(
    azimuth_deg: ArrayLike, altitude_deg: ArrayLike, latitude_deg: ArrayLike
) -> tuple[Floats, Floats]:
    """Hour angle in (-12, 12] hours and declination in degrees; inverse of `azimuth_altitude`."""
    return hour_angle_from_vector(
        vector_from_azimuth_altitude(azimuth_deg, altitude_deg), latitude_deg
    )


def parallactic_angle_deg(
    hour_angle_h: ArrayLike, declination_deg: ArrayLike, latitude_deg: ArrayLike
) -> Floats:
    """Angle at the object from celestial north to the zenith, through east; positive in the west.

    (-180, 180] degrees. Source: Meeus 1998, ch. 14.
    """
    H = np.asarray(hour_angle_h, dtype=np.float64) * _HOUR
    d = np.asarray(declination_deg, dtype=np.float64) * _DEG
    phi = np.asarray(latitude_deg, dtype=np.float64) * _DEG
    return np.asarray(
        np.arctan2(
            np.cos(phi) * np.sin(H),
            np.sin(phi) * np.cos(d) - np.cos(phi) * np.sin(d) * np.cos(H),
        )
        / _DEG
    )


def separation_deg(
    longitude1_deg: ArrayLike,
    latitude1_deg: ArrayLike,
    longitude2_deg: ArrayLike,
    latitude2_deg: ArrayLike,
) -> Floats:
    """Great-circle angle between two directions, 0-180 degrees, exact at both ends."""
    return angle_between_deg(
        vector_from_angles(longitude1_deg, latitude1_deg),
        vector_from_angles(longitude2_deg, latitude2_deg),
    )


def angle_between_deg(a: ArrayLike, b: ArrayLike) -> Floats:
    """Angle between vectors (..., 3) of any length, 0-180 degrees."""
    u, v = np.asarray(a, dtype=np.float64), np.asarray(b, dtype=np.float64)
    across = np.linalg.norm(cross(u, v), axis=-1)
    return np.asarray(np.arctan2(across, np.sum(u * v, axis=-1)) / _DEG)


def position_angle_deg(
    longitude1_deg: ArrayLike,
    latitude1_deg: ArrayLike,
    longitude2_deg: ArrayLike,
    latitude2_deg: ArrayLike,
) -> Floats:
    """Direction of the second point seen from the first, from north through east, 0-360."""
    dl = (np.asarray(longitude2_deg, dtype=np.float64) - np.asarray(longitude1_deg)) * _DEG
    b1 = np.asarray(latitude1_deg, dtype=np.float64) * _DEG
    b2 = np.asarray(latitude2_deg, dtype=np.float64) * _DEG
    y = np.sin(dl) * np.cos(b2)
    x = np.sin(b2) * np.cos(b1) - np.cos(b2) * np.sin(b1) * np.cos(dl)
    return wrap_360(np.arctan2(y, x) / _DEG)


def tangent_plane(
    longitude_deg: ArrayLike,
    latitude_deg: ArrayLike,
    longitude0_deg: ArrayLike,
    latitude0_deg: ArrayLike,
) -> tuple[Floats, Floats]:
    """Gnomonic standard coordinates about a centre: xi to the east, eta to the north, degrees.

    One degree here is the plane's own, tan(1 rad)-free: plane units times 180/pi, as in FITS.
    Points 90 degrees or more from the centre have no image: nan. Source: M. R. Calabretta and
    E. W. Greisen 2002, A&A 395, 1077, section 5.1.3 (TAN).
    """
    dl = (np.asarray(longitude_deg, dtype=np.float64) - np.asarray(longitude0_deg)) * _DEG
    b = np.asarray(latitude_deg, dtype=np.float64) * _DEG
    b0 = np.asarray(latitude0_deg, dtype=np.float64) * _DEG
    toward = np.sin(b) * np.sin(b0) + np.cos(b) * np.cos(b0) * np.cos(dl)
    toward = np.where(toward > 0.0, toward, np.nan)
    xi = np.cos(b) * np.sin(dl) / toward
    eta = (np.sin(b) * np.cos(b0) - np.cos(b) * np.sin(b0) * np.cos(dl)) / toward
    return np.asarray(xi / _DEG), np.asarray(eta / _DEG)


def rotate_about(vector: ArrayLike, axis: ArrayLike, angle_deg: ArrayLike) -> Floats:
    """Vectors (..., 3) turned about `axis` (..., 3) by the right-hand rule.

    Source: O. Rodrigues 1840; `axis` need not be of unit length.
    """
    v = np.asarray(vector, dtype=np.float64)
    k = np.asarray(axis, dtype=np.float64)
    k = k / np.linalg.norm(k, axis=-1, keepdims=True)
    angle = np.asarray(angle_deg, dtype=np.float64)[..., np.newaxis] * _DEG
    along = np.sum(k * v, axis=-1, keepdims=True)
    return np.asarray(
        v * np.cos(angle) + cross(k, v) * np.sin(angle) + k * along * (1.0 - np.cos(angle))
    )


def polar_axis(
    latitude_deg: ArrayLike,
    high_arcmin: ArrayLike = 0.0,
    east_arcmin: ArrayLike = 0.0,
    pole_altitude_deg: Any = None,
) -> Floats:
    """Local unit vectors (..., 3) of a polar axis that points to the elevated pole.

    `high` and `east` are the axis error: great-circle arcminutes above and east of the pole.
    The pole stands at altitude |latitude|, or at `pole_altitude_deg` (the refracted pole),
    due north for latitudes of 0 and more, due south below.
    """
    phi = np.asarray(latitude_deg, dtype=np.float64)
    sense = np.where(phi >= 0.0, 1.0, -1.0)
    a = np.abs(phi) if pole_altitude_deg is None else np.asarray(pole_altitude_deg)
    a = a * _DEG
    high = np.asarray(high_arcmin, dtype=np.float64) / 60.0 * _DEG
    east = np.asarray(east_arcmin, dtype=np.float64) / 60.0 * _DEG
    total = np.sqrt(high * high + east * east)
    part = np.sinc(total / np.pi)  # sin(total) / total, 1 at zero
    x = part * east
    y = sense * (np.cos(total) * np.cos(a) - part * high * np.sin(a))
    z = np.cos(total) * np.sin(a) + part * high * np.cos(a)
    return np.stack(np.broadcast_arrays(x, y, z), axis=-1)


def axis_error_arcmin(
    axis: ArrayLike, latitude_deg: ArrayLike, pole_altitude_deg: Any = None
) -> tuple[Floats, Floats]:
    """`high` and `east` in arcminutes of a polar axis (..., 3); inverse of `polar_axis`."""
    v = np.asarray(axis, dtype=np.float64)
    phi = np.asarray(latitude_deg, dtype=np.float64)
    sense = np.where(phi >= 0.0, 1.0, -1.0)
    a = np.abs(phi) if pole_altitude_deg is None else np.asarray(pole_altitude_deg)
    a = a * _DEG
    east = v[..., 0]
    high = -sense * np.sin(a) * v[..., 1] + np.cos(a) * v[..., 2]
    toward = sense * np.cos(a) * v[..., 1] + np.sin(a) * v[..., 2]
    across = np.sqrt(high * high + east * east)
    total = np.arctan2(across, toward)
    scale = np.where(across > 0.0, total / np.where(across > 0.0, across, 1.0), 1.0)
    return np.asarray(high * scale / _DEG * 60.0), np.asarray(east * scale / _DEG * 60.0)
