"""What does a tilt that remains spoil, and what not?

The head stands on the tilted top: its upright axis is the top's normal, its altitude hinge lies
in the top. Tracking knows only where the polar axis points, so once that is on the pole a tilt
does nothing to it. What it does is shift the latitude scale and mix the two bolts.
"""

from __future__ import annotations

import numpy as np

from axletree.ground.level.legs import Tilt
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import (
    azimuth_altitude_from_vector,
    polar_axis,
    rotate_about,
    wrap_180,
    wrap_360,
)

_DEG = np.pi / 180.0


@dataclass(frozen=True)
class Leftover:
    """Effects of a tilted base on the way to the pole.

    `scale_shift_deg`: what the latitude scale reads above its level value when the axis points
    to the pole (add it to the setting). `base_turn_deg`: how far the head is turned from due
    north or south then, positive eastward. `bolts` (2, 2): rows are the altitude and the
    azimuth bolt, columns how far one degree of each moves the axis `high` and `east`, in
    arcminutes of the sky; `level_bolts` the same on a level base. `remains_per_pass`: what
    share of an error is left after setting first the one, then the other, once. `tracking` is
    the error that the tilt brings into tracking after alignment: none.
    """

    scale_shift_deg: float
    base_turn_deg: float
    bolts: Floats
    level_bolts: Floats
    remains_per_pass: float
    tracking_arcsec: float = 0.0


def leftover(tilt: Tilt, latitude_deg: float, pole_altitude_deg: float | None = None) -> Leftover:
    """Work out the effects by exact rotation. `pole_altitude_deg`: the refracted pole's, else
    |latitude|."""
    pole = polar_axis(latitude_deg, pole_altitude_deg=pole_altitude_deg)
    altitude = abs(latitude_deg) if pole_altitude_deg is None else pole_altitude_deg
    facing = 0.0 if latitude_deg >= 0.0 else 180.0
    turn_axis = _turn_axis(tilt, facing)
    in_base = rotate_about(pole, turn_axis, -tilt.tilt_deg)
    azimuth, scale = azimuth_altitude_from_vector(in_base)
    return Leftover(
        scale_shift_deg=float(scale - altitude),
        base_turn_deg=_eastward(float(wrap_180(azimuth - facing)), facing, altitude),
        bolts=_bolts(pole, float(azimuth), turn_axis, tilt.tilt_deg),
        level_bolts=_bolts(pole, facing, turn_axis, 0.0),
        remains_per_pass=_remains(_bolts(pole, float(azimuth), turn_axis, tilt.tilt_deg)),
    )


def _eastward(turn_deg: float, facing_deg: float, altitude_deg: float) -> float:
    """A turn of azimuth as a turn to the east; facing south, azimuth grows to the west."""
    if abs(altitude_deg) > 89.999:
        return 0.0
    return turn_deg if facing_deg == 0.0 else -turn_deg


def _turn_axis(tilt: Tilt, facing_deg: float) -> Floats:
    """Level axis about which the top has been turned so that its high side rises."""
    high = float(wrap_360(facing_deg + tilt.high_side_deg)) * _DEG
    up_hill = np.array([np.sin(high), np.cos(high), 0.0])
    return np.asarray(np.cross(up_hill, [0.0, 0.0, 1.0]))


def _bolts(pole: Floats, head_azimuth_deg: float, turn_axis: Floats, tilt_deg: float) -> Floats:
    """Arcminutes `high` and `east` for one degree of each bolt, at the pole itself."""
    azimuth = head_azimuth_deg * _DEG
    hinge = np.array([np.cos(azimuth), -np.sin(azimuth), 0.0])  # to the right of the head
    upright = np.array([0.0, 0.0, 1.0])
    hinge = rotate_about(hinge, turn_axis, tilt_deg)
    upright = rotate_about(upright, turn_axis, tilt_deg)
    raised = np.cross(hinge, pole)
    turned_east = -np.cross(upright, pole)  # azimuth runs clockwise seen from above
    if pole[1] < 0.0:
        turned_east = -turned_east  # facing south, east is to the left
    east = np.array([1.0, 0.0, 0.0])
    level = np.hypot(pole[0], pole[1])
    toward = np.array([0.0, np.sign(pole[1]) or 1.0, 0.0])
    high = np.array([0.0, 0.0, 1.0]) * level - toward * pole[2]
    rows = [[float(v @ high), float(v @ east)] for v in (raised, turned_east)]
    return np.array(rows) * 60.0


def _remains(bolts: Floats) -> float:
    """Share of an error left after zeroing `high` with one bolt, then `east` with the other."""
    own = bolts[0, 0] * bolts[1, 1]
    return float(abs(bolts[0, 1] * bolts[1, 0] / own)) if abs(own) > 1e-12 else float("inf")
