"""Which of two tube sides is better, and how is that said in a sentence?

The first of these that differs decides: it can be used; its room lasts as long as is needed; the
weights stay below the tube; the eyepiece can't fall out; the eyepiece stands within reach; it has
more room.
"""

from __future__ import annotations

from axletree.mount.room.ends import CONTACT
from axletree.mount.room.side_answer import SideAnswer

WHOLE_DAY_H = 23.99
# Differences that are too small to choose by (our figures).
SAME_HEIGHT_M = 0.10
SAME_ROOM_H = 0.1


def better_side(
    east: SideAnswer, west: SideAnswer, need_h: float, units: str = "metric"
) -> tuple[str, str]:
    """'east', 'west' or '' when neither can be used, and the reason."""
    if not east.usable and not west.usable:
        if east.ends_code == west.ends_code and east.ends_code != CONTACT:
            return "", f"Neither side can be used now: {east.ends}."
        both = f"on side east {east.ends}, on side west {west.ends}"
        return "", f"Neither side can be used now: {both}."
    for one, other in ((east, west), (west, east)):
        if one.usable and not other.usable:
            return one.side, f"Only side {one.side} can be used: on side {other.side} {other.ends}."
    for one, other in ((east, west), (west, east)):
        if min(one.room_h, need_h) > min(other.room_h, need_h) + 1e-6:
            up = " although the weights are up there" if one.weights_up else ""
            return one.side, (
                f"Side {one.side} lasts: {_hours(one)} of room against {_hours(other)}, when on "
                f"side {other.side} {other.ends}{up}."
            )
    for difference in (_weights, _falling, _reach, _room):
        for one, other in ((east, west), (west, east)):
            words = difference(one, other, need_h, units)
            if words:
                return one.side, words
    one = east if east.clearance_m >= west.clearance_m else west
    return one.side, f"Both sides serve equally; side {one.side} keeps everything further apart."


def _weights(one: SideAnswer, other: SideAnswer, need_h: float, units: str) -> str:
    if not _down(one, need_h) or _down(other, need_h):
        return ""
    return (
        f"On side {one.side} the weights stay below the tube, on side {other.side} they are or "
        "come above it."
    )


def _falling(one: SideAnswer, other: SideAnswer, need_h: float, units: str) -> str:
    if one.can_fall or not other.can_fall:
        return ""
    return (
        f"On side {one.side} the eyepiece can't fall out, on side {other.side} its barrel hangs "
        "below the horizontal."
    )


def _reach(one: SideAnswer, other: SideAnswer, need_h: float, units: str) -> str:
    if _outside_m(one) + SAME_HEIGHT_M >= _outside_m(other):
        return ""
    return (
        f"On side {one.side} the eyepiece stands at {_height(one, units)} ({one.posture}), on "
        f"side {other.side} at {_height(other, units)} ({other.posture})."
    )


def _room(one: SideAnswer, other: SideAnswer, need_h: float, units: str) -> str:
    if one.room_h <= other.room_h + SAME_ROOM_H:
        return ""
    return f"Side {one.side} has more room: {_hours(one)} against {_hours(other)}."


def _down(answer: SideAnswer, need_h: float) -> bool:
    """True where the weights stay below the tube for as long as is needed."""
    return not answer.weights_up and answer.weights_down_h >= min(need_h, answer.room_h) - 1e-6


def _outside_m(answer: SideAnswer) -> float:
    return float(answer.eye.step_up_m + answer.eye.stoop_m)


def _height(answer: SideAnswer, units: str) -> str:
    height = float(answer.eye.height_m)
    inches = round(height / 0.0254)
    return f"{inches // 12} ft {inches % 12} in" if units == "us" else f"{height:.2f} m"


def _hours(answer: SideAnswer) -> str:
    if answer.room_h >= WHOLE_DAY_H:
        return "the whole night"
    minutes = round(answer.room_s / 60)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"
