"""What does a program get to know about how an object is found? Keys carry units."""

from __future__ import annotations

import math
from typing import Literal

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.find.hopping.answer import HopAnswer, HopStar
from axletree.find.parallel import Parallel
from axletree.find.start_star import StartStar
from axletree.find.steps import AxisTurn, Steps
from axletree.find.turning.sweep import Sweep
from axletree.find.view import FieldView, seen_angle_deg
from axletree.stages.target.find import FindAnswer
from axletree.tell.eyepiece.data import AtEyepieceData, eyepiece_data
from axletree.tell.find.learned_text import learned_of
from axletree.tell.find.sight_text import body_turn, sight_words
from axletree.tell.find.text import CAUTIONS, find_text


class GuideStarData(TypedDict):
    """A bright star that leads the eye there: `way` and `clockwise_deg` from it to the place."""

    names: list[str]
    magnitude_v: float
    distance_deg: float
    distance_sigma_deg: float
    clockwise_deg: float
    way: str
    hand: str
    hand_count: float


class WhereToLookData(TypedDict):
    """Where the bare eye looks."""

    azimuth_deg: float
    altitude_deg: float
    overhead: bool
    guides: list[GuideStarData]


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
    as `chance_from` says."""

    star: list[str]
    star_magnitude_v: float | None
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


class PartnerData(TypedDict):
    """A star that confirms another: from it, as the finder shows it."""

    clockwise_deg: float
    separation_deg: float
    separation_field: float
    fainter_mag: float


class HopStarData(TypedDict):
    """A star of the hop and the pattern that confirms it."""

    number: int
    names: list[str]
    magnitude_v: float
    pattern: str
    partners: list[PartnerData]


class HopStepData(TypedDict):
    """A move of the finder from a star to the next (None: to the object)."""

    present: HopStarData
    following: HopStarData | None
    hour_deg: float
    declination_deg: float
    axes: list[str]
    distance_deg: float
    distance_field: float
    clockwise_deg: float | None
    chance: float


class HopHelpData(TypedDict):
    """What would make the hop surer."""

    kind: str
    figure: float
    chance: float


class HopData(TypedDict):
    """The hop through the finder, or why there is none."""

    outcome: str
    chance: float | None
    start_chance: float | None
    steps: list[HopStepData]
    weakest: str | None
    helps: list[HopHelpData]


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


class ViewData(TypedDict):
    """One field: stars' x (right) and y (up) in field radii and magnitudes, brightest first.

    Angles clockwise from the top. `outline`: middle and half axes in field radii, and the long
    axis' angle (None where unknown or round).
    """

    instrument: str
    label: str
    magnification: float
    field_deg: float
    mirrored: bool
    north_deg: float
    drift_deg: float
    zenith_deg: float
    limit_mag: float
    times_as_many: float
    stars: list[list[float]]
    outline: list[float | None] | None


class LearnedWayData(TypedDict):
    """What a log taught of turns or hop: of `tries`, `found`; `factor` times the assumed errors,
    with the error of its logarithm; the minutes a find takes, from `timed` tries."""

    by: str
    tries: int
    found: int
    factor: float
    factor_log_sigma: float
    timed: int
    minutes: float
    minutes_sigma: float


class SightData(TypedDict):
    """How it shows in the eyepiece that suits it; `margin_mag` above the threshold, None where it
    isn't known; `at_eye_deg` its width (a pair's distance) at the eye, None for a point."""

    eyepiece: str
    magnification: float
    visibility: str
    margin_mag: float | None
    at_eye_deg: float | None
    words: str


class FindData(TypedDict):
    """The answer of `axletree find --json`; parts are None where there is no such way."""

    version: Literal[1]
    object: str
    kind: str
    at: str
    ended: str | None
    side: str | None
    first: str | None
    chance: float | None
    chance_sigma: float | None
    where_to_look: WhereToLookData | None
    start_refused: str | None
    steps: StepsData | None
    parallel: ParallelData | None
    hop: HopData | None
    sweep: SweepData | None
    views: list[ViewData]
    sight: SightData | None
    eyepiece: AtEyepieceData | None
    learned: list[LearnedWayData]
    caution_codes: list[str]
    cautions: list[str]
    words: str


def find_data(answer: FindAnswer) -> FindData:
    """The answer for programs."""
    found = answer.finding
    start = None if found is None else found.start
    beside = None if found is None else found.parallel
    refused = None
    if answer.refusal is not None:
        refused = "near_the_sun"
    elif answer.ended is not None:
        refused = answer.ended.value
    return {
        "version": 1,
        "object": answer.thing.name,
        "kind": answer.thing.kind,
        "at": answer.at.isoformat(),
        "ended": refused,
        "side": answer.side,
        "first": None if found is None or found.first is None else found.first.value,
        "chance": None if found is None else found.chance,
        "chance_sigma": None if found is None else chance_sigma(found),
        "where_to_look": None if found is None else where_data(found),
        "start_refused": None if start is None or isinstance(start, StartStar) else start.value,
        "steps": None if found is None else steps_data(found),
        "parallel": None if beside is None else parallel_data(beside),
        "hop": None if found is None or found.hop is None else hop_data(found, found.hop),
        "sweep": _sweep(found.sweep) if found and isinstance(found.sweep, Sweep) else None,
        "views": [] if found is None else views_data(found),
        "sight": sight_data(answer),
        "eyepiece": _eyepiece(answer),
        "learned": [] if found is None else learned_data(found),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": [CAUTIONS[caution] for caution in answer.cautions],
        "words": find_text(answer),
    }


def _eyepiece(answer: FindAnswer) -> AtEyepieceData | None:
    if answer.question is None:
        return None
    turn, power = body_turn(answer)
    return eyepiece_data(answer.question.body, turn, power, answer.kit.site.zone)


def sight_data(answer: FindAnswer) -> SightData | None:
    """How it shows; None where it isn't to be found."""
    sight = answer.sight
    if sight is None:
        return None
    return {
        "eyepiece": sight.eyepiece,
        "magnification": sight.magnification,
        "visibility": sight.visibility.value,
        "margin_mag": sight.margin_mag if math.isfinite(sight.margin_mag) else None,
        "at_eye_deg": sight.at_eye_deg,
        "words": sight_words(answer),
    }


