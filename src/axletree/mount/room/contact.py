"""Where on the way round the pole does anything come nearer than the margin, and where is a stop?

Clearances are sampled at every half degree, from the map of all poses or, for few objects, pose by
pose; each passage is closed in on with exact distances. Within half a degree no part of a rig
moves as far as the usual margin of 20 mm, so that nothing is missed.
"""

from __future__ import annotations

import numpy as np

from axletree.mount.clearance.map import ClearanceMap
from axletree.mount.clearance.map_levels import angles
from axletree.mount.clearance.map_lookup import looked_up
from axletree.mount.clearance.nearest import Bodies, least_distance
from axletree.mount.rig.kinematics import SIDES, Axes, axis_angles
from axletree.mount.room.arcs import Arcs, between, closed_in, find_arcs
from axletree.sky.arrays import Floats, Indices

# Where the whole circle is looked at: at the map's own half degrees.
HOURS: Floats = angles(1)[0] / 15.0


def contact_arcs(
    bodies: Bodies, axes: Axes, margin_m: float, declination_deg: Floats, held: ClearanceMap | None
) -> Arcs:
    """Where anything comes nearer than the margin: a row a declination, side east, then west.

    Without a map every pose is looked at: quicker than to make one for four declinations or fewer.
    """
    if held is None:
        d = declination_deg[:, None]
        apart = [least_distance(bodies, *axis_angles(axes, side, HOURS, d))[0] for side in SIDES]
        sampled = np.asarray(np.concatenate(apart) - margin_m, dtype=np.float64)
    else:
        read = [looked_up(held, axes, i, declination_deg) for i in range(len(SIDES))]
        sampled = np.asarray(np.concatenate(read) - np.float32(margin_m), dtype=np.float64)
    both_d = np.tile(declination_deg, 2)
    both_side = np.repeat(np.array(SIDES), len(declination_deg))

    def value(rows: Indices, hours: Floats) -> Floats:
        turned = axis_angles(axes, both_side[rows], hours, both_d[rows])
        return least_distance(bodies, *turned)[0] - margin_m

    def refine(rows: Indices, low: Floats, high: Floats, at_low: Floats, at_high: Floats) -> Floats:
        return closed_in(value, rows, low, high, between(low, high, at_low, at_high), 3)

    return find_arcs(sampled, HOURS, refine)


def stop_arcs(weights_up_h: float, weights_down_h: float, side: int) -> Arcs:
    """Where the hour axis would be past its stop, one row; how far it may turn past the level
    shaft with the weights rising, and the other way."""
    begin, end = [], []
    if weights_up_h < 6.0:
        begin.append(6.0 + weights_up_h + 6.0 * side)
        end.append(-6.0 - weights_up_h + 6.0 * side)
    if weights_down_h < 6.0:
        begin.append(weights_down_h - 6.0 + 6.0 * side)
        end.append(6.0 - weights_down_h + 6.0 * side)
    return Arcs(np.array([begin]), np.array([end]), np.zeros(1, dtype=np.bool_))
