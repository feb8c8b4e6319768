"""Where on the way round the pole does anything come nearer than the margin, and where is a stop?

Clearances are sampled at every half degree, from the map of all poses or, for few objects, pose by
pose; each passage is closed in on with exact distances. Within half a degree no part of a rig
moves as far as the usual margin of 20 mm, so that nothing is missed. Of few objects' poses only
every eighth is looked at where nothing can come near the margin before the next.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from axletree.mount.clearance.map_levels import angles
from axletree.mount.clearance.nearest import Bodies, least_distance
from axletree.mount.rig.kinematics import SIDES, Axes, axis_angles
from axletree.mount.rig.shaft_turn import hours_at
from axletree.mount.room.arcs import Arcs, between, closed_in, find_arcs
from axletree.sky.arrays import Floats, Indices
from axletree.sky.directions import wrap_180, wrap_h

if TYPE_CHECKING:
    from axletree.mount.clearance.map import ClearanceMap

# Where the whole circle is looked at: at the map's own half degrees.
HOURS: Floats = angles(1)[0] / 15.0
_EVERY = 8  # of those so many apart are looked at first; a divisor of their number


def contact_arcs(
    bodies: Bodies, axes: Axes, margin_m: float, declination_deg: Floats, held: ClearanceMap | None
) -> Arcs:
    """Where anything comes nearer than the margin: a row a declination, side east, then west.

    Without a map every pose is looked at: quicker than to make one for four declinations or fewer.
    """
    if held is None:
        d = declination_deg[:, None]
        turned = [np.broadcast_arrays(*axis_angles(axes, side, HOURS, d)) for side in SIDES]
        tube_end_h, swing_deg = (np.concatenate(both) for both in zip(*turned, strict=True))
        sampled = _sampled(bodies, margin_m, tube_end_h, swing_deg) - margin_m
    else:
        from axletree.mount.clearance.map_lookup import looked_up

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


def _sampled(bodies: Bodies, margin_m: float, tube_end_h: Floats, swing_deg: Floats) -> Floats:
    """Least distances (n, hours), metres; right below the margin and next to it, elsewhere a
    distance beyond the margin that is at most the right one."""
    first = np.arange(0, len(HOURS), _EVERY)
    coarse, _ = least_distance(bodies, tube_end_h[:, first], swing_deg[:, first])
    nearest = (np.arange(len(HOURS)) + _EVERY // 2) // _EVERY % len(first)
    at = first[nearest]
    hour_turn = np.abs(wrap_h(tube_end_h - tube_end_h[:, at])) * 15.0
    turn = np.radians(hour_turn + np.abs(wrap_180(swing_deg - swing_deg[:, at])))
    # Both axes pass through the point that reaches are counted from.
    out = coarse[:, nearest] - bodies.reach_m * turn
    ask = out <= margin_m
    ask |= np.roll(ask, 1, axis=1) | np.roll(ask, -1, axis=1)
    out[ask], _ = least_distance(bodies, tube_end_h[ask], swing_deg[ask])
    return np.asarray(out)


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
