"""In which sentences is the best place for the tripod told, on screen, drawing and page?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.ground.spot.around import Blocker, NearestMiss, PlaceVerdict, StepAway
from axletree.ground.spot.directions import DarkHours, WantedDirections
from axletree.stages.set_up.spot import BestPlace, SpotAnswer, SpotCaution
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.shared.guessed import of_tripod
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    above_ground,
    capital,
    compass_point,
    day_words,
    length,
    small,
)
from axletree.tell.skyline.text import skyline_words

MOST_LISTED = 12
FEET_PER_M = 3.280839895
FROM_THERE = "The skyline from there"
CAUTIONS = {
    SpotCaution.WALK_BY_DAYLIGHT: (
        "Walk the place by daylight: holes, cables, low branches; keep legs and cords out of "
        "where people will stand, and mark them in the dark."
    ),
}


def spot_text(answer: SpotAnswer) -> str:
    """The answer as text: the place, what it gives, a step away, what was assumed."""
    head = f"Where to put the tripod: {answer.site_name}, night of {day_words(answer.evening)}"
    if answer.best is None:
        body = [paragraph(" ".join(no_place_words(answer)))]
    else:
        body = [
            paragraph(best_words(answer, answer.best)),
            _steps(answer),
            _objects(answer, answer.best),
            _pole_words(answer),
        ]
    notes = [f"{note}." for note in assumed_words(answer)]
    return sections(
        head, *body, listed("Cautions", caution_words(answer)), listed("Assumed", notes)
    )


def pole_star_word(wanted: WantedDirections) -> str:
    """The pole star's name, or 'the pole' where there is no darkness to see it in."""
    return wanted.pole_star or "the pole"


def blocker_name(blocker: Blocker) -> str:
    """What hides the pole: an obstacle of the plan, or what lies beyond it."""
    return blocker.name or "the measured skyline"


def plan_length(value_m: float, units: str) -> str:
    return f"{value_m * FEET_PER_M:.1f} ft" if units == "us" else f"{value_m:.1f} m"


def _place_words(place: BestPlace | NearestMiss, units: str) -> str:
    """'7.0 m across and 5.4 m up the plan'."""
    return f"{plan_length(place.x_m, units)} across and {plan_length(place.y_m, units)} up the plan"


def best_words(answer: SpotAnswer, best: BestPlace) -> str:
    """The best place and what it gives."""
    wanted = answer.wanted
    clearance = best.pole_clearance_deg
    if clearance >= 0.0:
        pole = f"{pole_star_word(wanted)} stays {clearance:.1f}° or more above the skyline"
    else:
        pole = f"{pole_star_word(wanted)} is hidden there by {-clearance:.1f}°"
    total = answer.open_object_hours
    seen = ""
    if total > 0.0:
        seen = (
            f"; the {len(wanted.names)} objects stand clear for {best.object_hours:.0f} of the "
            f"{total:.0f} hours they would under an open sky "
            f"({100 * best.object_hours / total:.0f} %)"
        )
    views = ""
    if wanted.views:
        views = f"; {100 * best.view_share:.0f} % of the wanted views are free"
    where = f"Best place: {_place_words(best, answer.units)}"
    if not answer.planned:
        where = "The spot will do (a [yard] plan in the kit would let places be compared)"
    pole = capital(pole)
    return f"{where}, score {best.score:.0f} of 100. {pole}{seen}{views}."


def _steps(answer: SpotAnswer) -> str:
    if not answer.steps or not answer.planned:
        return ""
    rows = [f"A step ({length(answer.steps[0].distance_m * 1000, answer.units)}) away"]
    for step in answer.steps:
        rows.append(f"  {compass_point(step.azimuth_deg):<18}{step_words(step, answer.wanted)}")
    return "\n".join(rows)


def step_words(step: StepAway, wanted: WantedDirections) -> str:
    """What a step costs."""
    pole = pole_star_word(wanted)
    words = {
        PlaceVerdict.NO_ROOM: "no place for a tripod",
        PlaceVerdict.POLE_HIDDEN: f"{pole} is hidden or too near the skyline",
        PlaceVerdict.NO_OBJECT: "no object stands clear any more",
    }
    if step.verdict in words:
        return words[step.verdict]
    hours = step.hours_lost
    lost = "nothing lost"
    if abs(hours) >= 0.05:
        lost = f"{abs(hours):.1f} object-hours {'lost' if hours > 0 else 'gained'}"
    points = ""
    if wanted.views and abs(step.score_lost) >= 0.5:
        points = f", score {'−' if step.score_lost > 0 else '+'}{abs(step.score_lost):.0f}"
    return f"{lost}{points}; {pole} {step.pole_clearance_deg:.1f}° clear"


def _objects(answer: SpotAnswer, best: BestPlace) -> str:
    """The objects that lose most at the best place."""
    names, opened = answer.wanted.names, answer.scores.open_hours
    hours = np.array(best.hours, dtype=np.float32)
    lost = opened - hours
    rows = [
        f"{names[i]}: clear {hours[i]:.1f} of {opened[i]:.1f} h"
        for i in np.argsort(-lost)[:MOST_LISTED]
        if lost[i] >= 0.1
    ]
    return listed("Objects that the skyline cuts into most", rows)


