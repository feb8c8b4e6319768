"""Where in the field of the tube lies the point that stands still while the hour axis swings?

The hour axis carries the tube about itself, so the sky turns, in the tube's field, about the place
where the axis lies there. Nothing else stays where it is.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from axletree.mount.rig.kinematics import Axes, frames
from axletree.sky.arrays import Floats

_ARCMIN_PER_RAD = 180.0 * 60.0 / np.pi


def still_point_arcmin(
    axes: Axes, tube_end_h: ArrayLike, swing_deg: ArrayLike
) -> tuple[Floats, Floats]:
    """Where the polar axis lies in the tube's field, arcminutes off its middle; broadcasts.

    On the plane that touches the sky there: `across` towards the tube's end of the declination
    axis, `along` the way that a growing swing moves the tube. From the rotation of the shafts
    alone: `tube_end_h` changes neither; the swing changes `along` and, as good as, nothing else.
    With the tube as near to the axis as it gets, swing 0, what is left is `lean - cone` across.
    nan where the tube looks 90 degrees and more from the axis.
    """
    _, tube = frames(axes, tube_end_h, swing_deg)
    x, y, z = np.moveaxis(np.einsum("...ji,j->...i", tube, axes.pole), -1, 0)
    before = np.where(z > 0.0, z, np.nan)
    return np.asarray(_ARCMIN_PER_RAD * x / before), np.asarray(_ARCMIN_PER_RAD * y / before)
