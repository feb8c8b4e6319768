"""In which sentences is the way told that needs no view of the pole: level, north, scale, drift?"""

from __future__ import annotations

import math

from axletree.pole.enough.rough import RoughAlignment, RoughStep, StepError
from axletree.stages.set_up.pole import NoView, PoleAnswer

NO_VIEW_WORDS = {
    NoView.TOO_BRIGHT: "the sky doesn't get dark enough tonight",
    NoView.BEHIND_SKYLINE: "the skyline hides the pole star",
    NoView.POLE_ON_HORIZON: "the pole stands on the horizon",
    NoView.NO_POLAR_SCOPE: "this mount has nothing to look along the axis with",
}
STEP_WORDS = {RoughStep.NORTH: "north", RoughStep.LEVEL: "level", RoughStep.SCALE: "scale"}


def no_view_words(answer: PoleAnswer) -> str:
    """Why the pole can't be sighted tonight; '' where it can."""
    return "" if answer.no_view is None else NO_VIEW_WORDS[answer.no_view]


def source_words(rough: RoughAlignment, step: RoughStep) -> str:
    """What the error of one step comes from."""
    if step is RoughStep.NORTH:
        return (
            f"compass ±{rough.compass_sigma_deg:.1f}°: field model "
            f"±{rough.magnetic_sigma_deg:.1f}°, reading ±{rough.compass_reading_sigma_deg:.1f}°"
        )
    if step is RoughStep.LEVEL:
        return f"bubble ±{rough.level_sigma_deg:.1f}°"
    return f"altitude scale ±{rough.scale_sigma_deg:.1f}°"


def rough_words(answer: PoleAnswer) -> list[str]:
    """The steps one by one with the error that each leaves."""
    rough = answer.rough
    rows = []
    for error in rough.errors:
        parts = []
        if error.high_arcmin >= 0.5:
            parts.append(f"±{error.high_arcmin:.0f}′ up and down")
        if error.east_arcmin >= 0.5:
            parts.append(f"±{error.east_arcmin:.0f}′ east and west")
        source = source_words(rough, error.step)
        left = ", ".join(parts) or "nothing to speak of"
        rows.append(f"{STEP_WORDS[error.step]}: {source}: {left}.")
    rows.append(
        f"together: ±{rough.high_sigma_arcmin:.0f}′ up and down, ±{rough.east_sigma_arcmin:.0f}′ "
        "east and west (one standard deviation)."
    )
    rows.append(_drift_words(answer))
    return rows


def _drift_words(answer: PoleAnswer) -> str:
    if not answer.drift_stars:
        return (
            "no stars come out tonight to measure drift with: take north from the Sun's shadow "
            "('axletree north'), which is better than the compass, and leave it at that."
        )
    rough = answer.rough
    once, twice = (math.hypot(*pair) for pair in rough.after_drift[:2])
    words = (
        "then measure the drift of two stars ('axletree check') and turn the bolts: about "
        f"±{once:.0f}′ is left after {rough.drift.minutes:.0f} min on each"
    )
    if once - twice >= 1.0:
        words += f", ±{twice:.0f}′ after a second round"
    longer = math.sqrt(2.0) * rough.drift.sigma_arcmin / 3.0
    return words + f"; three times as long leaves ±{longer:.0f}′."


def rough_page_words(rough: RoughAlignment) -> list[str]:
    """The same in short, for the page."""
    once = math.hypot(*rough.after_drift[0])
    return [
        *(_step_in_short(rough, error) for error in rough.errors),
        f"Together ±{rough.high_sigma_arcmin:.0f}′ up and down, "
        f"±{rough.east_sigma_arcmin:.0f}′ east and west; after the drift of two stars about "
        f"±{once:.0f}′.",
    ]


def _step_in_short(rough: RoughAlignment, error: StepError) -> str:
    largest = max(error.high_arcmin, error.east_arcmin)
    return f"{STEP_WORDS[error.step]}: {source_words(rough, error.step)}, ±{largest:.0f}′."
