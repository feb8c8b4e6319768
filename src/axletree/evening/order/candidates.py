"""What is to be ordered: the objects that could be shown, when, and the time there is.

Public: ``Opening``, ``Target``, ``OrderSpan``.
"""

from __future__ import annotations

from dataclasses import dataclass

from axletree.evening.order.moving import Side, StopPose


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
