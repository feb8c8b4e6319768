"""At which hour of a clock face does a direction on the sky lie, as the eye sees the field?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_360


def seen_angle_deg(position_angle_deg: ArrayLike, north_deg: ArrayLike, mirrored: bool) -> Floats:
    """Angle in the view, 0-360 clockwise from the top, of a position angle on the sky.

    `position_angle_deg` from north through east; `north_deg`: where north lies in the view,
    clockwise from the top for a head held upright. On the sky east lies counter-clockwise from
    north; a mirror turns that round.
    """
    sense = 1.0 if mirrored else -1.0
    return wrap_360(np.asarray(north_deg) + sense * np.asarray(position_angle_deg))


def clock_h(position_angle_deg: ArrayLike, north_deg: ArrayLike, mirrored: bool) -> Floats:
    """The same on a clock face, above 0 to 12 hours: 12 is up, 3 right."""
    hours = seen_angle_deg(position_angle_deg, north_deg, mirrored) / 30.0
    return np.asarray(np.where(hours == 0.0, 12.0, hours))
