"""Which way does the tube take over the sky from one pose to another?

Both axes turn at once and evenly. On one tube side they turn by the difference of hour angle and
declination; a change of side turns the hour axis through half a turn, weights kept low, plus or
minus that difference, and the declination axis through the elevated pole.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import azimuth_altitude, wrap_h


@dataclass(frozen=True)
class TubePose:
    """Where the tube looks, hour angle (h) and declination (degrees), and on which side it
    hangs: -1 east, 1 west."""

    hour_angle_h: float
    declination_deg: float
    side: int


def tube_way(start: TubePose, end: TubePose, latitude_deg: float, points: int = 24) -> Floats:
    """Azimuth (0-360) and altitude (no refraction) along the way, degrees, (points, 2)."""
    sense = 1.0 if latitude_deg >= 0.0 else -1.0
    share = np.linspace(0.0, 1.0, points)
    flip = (end.side - start.side) / 2
    turn_h = wrap_h(end.hour_angle_h - start.hour_angle_h) + 12.0 * flip
    # The tube's end of the declination axis; from there the tube is swung away from the pole,
    # one way on side east, the other on side west.
    axis_h = start.hour_angle_h + 6.0 * start.side + share * turn_h
    swing = np.array([-p.side * (90.0 - sense * p.declination_deg) for p in (start, end)])
    swung = swing[0] + share * (swing[1] - swing[0])
    east = swung >= 0.0
    hour = np.where(east, axis_h + 6.0, axis_h - 6.0)
    azimuth, altitude = azimuth_altitude(hour, sense * (90.0 - np.abs(swung)), latitude_deg)
    return np.stack([azimuth, altitude], axis=1)
