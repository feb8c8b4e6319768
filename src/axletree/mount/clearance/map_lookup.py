"""How near does anything come at an object's declination, all round the hour circle?

The map of clearances is drawn on the mount's own circles. Where the axis stands on the true pole
they are the sky's; near the equator the air alone lifts the pole by half a degree, and the map
has to be read where the object stands on the circles.
"""

from __future__ import annotations

import numpy as np

from axletree.mount.clearance.map import ClearanceMap
from axletree.mount.rig.kinematics import SIDES, Axes, axis_angles
from axletree.sky.arrays import Floats, Indices, Singles
from axletree.sky.directions import polar_axis, wrap_h

# An axis nearer to the true pole than this needs no second thought: half a millimetre.
ASKEW_ARCMIN = 1.5
_ROWS = 64


def looked_up(held: ClearanceMap, axes: Axes, side_index: int, declination_deg: Floats) -> Singles:
    """Singles (n, hours) in metres for declinations (n,) of the sky at the map's hour angles.

    `side_index` counts as `SIDES` does.
    """
    if askew_arcmin(axes) > ASKEW_ARCMIN:
        return _on_the_circles(held, axes, side_index, declination_deg)
    j, part = _between(held.declinations, declination_deg)
    rows, part = held.distance_m[side_index].T, part[:, None]
    return np.asarray(rows[j] * (1.0 - part) + rows[j + 1] * part)


def askew_arcmin(axes: Axes) -> float:
    """How far a direction on the mount's own circles can lie from the same one in the sky."""
    off = np.linalg.norm(axes.pole - polar_axis(axes.latitude_deg))
    return float(np.degrees(off)) * 60.0 + abs(axes.cone_arcmin) + abs(axes.lean_arcmin)


def _between(grid: Floats, values: Floats) -> tuple[Indices, Singles]:
    """Number of the grid value before each value, and how far on towards the next it lies."""
    place = np.clip((values - grid[0]) / (grid[1] - grid[0]), 0.0, len(grid) - 1.0)
    before = np.minimum(place.astype(np.intp), len(grid) - 2)
    return before, (place - before).astype(np.float32)


def _on_the_circles(
    held: ClearanceMap, axes: Axes, side_index: int, declination_deg: Floats
) -> Singles:
    hours, side, distance = held.hours, SIDES[side_index], held.distance_m[side_index]
    out = np.empty((len(declination_deg), len(hours)), dtype=np.float32)
    for begin in range(0, len(declination_deg), _ROWS):
        rows = slice(begin, begin + _ROWS)
        end, swing = axis_angles(axes, side, hours, declination_deg[rows, None])
        j, v = _between(held.declinations, axes.sense * (90.0 - np.abs(swing)))
        turned = (wrap_h(end + 6.0 * side) - hours[0]) / (hours[1] - hours[0])
        k = np.floor(turned).astype(np.intp)
        u = (turned - k).astype(np.float32)
        k, after = k % len(hours), (k + 1) % len(hours)
        low = (1 - u) * distance[k, j] + u * distance[after, j]
        high = (1 - u) * distance[k, j + 1] + u * distance[after, j + 1]
        out[rows] = (1 - v) * low + v * high
    return out
