"""Which turns lead there from a star, or along a star's parallel, and how is it searched, for a
program? Keys carry units.
"""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.find.parallel import Parallel
from axletree.find.start_star import StartStar
from axletree.find.steps import AxisTurn, Steps
from axletree.find.turning.sweep import Sweep


class AxisData(TypedDict):
    """What one axis does; west, north and clockwise positive. `turns` None: lock open, `lock`."""

    degrees: float
    sigma_deg: float
    turns: float | None
    sigma_turns: float | None
    circle_deg: float
    circle_sigma_deg: float
    last_move: str
    last_move_clockwise: bool
    overshoot_turns: float
    lock: str | None


class StepsData(TypedDict):
    """Turns from a bright star, or from what is `in_view` before; chances 0-1, assumed or learned
    as `chance_from` says. `star_by_circles_chance`: the bare eye doesn't see the star, and both
    circles bring it into the finder's field with this chance; None where the eye knows it."""

    star: list[str]
    star_magnitude_v: float | None
    star_by_circles_chance: float | None
    in_view: bool
    hour: AxisData
    declination: AxisData
    seconds: float
    seconds_sigma: float
    later_turns_per_minute: float | None
    chance_in_eyepiece: float
    chance_in_finder: float | None
    chance_by_circles_in_eyepiece: float
    chance_by_circles_in_finder: float | None
    covariance_deg2: list[list[float]]
    chance_from: str


class ParallelData(TypedDict):
    """A star of the object's declination: hour knob alone, or waiting."""

    star: list[str]
    star_magnitude_v: float | None
    off_deg: float
    hour_turns: float | None
    hour_turns_sigma: float | None
    chance_by_turning: float
    wait_minutes: float | None
    wait_sigma_minutes: float | None
    chance_by_waiting: float | None


class LegData(TypedDict):
    """A leg of the search; `turns` clockwise positive, `chance` that it was seen by then."""

    by: str
    turns: float
    sky_deg: float
    seconds: float
    chance: float


class SweepData(TypedDict):
    """The search around the place."""

    step_deg: float
    chance_before: float
    chance: float
    legs: list[LegData]
    back_hour_turns: float | None
    back_declination_turns: float | None


def steps_data(found: Finding) -> StepsData | None:
    """The turns from the star; None where there are none."""
    start, steps = found.start, found.steps
    if not isinstance(start, StartStar) or not isinstance(steps, Steps):
        return None
    return {
        "star": list(start.names),
        "star_magnitude_v": start.magnitude_v,
        "star_by_circles_chance": None if start.by_circles is None else start.by_circles.chance,
        "in_view": start.in_view,
        "hour": _axis(steps.hour),
        "declination": _axis(steps.declination),
        "seconds": steps.seconds,
        "seconds_sigma": steps.seconds_sigma,
        "later_turns_per_minute": steps.later_turns_per_minute,
        "chance_in_eyepiece": steps.by_turns.eyepiece,
        "chance_in_finder": steps.by_turns.finder,
        "chance_by_circles_in_eyepiece": steps.by_circles.eyepiece,
        "chance_by_circles_in_finder": steps.by_circles.finder,
        "covariance_deg2": [list(row) for row in steps.by_turns.covariance_deg2],
        "chance_from": steps.chance_from.value,
    }


def _axis(turn: AxisTurn) -> AxisData:
    return {
        "degrees": turn.degrees,
        "sigma_deg": turn.sigma_deg,
        "turns": turn.turns,
        "sigma_turns": turn.sigma_turns,
        "circle_deg": turn.circle_deg,
        "circle_sigma_deg": turn.circle_sigma_deg,
        "last_move": turn.last_move.value,
        "last_move_clockwise": turn.last_move_clockwise,
        "overshoot_turns": turn.overshoot_turns,
        "lock": None if turn.lock is None else turn.lock.value,
    }


def parallel_data(beside: Parallel) -> ParallelData:
    """A star on the object's parallel."""
    return {
        "star": list(beside.star.names),
        "star_magnitude_v": beside.star.magnitude_v,
        "off_deg": beside.off_deg,
        "hour_turns": beside.hour_turns,
        "hour_turns_sigma": beside.turns_sigma,
        "chance_by_turning": beside.by_turns.eyepiece,
        "wait_minutes": beside.wait_minutes,
        "wait_sigma_minutes": beside.wait_sigma_minutes,
        "chance_by_waiting": beside.by_waiting,
    }


def sweep_data(searched: Sweep) -> SweepData:
    return {
        "step_deg": searched.step_deg,
        "chance_before": searched.chance_before,
        "chance": searched.chance,
        "legs": [
            {
                "by": leg.by.value,
                "turns": leg.turns,
                "sky_deg": leg.sky_deg,
                "seconds": leg.seconds,
                "chance": leg.chance,
            }
            for leg in searched.legs
        ],
        "back_hour_turns": searched.back_hour_turns,
        "back_declination_turns": searched.back_declination_turns,
    }
