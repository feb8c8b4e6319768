"""How probable is it that the other tube side is the better one?

The rule is that of `room.better_side`, asked of each rig drawn with that rig's own rooms; what the
weights, the barrel and the eyepiece's height decide is taken as told.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axletree.mount.room.better_side import SAME_ROOM_H, SideReason, better_side
from axletree.mount.room.choice import Choice
from axletree.mount.sure.room_doubt import RoomDoubt
from axletree.sky.arrays import Floats, Mask

# Of rooms that last as long as is needed, these reasons don't ask how much longer.
_NOT_BY_ROOM = {SideReason.WEIGHTS_DOWN, SideReason.BARREL_UP, SideReason.WITHIN_REACH}


def other_side_chance(
    choice: Choice, doubts: tuple[RoomDoubt | None, RoomDoubt | None], need_s: float
) -> float:
    """The share of rigs drawn that the side not chosen serves better (or that it alone serves).

    `doubts` are those of side east and west, `need_s` how long the object is to be followed. 0
    where there is no better side, or the other can't be used.
    """
    east, west = doubts
    if east is None or west is None or not choice.better:
        return 0.0
    rooms = east.ends_s, west.ends_s
    sooner = [np.minimum(room, need_s) for room in rooms]
    served = _longer(sooner[0], sooner[1], 1.0)
    tied = ~served & ~_longer(sooner[1], sooner[0], 1.0)
    served[tied] = _of_lasting(choice, rooms)[tied]
    is_east = choice.better == "east"
    return float((served != is_east).mean())


def _of_lasting(choice: Choice, rooms: tuple[Floats, Floats]) -> Mask:
    """Whether east is the better one of two sides that last as long as is needed."""
    need_h = min(choice.east.room_h, choice.west.room_h)
    even = [replace(side, room_h=max(side.room_h, need_h)) for side in choice.sides]
    side, reason = better_side(even[0], even[1], need_h)
    told = np.full(rooms[0].shape, side == "east")
    if reason in _NOT_BY_ROOM:
        return told
    more_s = SAME_ROOM_H * 3600.0
    east, west = _longer(*rooms, more_s), _longer(rooms[1], rooms[0], more_s)
    return np.asarray(np.where(east | west, east, told))


def _longer(one: Floats, other: Floats, by_s: float) -> Mask:
    return np.asarray(one > other + by_s)
