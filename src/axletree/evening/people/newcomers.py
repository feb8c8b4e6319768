"""On which tube side does a newcomer show an object: when is one side left alone for the other?

While the weights are below the tube and the barrel doesn't hang on one side, nobody who is new to
this is sent to the other one where they don't stay so, to save a change of side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from axletree.evening.order.candidates import Opening
from axletree.kit.kit import Kit
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.rig.kinematics import axis_angles, weights_up
from axletree.mount.room.table import RoomTable
from axletree.sky.arrays import Floats, Mask

_SENSES = {"east": 1, "west": -1}


def for_newcomer(
    openings: Sequence[Opening], kit: Kit, table: RoomTable, seconds: Floats,
    hour_angle_h: Floats, declination_deg: Floats,
) -> list[Opening]:  # fmt: skip
    """The openings of one object that serve this person; its places (samples,) at `seconds`.

    Whoever isn't a newcomer is served by all. Ends that come of leaving a side are good to a
    sample.
    """
    if kit.habits.observer != "newcomer" or len({o.side for o in openings}) < len(_SENSES):
        return list(openings)
    heights = kit.habits.eye_height_min_mm, kit.habits.eye_height_max_mm
    rough: dict[str, Mask] = {}
    calm: dict[str, Mask] = {}
    for side, sense in _SENSES.items():
        end, swing = axis_angles(table.axes, sense, hour_angle_h, declination_deg)
        hangs = eye_place(table.rig, table.axes, end, swing, heights).can_fall
        rough[side] = hangs | weights_up(table.axes, end)
        is_open = np.any([_within(o, seconds) for o in openings if o.side == side], axis=0)
        calm[side] = is_open & ~rough[side]
    out: list[Opening] = []
    for one in openings:
        other = "west" if one.side == "east" else "east"
        out += _without(one, rough[one.side] & calm[other], seconds)
    return out


def _within(opening: Opening, seconds: Floats) -> Mask:
    return np.asarray((seconds >= opening.start_s) & (seconds <= opening.end_s))


def _without(opening: Opening, left: Mask, seconds: Floats) -> list[Opening]:
    """What of an opening stays when it is left at some samples."""
    inside = np.flatnonzero(_within(opening, seconds))
    if not left[inside].any():
        return [opening]
    edge = np.flatnonzero(np.diff(np.concatenate(([True], left[inside], [True])).astype(np.int8)))
    out = []
    for first, stop in edge.reshape(-1, 2).tolist():
        start = opening.start_s if first == 0 else float(seconds[inside[first]])
        end = opening.end_s if stop == len(inside) else float(seconds[inside[stop - 1]])
        if end > start:
            out.append(replace(opening, start_s=start, end_s=end))
    return out