def chance_sigma(found: Finding) -> float | None:
    """The error of the chance of the way to try first; None where that is assumed."""
    way = learned_of(found, found.first)
    return None if way is None or found.chance is None else way.told_sigma(found.chance)


def learned_data(found: Finding) -> list[LearnedWayData]:
    """What the chances and minutes were learned from, by way; [] where they are assumed."""
    return [
        {
            "by": way.by.value,
            "tries": way.tries,
            "found": way.found,
            "factor": way.factor,
            "factor_log_sigma": way.factor_log_sigma,
            "timed": way.timed,
            "minutes": way.minutes,
            "minutes_sigma": way.minutes_sigma,
        }
        for way in (() if found.learned is None else found.learned.ways)
    ]


def where_data(found: Finding) -> WhereToLookData:
    """Where the bare eye looks, and the stars that lead there."""
    stars = found.sky_patch.stars
    return {
        "azimuth_deg": found.where.azimuth_deg,
        "altitude_deg": found.where.altitude_deg,
        "overhead": found.where.overhead,
        "guides": [
            {
                "names": list(found.star_names.get(int(stars.number[g.star_index]), ())),
                "magnitude_v": g.magnitude_v,
                "distance_deg": g.distance_deg,
                "distance_sigma_deg": g.hand_sigma_deg,
                "clockwise_deg": g.clockwise_deg,
                "way": g.way.value,
                "hand": g.hand.value,
                "hand_count": g.hand_count,
            }
            for g in found.where.guides
        ],
    }


def steps_data(found: Finding) -> StepsData | None:
    """The turns from the star; None where there are none."""
    start, steps = found.start, found.steps
    if not isinstance(start, StartStar) or not isinstance(steps, Steps):
        return None
    return {
        "star": list(start.names),
        "star_magnitude_v": start.magnitude_v,
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


def hop_data(found: Finding, hop: HopAnswer) -> HopData:
    """The hop, its stars as the finder shows them."""
    return {
        "outcome": hop.outcome.value,
        "chance": hop.chance,
        "start_chance": hop.start_chance,
        "steps": [
            {
                "present": _hop_star(found, step.present),
                "following": None if step.following is None else _hop_star(found, step.following),
                "hour_deg": step.hour_deg,
                "declination_deg": step.declination_deg,
                "axes": [axis.value for axis in step.axes],
                "distance_deg": step.distance_deg,
                "distance_field": step.distance_field,
                "clockwise_deg": _seen(found, step.present, step.position_angle_deg),
                "chance": step.chance,
            }
            for step in hop.steps
        ],
        "weakest": None if hop.weakest is None else hop.weakest.value,
        "helps": [
            {"kind": one.kind.value, "figure": one.figure, "chance": one.chance}
            for one in hop.helps
        ],
    }


def _hop_star(found: Finding, star: HopStar) -> HopStarData:
    return {
        "number": star.number,
        "names": list(found.star_names.get(star.number, ())),
        "magnitude_v": star.magnitude_v,
        "pattern": star.pattern.kind.value,
        "partners": [
            {
                "clockwise_deg": _seen(found, star, one.position_angle_deg) or 0.0,
                "separation_deg": one.separation_deg,
                "separation_field": one.separation_field,
                "fainter_mag": one.fainter_mag,
            }
            for one in star.pattern.partners
        ],
    }


def _seen(found: Finding, middle: HopStar, position_angle_deg: float) -> float | None:
    finder = found.views.finder
    if finder is None:
        return None
    north = found.north_deg.get(middle.number, finder.turned.north_deg)
    return float(seen_angle_deg(position_angle_deg, north, finder.turned.mirrored))


def _sweep(searched: Sweep) -> SweepData:
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


def views_data(found: Finding) -> list[ViewData]:
    """The fields on the way: bare eye, finder, weakest and planned eyepiece."""
    views = found.views
    all_of_them = (views.bare_eye, views.finder, views.weakest, views.planned)
    return [view_data(view) for view in all_of_them if view is not None]


def view_data(view: FieldView) -> ViewData:
    """One instrument's field."""
    seen = view.outline
    return {
        "instrument": view.instrument.kind.value,
        "label": view.instrument.label,
        "magnification": view.instrument.magnification,
        "field_deg": 2.0 * view.radius_deg,
        "mirrored": view.turned.mirrored,
        "north_deg": view.turned.north_deg,
        "drift_deg": view.turned.drift_deg,
        "zenith_deg": view.turned.zenith_deg,
        "limit_mag": view.limit_mag,
        "times_as_many": view.times_as_many,
        "stars": [
            [round(float(x), 4), round(float(y), 4), round(float(v), 2)]
            for x, y, v in zip(view.x, view.y, view.magnitude_v, strict=True)
        ],
        "outline": None
        if seen is None
        else [seen.x, seen.y, seen.semi_major, seen.semi_minor, seen.major_deg],
    }
