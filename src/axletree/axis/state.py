"""What is known of a person's own mount at a moment, from when and from which evening?"""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from axletree.axis.model import PointingModel
from axletree.kit.frozen import dataclass

# How well a gap is told that nobody gave an error of, one standard deviation: a touch is seen, a
# finger's width guessed (our figures).
TOUCH_ERROR_MM = 3.0
GAP_ERROR_MM = 5.0
# Farther apart nothing of a mount comes near anything.
MOST_GAP_MM = 300.0
MOST_ERROR_MM = 200.0
# How well a pose is known: an object in the eyepiece, and circles as they are read (our figures).
BY_OBJECT_DEG = 0.3
BY_CIRCLES_DEG = 1.0


@dataclass(frozen=True)
class GapNote:
    """The least gap in a pose, 0 for a touch, with its error (one standard deviation).

    The pose is that of a tube on `side` that points to an hour angle and a declination, of date;
    `pose_error_deg` on each axis. `object`: what stood in the eyepiece, '' for circles. `evening`:
    the date on which the evening of `at` began. `key`: of the note, to take it back.
    """

    at: datetime
    evening: date
    side: Literal["east", "west"]
    hour_angle_h: float
    declination_deg: float
    pose_error_deg: float
    gap_mm: float
    error_mm: float
    object: str
    key: str


@dataclass(frozen=True)
class State:
    """What measurements and notes of one rig on one spot say, up to a moment.

    `evening` and `at`: the date on which the evening of the latest note that counts began, and
    its moment. `measurements`: how many of that evening the model rests on. `stands_since`: the
    evening from which the axis is still good, since the person said that the mount stands where
    it stood; None where nothing of the axis is older than its evening. `gaps`: how near parts of
    the mount came, in order of time; `set_up`: the evening on which it was set up as it stands.
    `of_axis`: whether anything was noted that concerns `pointing`.
    """

    pointing: PointingModel
    evening: date
    at: datetime
    measurements: int
    stands_since: date | None = None
    gaps: tuple[GapNote, ...] = ()
    set_up: date | None = None
    of_axis: bool = True


def axis_state(state: State | None) -> State | None:
    """The state where its notes concern axis, circles or tube; None where they are of gaps
    alone."""
    return state if state is not None and state.of_axis else None
