"""How does the picture in a tracking tube move when the axis is off the pole?

Exact: while the sky turns about the pole, the mount turns about its own axis, and the picture
that stays in the tube is the sky turned by the one and turned back by the other. In the frame of
the tube at the start, a star `s` is at `R_a(+wt) R_p(-wt) s` after the time t.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats
from axletree.sky.directions import (
    angle_between_deg,
    rotate_about,
    vector_from_angles,
    wrap_180,
)
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

_POLE = np.array([0.0, 0.0, 1.0])
_DEG = np.pi / 180.0
_HOUR_ANGLES = np.arange(48) * 7.5
_AROUND = np.arange(8) * 45.0
_PARTS_OF_TIME = np.array([0.25, 0.5, 0.75, 1.0])


def _axis(error_arcmin: ArrayLike) -> Floats:
    """Axis this far from the pole, leaning to longitude 0 of a frame with the pole at the top."""
    return vector_from_angles(0.0, 90.0 - np.asarray(error_arcmin, dtype=np.float64) / 60.0)


def _turn_deg(seconds: ArrayLike) -> Floats:
    return np.asarray(np.asarray(seconds, dtype=np.float64) * SIDEREAL_RATE_ARCSEC_PER_S / 3600.0)


def in_tube(star: ArrayLike, error_arcmin: ArrayLike, seconds: ArrayLike) -> Floats:
    """Directions (..., 3) of stars after tracking this long, in the tube's frame at the start.

    The frame has the pole at +z and the axis tipped towards longitude 0; longitudes there run
    east, as right ascension does. At no error nothing moves.
    """
    turned_sky = rotate_about(star, _POLE, -_turn_deg(seconds))
    return rotate_about(turned_sky, _axis(error_arcmin), _turn_deg(seconds))


def declination_drift_arcsec(
    error_arcmin: ArrayLike,
    from_error_deg: ArrayLike,
    declination_deg: ArrayLike,
    minutes: ArrayLike,
    rate_deg_per_min: float = SIDEREAL_RATE_ARCSEC_PER_S / 60.0,
) -> Floats:
    """How far a star drifts away from the axis, in declination, while tracked; exact, broadcasts.

    `from_error_deg` is the star's angle about the pole from the meridian that the axis leans to,
    at the start. Source: M. A. Covington, Astrophotography for the Amateur, 2nd ed. 1999, app. B:
    the change of arccos(sin d cos e + cos d sin e cos h), here by vectors.
    """
    h = np.asarray(from_error_deg, dtype=np.float64)
    later = h + np.asarray(minutes, dtype=np.float64) * rate_deg_per_min
    axis = _axis(error_arcmin)
    before = angle_between_deg(vector_from_angles(h, declination_deg), axis)
    after = angle_between_deg(vector_from_angles(later, declination_deg), axis)
    return np.asarray((after - before) * 3600.0)


def field_rotation_deg(
    error_arcmin: ArrayLike,
    from_error_deg: ArrayLike,
    declination_deg: ArrayLike,
    minutes: ArrayLike,
) -> Floats:
    """How far the picture turns around a guide star, degrees; exact, broadcasts.

    It is the change of the angle at the star between the pole and the axis. To first order at
    most error x turn / cos(declination), by which R. N. Hook (1989, JBAA 99) reckons the trail.
    """
    d = np.asarray(declination_deg, dtype=np.float64)
    h0 = np.asarray(from_error_deg, dtype=np.float64)
    h1 = h0 + _turn_deg(np.asarray(minutes, dtype=np.float64) * 60.0)
    return wrap_180(_lean_deg(error_arcmin, h1, d) - _lean_deg(error_arcmin, h0, d))


def _lean_deg(error_arcmin: ArrayLike, h_deg: Floats, d_deg: Floats) -> Floats:
    """Angle at the star from the pole to the axis, positive eastwards."""
    e, h, d = np.asarray(error_arcmin, dtype=np.float64) / 60.0 * _DEG, h_deg * _DEG, d_deg * _DEG
    sideways = -np.sin(e) * np.sin(h)
    upwards = np.cos(e) * np.cos(d) - np.sin(e) * np.sin(d) * np.cos(h)
    return np.asarray(np.arctan2(sideways, upwards) / _DEG)


def worst_movement_arcsec(
    error_arcmin: float, declination_deg: float, seconds: float, radius_deg: float = 0.0
) -> float:
    """Farthest that a picture's middle (or points `radius_deg` from it) moves in the tube.

    Over all directions of the error and the whole time.
    """
    h = _HOUR_ANGLES[:, np.newaxis, np.newaxis]
    t = (_PARTS_OF_TIME * seconds)[np.newaxis, np.newaxis, :]
    middle = vector_from_angles(h, declination_deg)
    star = middle
    if radius_deg > 0.0:
        star = _around(middle, _AROUND[np.newaxis, :, np.newaxis], radius_deg)
    moved = in_tube(star, error_arcmin, t)
    return float(np.max(angle_between_deg(moved, np.broadcast_to(star, moved.shape)))) * 3600.0


def worst_turn_arcsec(
    error_arcmin: float, declination_deg: float, seconds: float, radius_deg: float
) -> float:
    """Farthest that points `radius_deg` from the middle move against the middle, without a guider.

    Smaller than with a guider near the poles: it is the guider's own corrections in right
    ascension that turn a picture there by 1 / cos(declination).
    """
    h = _HOUR_ANGLES[:, np.newaxis, np.newaxis]
    t = (_PARTS_OF_TIME * seconds)[np.newaxis, np.newaxis, :]
    middle = vector_from_angles(h, declination_deg)
    star = _around(middle, _AROUND[np.newaxis, :, np.newaxis], radius_deg)
    against = (in_tube(star, error_arcmin, t) - star) - (in_tube(middle, error_arcmin, t) - middle)
    return float(np.max(np.linalg.norm(against, axis=-1)) / _DEG * 3600.0)


def _around(middle: Floats, direction_deg: ArrayLike, radius_deg: float) -> Floats:
    """Points at a distance from `middle` (..., 3) in every direction."""
    side = np.cross(_POLE, middle)
    side = side / np.linalg.norm(side, axis=-1, keepdims=True)
    out = rotate_about(middle, side, radius_deg)
    return rotate_about(out, middle, direction_deg)


def worst_declination_drift_arcsec(
    error_arcmin: float, declination_deg: float, seconds: float
) -> float:
    """Largest drift in declination over all directions of the error, within the whole time."""
    drift = declination_drift_arcsec(
        error_arcmin,
        _HOUR_ANGLES[:, np.newaxis],
        declination_deg,
        _PARTS_OF_TIME * seconds / 60.0,
    )
    return float(np.max(np.abs(drift)))


def worst_rotation_deg(error_arcmin: float, declination_deg: float, seconds: float) -> float:
    """Largest turn of the picture over all directions of the error."""
    turned = field_rotation_deg(
        error_arcmin, _HOUR_ANGLES[:, np.newaxis], declination_deg, _PARTS_OF_TIME * seconds / 60.0
    )
    return float(np.max(np.abs(turned)))
