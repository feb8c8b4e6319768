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
from axletree.mount.rig.shaft_turn import hours_at
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


def stop_arcs(
    axes: Axes, side: int, past_level_h: tuple[float, float], declination_deg: Floats
) -> Arcs:
    """Where the hour axis would be past its stops, a row a declination.

    `past_level_h`: how far it may turn past the level shaft, weights rising, and the other way.
    """
    up, down = past_level_h
    begin, end = [], []
    if up < 6.0:
        begin.append(hours_at(axes, side, 6.0 + up, declination_deg))
        end.append(hours_at(axes, side, -6.0 - up, declination_deg))
    if down < 6.0:
        begin.append(hours_at(axes, side, down - 6.0, declination_deg))
        end.append(hours_at(axes, side, 6.0 - down, declination_deg))
    count = len(declination_deg)
    columns = np.zeros((count, 0)) if not begin else np.stack(begin, axis=1)
    ends = np.zeros((count, 0)) if not end else np.stack(end, axis=1)
    return Arcs(columns, ends, np.zeros(count, dtype=np.bool_))
