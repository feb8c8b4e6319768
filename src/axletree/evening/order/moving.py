"""What does it cost to go from one stop to the next?

Public: ``StopPose``, ``Handling``, ``handling_of``, ``axis_travel_deg``, ``moving``.

An object keeps its hour angle's distance from another one, so the turn of the hour axis between
two objects does not depend on the time: a whole evening's moving is one square table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from axletree.evening.hosting.pace import Ease, find_seconds, show_seconds, slack_part
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Mask
from axletree.sky.directions import wrap_h

Side = Literal["east", "west"]

# What each stop takes of people's eyes and patience, whatever it shows: an hour of a few splendid
# things is better than one of many middling ones (common practice, no source; the figure is ours).
STOP_POINTS = 30.0
# What is left of a stop's value at least: where there is nothing better, a filler is shown.
STOP_KEPT = 0.2


@dataclass(frozen=True)
class StopPose:
    """Where the rig stands for one object: place of date, tube side, eyepiece, eye height.

    `find_s` is what finding it takes; None: the handling's own.
    """

    right_ascension_h: float
    declination_deg: float
    side: Side
    eyepiece: str = ""
    eye_height_mm: float | None = None
    find_s: float | None = None


@dataclass(frozen=True)
class Handling:
    """How long the host's hands take, and how much of a nuisance each move is.

    `*_s` are seconds of evening; `*_points` are taken from the value of what is shown, so that
    of two orders showing the same the one with less to do wins. `together` says that both axes
    turn at the same time (a motor slewing), otherwise one after the other (hands). `find_factor`
    times what finding usually takes is what it takes this person. `slack_part` of each move and
    `slack_s` for the stop before it stay free. `stop_points` are taken from every stop, whatever it
    shows (`net_points`).
    """

    find_s: float = 60.0
    hour_deg_per_s: float = 6.0
    declination_deg_per_s: float = 6.0
    together: bool = False
    find_factor: float = 1.0
    slack_part: float = 0.0
    slack_s: float = 0.0
    focus_s: float = 10.0
    side_change_s: float = 60.0
    eyepiece_change_s: float = 30.0
    stool_s: float = 20.0
    stool_step_mm: float = 250.0
    points_per_min: float = 1.0
    stop_points: float = 0.0
    side_change_points: float = 4.0
    eyepiece_change_points: float = 1.0
    stool_points: float = 1.0

    def net_points(self, value: float) -> float:
        """What a stop of this value is worth beside others: two fillers are no showpiece."""
        return max(value - self.stop_points, STOP_KEPT * value)

    def with_slack_s(self, hands_s: ArrayLike) -> Floats:
        """What a move takes of the evening whose hands are busy for so many seconds."""
        return np.asarray(hands_s) * (1.0 + self.slack_part) + self.slack_s


def handling_of(kit: Kit) -> Handling:
    """The handling of a kit's mount and host (`pace` says how long a calm one takes).

    A motor that slews runs both axes at its rate; one that only follows is moved by hand.
    """
    usual = Handling(
        find_s=find_seconds(kit, Ease.EASY),
        slack_part=slack_part(kit),
        slack_s=slack_part(kit) * show_seconds(kit),
        stop_points=STOP_POINTS,
    )
    motor = kit.mount.motor
    if motor is None or motor.slew_deg_per_s is None:
        return usual
    rate = motor.slew_deg_per_s
    both = motor.axes == "both"
    return replace(
        usual,
        hour_deg_per_s=rate,
        declination_deg_per_s=rate if both else usual.declination_deg_per_s,
        together=both,
    )


def axis_travel_deg(
    from_poses: Sequence[StopPose], to_poses: Sequence[StopPose], *, north: bool
) -> tuple[Floats, Floats]:
    """Turn of the hour axis and of the declination axis, degrees, shape (from, to).

    On one tube side the axes turn by the difference of right ascension and declination. A
    change of side turns the hour axis through half a turn, weights kept low, plus or minus that
    difference, and the declination axis through the pole.
    """
    ra1, dec1, side1 = _columns(from_poses)
    ra2, dec2, side2 = _columns(to_poses)
    change = wrap_h(ra1[:, None] - ra2[None, :])  # of the hour angle, positive west
    flip = side2[None, :].astype(int) - side1[:, None].astype(int)  # +1: from east to west
    hour = np.abs(change + 12.0 * flip) * 15.0
    pole1 = 90.0 - dec1 if north else 90.0 + dec1
    pole2 = 90.0 - dec2 if north else 90.0 + dec2
    along = np.abs(pole1[:, None] - pole2[None, :])
    through = pole1[:, None] + pole2[None, :]
    return hour, np.where(flip == 0, along, through)


def moving(
    from_poses: Sequence[StopPose], to_poses: Sequence[StopPose], handling: Handling, *, north: bool
) -> tuple[Floats, Floats]:
    """Seconds and points of every move, each of shape (from, to)."""
    hour, declination = axis_travel_deg(from_poses, to_poses, north=north)
    hour_s = hour / handling.hour_deg_per_s
    declination_s = declination / handling.declination_deg_per_s
    turning = np.maximum(hour_s, declination_s) if handling.together else hour_s + declination_s
    side = _differs([p.side for p in from_poses], [p.side for p in to_poses])
    eyepiece = _differs([p.eyepiece for p in from_poses], [p.eyepiece for p in to_poses])
    stool = _stool(from_poses, to_poses, handling.stool_step_mm)
    find = [handling.find_s if p.find_s is None else p.find_s for p in to_poses]
    hands = (
        handling.find_factor * np.array(find, dtype=np.float64)[np.newaxis]
        + handling.focus_s
        + turning
        + side * handling.side_change_s
        + eyepiece * handling.eyepiece_change_s
        + stool * handling.stool_s
    )
    seconds = handling.with_slack_s(hands)
    points = (
        seconds / 60.0 * handling.points_per_min
        + side * handling.side_change_points
        + eyepiece * handling.eyepiece_change_points
        + stool * handling.stool_points
    )
    return seconds, points


def _columns(poses: Sequence[StopPose]) -> tuple[Floats, Floats, Mask]:
    return (
        np.array([p.right_ascension_h for p in poses], dtype=np.float64),
        np.array([p.declination_deg for p in poses], dtype=np.float64),
        np.array([p.side == "west" for p in poses], dtype=bool),
    )


def _differs(before: Sequence[str], after: Sequence[str]) -> Floats:
    first, second = np.array(before, dtype=object), np.array(after, dtype=object)
    return np.asarray(first[:, None] != second[None, :], dtype=np.float64)


def _stool(before: Sequence[StopPose], after: Sequence[StopPose], step_mm: float) -> Floats:
    heights = [
        np.array([np.nan if p.eye_height_mm is None else p.eye_height_mm for p in poses])
        for poses in (before, after)
    ]
    step = np.abs(heights[0][:, None] - heights[1][None, :])
    return np.asarray(np.nan_to_num(step, nan=0.0) > step_mm, dtype=np.float64)
