"""What does a program get to know about how an object is found? Keys carry units."""

from __future__ import annotations

import math
from typing import Literal

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.find.start_star import StartStar
from axletree.find.turning.sweep import Sweep
from axletree.stages.target.find import FindAnswer
from axletree.tell.eyepiece.data import eyepiece_data
from axletree.tell.eyepiece.forms import AtEyepieceData
from axletree.tell.find.forms.hop import HopData, hop_data
from axletree.tell.find.forms.steps import (
    ParallelData,
    StepsData,
    SweepData,
    parallel_data,
    steps_data,
    sweep_data,
)
from axletree.tell.find.forms.view import ViewData, views_data
from axletree.tell.find.forms.where import WhereToLookData, where_data
from axletree.tell.find.learned_text import learned_of, reckoned_words
from axletree.tell.find.sight_text import body_turn, sight_words
from axletree.tell.find.text import CAUTIONS, find_text
from axletree.tell.orbit.data import OrbitData, orbit_data
from axletree.tell.point.circles_data import StateData, state_data
from axletree.tell.sayings.text import sayings_of


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
    """The answer of `axletree find --json`; parts are None where there is no such way.

    `state`: by which notes the mount is known, None: nobody measured it. `shows_from`: where the
    sky is too light now, from when on it isn't. `reached_from`: where the tube doesn't reach it
    now, from when on it does, on `reached_side`. `chance_range`: of a learned chance, one standard
    deviation to both sides.
    """

    version: Literal[1]
    object: str
    kind: str
    at: str
    ended: str | None
    shows_from: str | None
    reached_from: str | None
    reached_side: str | None
    side: str | None
    first: str | None
    chance: float | None
    chance_sigma: float | None
    chance_range: list[float] | None
    where_to_look: WhereToLookData | None
    start_refused: str | None
    steps: StepsData | None
    parallel: ParallelData | None
    hop: HopData | None
    sweep: SweepData | None
    views: list[ViewData]
    sight: SightData | None
    eyepiece: AtEyepieceData | None
    orbit: OrbitData | None
    sayings: list[str]
    learned: list[LearnedWayData]
    state: StateData | None
    reckoned_with: str
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
    opens = answer.opens
    return {
        "version": 1,
        "object": answer.thing.name,
        "kind": answer.thing.kind,
        "at": answer.at.isoformat(),
        "ended": refused,
        "shows_from": None if answer.shows_from is None else answer.shows_from.isoformat(),
        "reached_from": None if opens is None else opens.at.isoformat(),
        "reached_side": None if opens is None else opens.side,
        "side": answer.side,
        "first": None if found is None or found.first is None else found.first.value,
        "chance": None if found is None else found.chance,
        "chance_sigma": None if found is None else chance_sigma(found),
        "chance_range": None if found is None else chance_range(found),
        "where_to_look": None if found is None else where_data(found),
        "start_refused": None if start is None or isinstance(start, StartStar) else start.value,
        "steps": None if found is None else steps_data(found),
        "parallel": None if beside is None else parallel_data(beside),
        "hop": None if found is None or found.hop is None else hop_data(found, found.hop),
        "sweep": sweep_data(found.sweep) if found and isinstance(found.sweep, Sweep) else None,
        "views": [] if found is None else views_data(found),
        "sight": sight_data(answer),
        "eyepiece": _eyepiece(answer),
        "orbit": orbit_data(answer.thing),
        "sayings": [] if found is None else list(sayings_of(answer.thing.name)),
        "learned": [] if found is None else learned_data(found),
        "state": _state(answer),
        "reckoned_with": reckoned_words(answer),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": [CAUTIONS[caution] for caution in answer.cautions],
        "words": find_text(answer),
    }


def _state(answer: FindAnswer) -> StateData | None:
    if answer.state is None or answer.model is None:
        return None
    return state_data(answer.state)


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


def chance_range(found: Finding) -> list[float] | None:
    """The same from its low to its high end (0-1), which don't lie evenly about it."""
    way = learned_of(found, found.first)
    return None if way is None or found.chance is None else list(way.told_range(found.chance))


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


def _eyepiece(answer: FindAnswer) -> AtEyepieceData | None:
    if answer.question is None:
        return None
    turn, power = body_turn(answer)
    return eyepiece_data(answer.question.body, turn, power, answer.kit.site.zone)
