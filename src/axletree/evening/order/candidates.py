"""What is to be ordered, the objects that could be shown and the time there is; what is an order?

Public: ``Opening``, ``Target``, ``OrderSpan``; ``OrderedStop``, ``LeftOut``, ``Order``, ``Method``.
"""

from __future__ import annotations

from typing import Literal

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.moving import Side, StopPose
from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class Opening:
    """A span in which an object can be shown with the tube on one side.

    Seconds from the evening's zero; the object's whole queue must fit within. `value_change`
    is added to the target's value when this opening is used (negative: it looks worse then).
    """

    side: Side
    start_s: float
    end_s: float
    value_change: float = 0.0


@dataclass(frozen=True)
class Target:
    """One object that could be shown.

    `value` in points (greater than 0), `show_s` the time at the eyepiece (visitors times
    seconds each), `urgency_points_per_h` what an hour of waiting costs, `eye_height_mm` for
    tube side east and west, `find_s` the time to find it (None: the usual). `key` is unique.
    `splendid`: people like to go home with it.
    """

    key: str
    value: float
    show_s: float
    openings: tuple[Opening, ...]
    right_ascension_h: float
    declination_deg: float
    eyepiece: str = ""
    eye_height_mm: tuple[float | None, float | None] = (None, None)
    urgency_points_per_h: float = 0.0
    must: bool = False
    find_s: float | None = None
    splendid: bool = False

    def pose(self, side: Side) -> StopPose:
        """Where the rig stands when this object is shown on that tube side."""
        height = self.eye_height_mm[0 if side == "east" else 1]
        return StopPose(
            self.right_ascension_h, self.declination_deg, side, self.eyepiece, height, self.find_s
        )


@dataclass(frozen=True)
class OrderSpan:
    """The time there is: seconds from the evening's zero, breaks as (start, end).

    `start_pose` is where the rig stands at the start; None: it is already on the first stop. No
    more than `most` stops are wanted (None: as many as fit).
    """

    start_s: float
    end_s: float
    breaks: tuple[tuple[float, float], ...] = ()
    start_pose: StopPose | None = None
    north: bool = True
    most: int | None = None


Method = Literal["exact", "quick", "bounded", "given"]


@dataclass(frozen=True)
class LeftOut:
    """One target that got no stop.

    "never open": no opening within the session. "no longer open": what it had is over by now.
    "clouded": only the closed sky takes its opening. "session over": what is left of the
    session's hours is too short for any stop. "room too short": the longest opening within
    them, `room_s`, ends before the queue of `needed_s` does. "worth less": it would fit only
    instead of the stops `instead_of`, which together are worth more. "no time": even that
    would not make room for it. "enough": it would fit, but the host wants no more stops than there
    are. "not in this order": of an order that the person fixed, its
    openings are over before its turn.
    """

    key: str
    why: GivenUpReason
    must: bool
    needed_s: float
    room_s: float = 0.0
    instead_of: tuple[str, ...] = ()


@dataclass(frozen=True)
class OrderedStop:
    """One stop of the order: moving until `arrive_s`, shown from `start_s` to `end_s`.

    `room_end_s` is the end of the opening that it lies in; `move_s` the time that getting here
    takes (0 for a first stop that the rig already stands on).
    """

    key: str
    side: Side
    arrive_s: float
    start_s: float
    end_s: float
    move_s: float
    room_end_s: float


@dataclass(frozen=True)
class Order:
    """The stops in their order, what was left out and why, and how good the order is.

    `points` of this order and `bound_points`, which no order can exceed; `gap` is their
    distance as a fraction of the bound; `proven_best` where that is nothing. Where a must-see
    object is left out, only the exact method proves that it had to be.
    """

    stops: tuple[OrderedStop, ...]
    left_out: tuple[LeftOut, ...]
    points: float
    bound_points: float
    gap: float
    proven_best: bool
    method: Method
