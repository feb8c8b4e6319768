"""Can objects be looked at on one tube side, at this moment and no longer?

The same ends as those of a room (`table.room`), without when they come: for many objects at once.
"""

from __future__ import annotations

import numpy as np

from axletree.mount.clearance.nearest import least_distance
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.rig.shaft_turn import turned_h
from axletree.mount.room.table import RoomTable
from axletree.sky.arrays import Floats, Mask


def usable_now(table: RoomTable, side: int, hour_angle_h: Floats, declination_deg: Floats) -> Mask:
    """Whether the rig may point there: nothing touches, no stop, above skyline and lowest altitude.

    Arrays of one shape; `side` +1 east, -1 west.
    """
    angles = axis_angles(table.axes, side, hour_angle_h, declination_deg)
    apart = least_distance(table.bodies, *angles)[0]
    turned = np.abs(turned_h(table.axes, side, hour_angle_h, declination_deg))
    return np.asarray(
        (apart >= table.margin_m)
        & (turned <= 6.0 + table.weights_up_h)
        & (turned >= 6.0 - table.weights_down_h)
        & (table.open_sky.above_deg(hour_angle_h, declination_deg) >= 0.0)
    )
