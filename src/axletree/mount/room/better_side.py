"""Which of two tube sides is better, and why?

The first of these that differs decides: it can be used; its room lasts as long as is needed; the
weights stay below the tube; the eyepiece can't fall out; the eyepiece stands within reach; it has
more room; everything keeps further apart.
"""

from __future__ import annotations

from enum import Enum

from axletree.mount.room.ends import CONTACT
from axletree.mount.room.side_answer import SideAnswer

# Differences that are too small to choose by (our figures).
SAME_HEIGHT_M = 0.10
SAME_ROOM_H = 0.1


class SideReason(Enum):
    """What tells the better side from the other one; the first two: there is no better side."""

    NEITHER_FOR_ONE_REASON = "neither_for_one_reason"
    NEITHER = "neither"
    ONLY_ONE = "only_one"
    LASTS = "lasts"
    WEIGHTS_DOWN = "weights_down"
    BARREL_UP = "barrel_up"
    WITHIN_REACH = "within_reach"
    MORE_ROOM = "more_room"
    FURTHER_APART = "further_apart"


def better_side(east: SideAnswer, west: SideAnswer, need_h: float) -> tuple[str, SideReason]:
    """'east', 'west' or '' when neither can be used, and the reason.

    `need_h` is how long the object should be followed, in hours of hour angle.
    """
    if not east.usable and not west.usable:
        same = east.ends.by == west.ends.by and east.ends.by != CONTACT
        return "", SideReason.NEITHER_FOR_ONE_REASON if same else SideReason.NEITHER
    both = ((east, west), (west, east))
    for one, other in both:
        if one.usable and not other.usable:
            return one.side, SideReason.ONLY_ONE
    for one, other in both:
        if min(one.room_h, need_h) > min(other.room_h, need_h) + 1e-6:
            return one.side, SideReason.LASTS
    for reason, decides in (
        (SideReason.WEIGHTS_DOWN, _weights),
        (SideReason.BARREL_UP, _falling),
        (SideReason.WITHIN_REACH, _reach),
        (SideReason.MORE_ROOM, _room),
    ):
        for one, other in both:
            if decides(one, other, need_h):
                return one.side, reason
    one = east if east.clearance_m >= west.clearance_m else west
    return one.side, SideReason.FURTHER_APART


def _weights(one: SideAnswer, other: SideAnswer, need_h: float) -> bool:
    return _down(one, need_h) and not _down(other, need_h)


def _falling(one: SideAnswer, other: SideAnswer, need_h: float) -> bool:
    return not one.can_fall and other.can_fall


def _reach(one: SideAnswer, other: SideAnswer, need_h: float) -> bool:
    return _outside_m(one) + SAME_HEIGHT_M < _outside_m(other)


def _room(one: SideAnswer, other: SideAnswer, need_h: float) -> bool:
    return one.room_h > other.room_h + SAME_ROOM_H


def _down(answer: SideAnswer, need_h: float) -> bool:
    """True where the weights stay below the tube for as long as is needed."""
    return not answer.weights_up and answer.weights_down_h >= min(need_h, answer.room_h) - 1e-6


def _outside_m(answer: SideAnswer) -> float:
    return float(answer.eye.step_up_m + answer.eye.stoop_m)