def _pole_words(answer: SpotAnswer) -> str:
    if not answer.hidden_by or not answer.planned:
        return ""
    parts = [f"{blocker_name(b)} from {_percent(b.share)} of the area" for b in answer.hidden_by]
    return paragraph(f"{pole_star_word(answer.wanted)} is hidden by {_comma(parts)}.")


def _comma(parts: Sequence[str]) -> str:
    return ", ".join(parts)


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else "less than 1 %"


def no_place_words(answer: SpotAnswer) -> tuple[str, str]:
    """That no place will do, and why, with what to do then."""
    wanted, miss = answer.wanted, answer.nearest_miss
    if answer.no_place is PlaceVerdict.POLE_HIDDEN and miss is not None:
        return _pole_hidden_words(answer, miss)
    if answer.no_place is PlaceVerdict.NO_ROOM:
        why = (
            "area_m minus what is kept free leaves no room for a tripod. Make the area larger, "
            "or the keep-out places smaller."
        )
    else:
        why = (
            "from nowhere in the area does any of the objects rise clear of the skyline above "
            f"{wanted.lowest_altitude_deg:g}° in the dark hours."
        )
    return "No place will do:", why


def _pole_hidden_words(answer: SpotAnswer, miss: NearestMiss) -> tuple[str, str]:
    wanted = answer.wanted
    pole, margin = pole_star_word(wanted), wanted.pole_margin_deg
    short = margin - miss.pole_clearance_deg
    if not answer.planned:
        return (
            f"This spot doesn't show {pole} with {margin:g}° to spare:",
            f"{short:.1f}° are lacking, behind the measured skyline. Move, or align by level, "
            "north, latitude scale and drift (--no-pole judges the rest).",
        )
    parts = [f"{blocker_name(b)} from {_percent(b.share)} of it" for b in answer.hidden_by]
    by = " and ".join(parts) if parts else "the skyline all over it"
    return (
        f"No place in the area shows {pole} with {margin:g}° to spare:",
        f"it is hidden by {by}. The nearest miss is {_place_words(miss, answer.units)}, where "
        f"{short:.1f}° are lacking. Choose the place for the objects with --no-pole, and align "
        "by level, north, latitude scale and drift instead.",
    )


def page_words(answer: SpotAnswer) -> dict[str, str]:
    """The lines at the head of the page where no place will do; empty where one does."""
    if answer.best is not None:
        return {"answer": "", "because": ""}
    head, why = no_place_words(answer)
    if answer.no_place is PlaceVerdict.POLE_HIDDEN:
        return {"answer": "No place will do", "because": f"{head} {why}"}
    return {"answer": "No place will do", "because": why}


def caution_words(answer: SpotAnswer) -> list[str]:
    """The cautions, a sentence or two each."""
    return [CAUTIONS[caution] for caution in answer.cautions]


def assumed_words(answer: SpotAnswer) -> list[str]:
    """What the answer takes for granted, without full stops."""
    far = skyline_words(answer.far)
    wanted = wanted_words(answer.wanted)
    if not answer.planned:
        bare = "the kit has no [yard]: one place under the measured skyline is judged"
        return [*wanted, bare, *far]
    return [
        *wanted,
        f"the axes {above_ground(answer.axes_height_m * 1000, answer.units)} above the ground, "
        f"{plan_length(answer.elbow_m, answer.units)} kept "
        "between the tripod's middle and any obstacle; what lies under a tree's crown counts as "
        "blocked",
        f"grid of {answer.scores.spacing_m:g} m; the kit's measured skyline stands around every "
        "place",
        *far,
        *(
            f"guessed, not measured: {small(dimension_words(key))}"
            for key in of_tripod(answer.guessed)
        ),
    ]


def wanted_words(wanted: WantedDirections) -> list[str]:
    """What was taken of hours, objects and pole, without full stops."""
    notes = []
    dark = {
        DarkHours.DEEP_TWILIGHT: ("it doesn't get fully dark: hours with the Sun below -12° count"),
        DarkHours.LIGHT_TWILIGHT: "it doesn't get dark: hours with the Sun below -6° count",
        DarkHours.NONE: (
            f"no darkness this night, the Sun is lowest at {wanted.lowest_sun_deg or 0.0:.1f}°: "
            "only pole and views count"
        ),
    }
    if wanted.dark in dark:
        notes.append(dark[wanted.dark])
    if wanted.chosen:
        count = len(wanted.names)
        notes.append(f"objects: the {count} brightest of the planets and Messier's list")
    if wanted.pole_on_horizon:
        notes.append(
            f"the pole stands {wanted.refracted_pole_deg:.1f}° high, on the horizon: no place "
            "shows it with a margin, so it isn't asked for; align by level, north, latitude "
            "scale and drift"
        )
    return notes
