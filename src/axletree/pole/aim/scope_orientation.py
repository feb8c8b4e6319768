"""Which way up is the sky in a polar scope: erect, turned, mirrored, and where is twelve o'clock?

A picture has its middle where the axis should point, x to the right and y upwards as the eye
sees it, and a clock face around it.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.pole.aim.target import PoleTarget
from axletree.sky.arrays import Floats
from axletree.sky.directions import tangent_plane, wrap_360
from axletree.sky.time.instants import SIDEREAL_DAYS_PER_DAY

Look = Literal["erect", "inverted", "mirrored"]


def in_picture(
    right: ArrayLike, up: ArrayLike, look: Look = "erect", rotation_deg: ArrayLike = 0.0
) -> tuple[Floats, Floats]:
    """Where a point right of and above the middle, as the naked eye sees it, appears in the scope.

    Any shapes, any unit. 'inverted' is half a turn, 'mirrored' swaps left and right; then the
    picture is turned clockwise by `rotation_deg`.
    """
    x, y = np.asarray(right, dtype=np.float64), np.asarray(up, dtype=np.float64)
    if look == "inverted":
        x, y = -x, -y
    elif look == "mirrored":
        x = -x
    a = np.radians(np.asarray(rotation_deg, dtype=np.float64))
    return np.asarray(x * np.cos(a) + y * np.sin(a)), np.asarray(y * np.cos(a) - x * np.sin(a))


def clock_hour(right: ArrayLike, up: ArrayLike) -> Floats:
    """Direction from the middle as an hour on a clock face, within (0, 12]; 12 is the top."""
    hour = wrap_360(np.degrees(np.arctan2(right, up))) / 30.0
    return np.asarray(np.where(hour <= 0.0, 12.0, hour))


def plane_arcmin(
    azimuth_deg: ArrayLike, altitude_deg: ArrayLike, target: PoleTarget
) -> tuple[Floats, Floats]:
    """Right of and above the target as the naked eye sees it, gnomonic plane, arcminutes.

    Facing north, right is east; facing south, right is west. nan beyond 90 degrees.
    """
    xi, eta = tangent_plane(azimuth_deg, altitude_deg, target.azimuth_deg, target.altitude_deg)
    return xi * 60.0, eta * 60.0


def turn_deg_per_h(north: bool, look: Look) -> float:
    """How fast the picture turns, degrees an hour, clockwise positive.

    To the naked eye the sky turns anticlockwise around the north pole, clockwise around the
    south pole; a mirror reverses it, half a turn doesn't.
    """
    rate = 15.0 * SIDEREAL_DAYS_PER_DAY
    clockwise = (not north) != (look == "mirrored")
    return rate if clockwise else -rate
