"""What does a program get to know about the place for the tripod? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.ground.spot.around import PlaceVerdict, StepAway
from axletree.stages.set_up.spot import BestPlace, SpotAnswer
from axletree.tell.shared.skyline_data import UnknownSkyline, unknown_skyline
from axletree.tell.spot.text import assumed_words, blocker_name, caution_words, pole_star_word

SKYLINE_STEP_DEG = 5


class ObjectHours(TypedDict):
    """One object: hours clear at the best place, and under an open sky."""

    name: str
    clear_h: float
    open_sky_h: float


class BestPlaceData(TypedDict):
    """The best place, in metres of the plan, and what it gives; the score is 0-100."""

    x_m: float
    y_m: float
    score: float
    pole_clearance_deg: float
    object_hours: float
    view_share: float
    objects: list[ObjectHours]


class StepData(TypedDict):
    """What a step towards a true azimuth costs, and whether that place may be used."""

    azimuth_deg: float
    distance_m: float
    verdict: str
    allowed: bool
    acceptable: bool
    score_lost: float
    object_hours_lost: float
    pole_clearance_deg: float | None


class BlockerData(TypedDict):
    """What hides the pole star, from which share of the places."""

    name: str
    measured_skyline: bool
    share: float


class SpotData(TypedDict):
    """The answer of `axletree spot`; codes and, beside them, sentences.

    `best` is null where no place will do; `no_place_code` then says why. `darkness_code` says
    which hours count. `skyline`: azimuth and altitude at the best place, each 5 degrees.
    """

    version: Literal[1]
    best: BestPlaceData | None
    no_place_code: str | None
    acceptable_share: float
    places: int
    spacing_m: float
    pole_star: str
    pole_needed: bool
    pole_margin_deg: float
    pole_on_horizon: bool
    dark_hours: float
    darkness_code: str
    sun_depression_deg: float
    step_away: list[StepData]
    pole_hidden_by: list[BlockerData]
    skyline: list[tuple[int, float]] | None
    skyline_unknown: list[UnknownSkyline]
    caution_codes: list[str]
    cautions: list[str]
    guessed: list[str]
    assumed: list[str]


def spot_data(answer: SpotAnswer) -> SpotData:
    """The answer for programs."""
    scores, wanted = answer.scores, answer.wanted
    none = answer.no_place
    return {
        "version": 1,
        "best": None if answer.best is None else _best_data(answer, answer.best),
        "no_place_code": None if none is None else none.value,
        "acceptable_share": float(scores.acceptable.sum() / max(1, scores.allowed.sum())),
        "places": int(scores.allowed.sum()),
        "spacing_m": scores.spacing_m,
        "pole_star": pole_star_word(wanted),
        "pole_needed": wanted.pole_needed,
        "pole_margin_deg": wanted.pole_margin_deg,
        "pole_on_horizon": wanted.pole_on_horizon,
        "dark_hours": wanted.dark_hours,
        "darkness_code": wanted.dark.value,
        "sun_depression_deg": wanted.depression_deg,
        "step_away": [_step_data(step) for step in answer.steps],
        "pole_hidden_by": [
            {"name": blocker_name(b), "measured_skyline": b.name is None, "share": b.share}
            for b in answer.hidden_by
        ],
        "skyline": _skyline_data(answer),
        "skyline_unknown": unknown_skyline(answer.far),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "guessed": list(answer.guessed),
        "assumed": assumed_words(answer),
    }


def _best_data(answer: SpotAnswer, best: BestPlace) -> BestPlaceData:
    opened = answer.scores.open_hours
    return {
        "x_m": round(best.x_m, 4),
        "y_m": round(best.y_m, 4),
        "score": best.score,
        "pole_clearance_deg": best.pole_clearance_deg,
        "object_hours": best.object_hours,
        "view_share": best.view_share,
        "objects": [
            {"name": name, "clear_h": round(clear, 3), "open_sky_h": round(float(total), 3)}
            for name, clear, total in zip(answer.wanted.names, best.hours, opened, strict=True)
        ],
    }


def _step_data(step: StepAway) -> StepData:
    room = step.verdict is not PlaceVerdict.NO_ROOM
    return {
        "azimuth_deg": step.azimuth_deg,
        "distance_m": step.distance_m,
        "verdict": step.verdict.value,
        "allowed": room,
        "acceptable": step.verdict is PlaceVerdict.USABLE,
        "score_lost": step.score_lost,
        "object_hours_lost": step.hours_lost,
        "pole_clearance_deg": step.pole_clearance_deg if room else None,
    }


def _skyline_data(answer: SpotAnswer) -> list[tuple[int, float]] | None:
    if answer.horizon is None:
        return None
    top = answer.horizon.altitude_at
    return [(a, round(float(top(a)), 2)) for a in range(0, 360, SKYLINE_STEP_DEG)]
