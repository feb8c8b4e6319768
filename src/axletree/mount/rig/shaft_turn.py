"""At which hour angle of an object has the hour shaft turned so far, on the axes as they stand?

Stops and the level of the weights belong to the shaft. On axes that are off it stands a little
before or behind the object's own hour angle, by tan(declination) of the error and more.
"""

from __future__ import annotations

import numpy as np

from axletree.mount.rig.kinematics import Axes, axis_angles
from axletree.sky.arrays import Floats
from axletree.sky.directions import polar_axis, wrap_h

_ROUNDS = 12  # each leaves at most a quarter, axes off by two degrees, up to declination 80


def are_right(axes: Axes) -> bool:
    """Whether the shaft turns with the object's own hour angle."""
    square = axes.cone_arcmin == axes.lean_arcmin == 0.0
    return square and bool(np.array_equal(axes.pole, polar_axis(axes.latitude_deg)))


def turned_h(axes: Axes, side: int, hour_angle_h: Floats, declination_deg: Floats) -> Floats:
    """Hour angle (-12, 12] of the tube's end of the declination axis on that side."""
    if are_right(axes):
        return wrap_h(hour_angle_h - 6.0 * side)
    return axis_angles(axes, side, hour_angle_h, declination_deg)[0]


def hours_at(axes: Axes, side: int, tube_end_h: float, declination_deg: Floats) -> Floats:
    """The object's hour angle (n,) at which the tube's end stands there, for each declination."""
    hours = np.full(np.shape(declination_deg), tube_end_h + 6.0 * side)
    if are_right(axes):
        return hours
    for _ in range(_ROUNDS):
        hours = hours - wrap_h(axis_angles(axes, side, hours, declination_deg)[0] - tube_end_h)
    return hours
