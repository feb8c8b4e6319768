"""What does a program get to know about how an object is found? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.find.start_star import StartStar
from axletree.find.turning.sweep import Sweep
from axletree.stages.target.find import FindAnswer
from axletree.tell.eyepiece.data import AtEyepieceData, eyepiece_data
from axletree.tell.find.hop_data import HopData, hop_data
from axletree.tell.find.learned_data import LearnedWayData, chance_sigma, learned_data
from axletree.tell.find.steps_data import (
    ParallelData,
    StepsData,
    SweepData,
    parallel_data,
    steps_data,
    sweep_data,
)
from axletree.tell.find.sight_text import body_turn
from axletree.tell.find.text import CAUTIONS, find_text
from axletree.tell.find.view_data import SightData, ViewData, sight_data, views_data
from axletree.tell.find.where_data import WhereToLookData, where_data


class FindData(TypedDict):
    """The answer of `axletree find --json`; parts are None where there is no such way.

    `shows_from`: where the sky is too light now, from when on it isn't.
    """

    version: Literal[1]
    object: str
    kind: str
    at: str
    ended: str | None
    shows_from: str | None
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
        "shows_from": None if answer.shows_from is None else answer.shows_from.isoformat(),
        "side": answer.side,
        "first": None if found is None or found.first is None else found.first.value,
        "chance": None if found is None else found.chance,
        "chance_sigma": None if found is None else chance_sigma(found),
        "where_to_look": None if found is None else where_data(found),
        "start_refused": None if start is None or isinstance(start, StartStar) else start.value,
        "steps": None if found is None else steps_data(found),
        "parallel": None if beside is None else parallel_data(beside),
        "hop": None if found is None or found.hop is None else hop_data(found, found.hop),
        "sweep": sweep_data(found.sweep) if found and isinstance(found.sweep, Sweep) else None,
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
