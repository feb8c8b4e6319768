"""How is the best place for the tripod told?"""

from __future__ import annotations

from typing import Any

import numpy as np

from axletree.ground.spot.around import Step
from axletree.ground.spot.best import SpotAnswer
from axletree.ground.spot.directions import Wishes
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.skyline_data import unknown_skyline
from axletree.tell.shared.words import compass_point, length

CAUTIONS = (
    "Walk the place by daylight: holes, cables, low branches; keep legs and cords out of where "
    "people will stand, and mark them in the dark.",
)
MOST_LISTED = 12


def spot_text(found: SpotAnswer, site_name: str, date_words: str, units: str) -> str:
    """The answer as text: the place, what it gives, a step away, what was assumed."""
    head = f"Where to put the tripod: {site_name}, night of {date_words}"
    if found.scores.best is None:
        body = [paragraph(no_place_words(found, units))]
    else:
        body = [
            paragraph(_best_words(found, units)),
            _steps(found, units),
            _objects(found),
            _pole_words(found),
        ]
    notes = [f"{note}." for note in found.notes]
    return sections(head, *body, listed("Cautions", CAUTIONS), listed("Assumed", notes))


def place_words(place: tuple[float, float], units: str) -> str:
    """'7.0 m across and 5.4 m up the plan'."""
    factor, unit = (3.280839895, "ft") if units == "us" else (1.0, "m")
    return f"{place[0] * factor:.1f} {unit} across and {place[1] * factor:.1f} {unit} up the plan"


def _best_words(found: SpotAnswer, units: str) -> str:
    scores, wishes = found.scores, found.wishes
    assert scores.best is not None
    assert scores.best_place_m is not None
    row, column = scores.best
    clearance = scores.pole_clearance_deg[row, column]
    if clearance >= 0.0:
        pole = f"{wishes.pole_name} stays {clearance:.1f}° or more above the skyline"
    else:
        pole = f"{wishes.pole_name} is hidden there by {-clearance:.1f}°"
    hours = float(scores.hours_clear[:, row, column].sum())
    total = float(scores.open_hours.sum())
    seen = ""
    if total > 0.0:
        seen = (
            f"; the {len(wishes.names)} objects stand clear for {hours:.0f} of the {total:.0f} "
            f"hours they would under an open sky ({100 * hours / total:.0f} %)"
        )
    views = ""
    if wishes.views:
        views = f"; {100 * scores.view_share[row, column]:.0f} % of the wanted views are free"
    where = f"Best place: {place_words(scores.best_place_m, units)}"
    if not found.planned:
        where = "The spot will do (a [yard] plan in the kit would let places be compared)"
    pole = pole[:1].upper() + pole[1:]
    return f"{where}, score {scores.score[row, column]:.0f} of 100. {pole}{seen}{views}."


def _steps(found: SpotAnswer, units: str) -> str:
    steps, wishes = found.steps, found.wishes
    if not steps or not found.planned:
        return ""
    rows = [f"A step ({length(steps[0].distance_m * 1000, units)}) away"]
    for step in steps:
        rows.append(f"  {compass_point(step.azimuth_deg):<18}{step_words(step, wishes)}")
    return "\n".join(rows)


def step_words(step: Step, wishes: Wishes) -> str:
    """What a step costs."""
    if not step.allowed:
        return "no place for a tripod"
    if not step.acceptable:
        if wishes.pole_needed and step.pole_clearance_deg < wishes.pole_margin_deg:
            return f"{wishes.pole_name} is hidden or too near the skyline"
        return "no object stands clear any more"
    hours = step.hours_lost
    lost = "nothing lost" if abs(hours) < 0.05 else (
        f"{abs(hours):.1f} object-hours {'lost' if hours > 0 else 'gained'}"
    )  # fmt: skip
    points = ""
    if wishes.views and abs(step.score_lost) >= 0.5:
        points = f", score {'−' if step.score_lost > 0 else '+'}{abs(step.score_lost):.0f}"
    return f"{lost}{points}; {wishes.pole_name} {step.pole_clearance_deg:.1f}° clear"


def _objects(found: SpotAnswer) -> str:
    """The objects that lose most at the best place."""
    scores, wishes = found.scores, found.wishes
    if scores.best is None or not wishes.names:
        return ""
    hours = scores.hours_clear[:, scores.best[0], scores.best[1]]
    lost = scores.open_hours - hours
    order = np.argsort(-lost)
    rows = [
        f"{wishes.names[i]}: clear {hours[i]:.1f} of {scores.open_hours[i]:.1f} h"
        for i in order[:MOST_LISTED]
        if lost[i] >= 0.1
    ]
    return listed("Objects that the skyline cuts into most", rows)


def _pole_words(found: SpotAnswer) -> str:
    if not found.hidden_by or not found.planned:
        return ""
    parts = [f"{name} from {_percent(share)} of the area" for name, share in found.hidden_by]
    return paragraph(f"{found.wishes.pole_name} is hidden by " + ", ".join(parts) + ".")


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else "less than 1 %"


def no_place_words(found: SpotAnswer, units: str) -> str:
    """Why no place will do, and what to do then."""
    scores, wishes, miss = found.scores, found.wishes, found.nearest_miss
    if not scores.allowed.any():
        return (
            "No place will do: area_m minus what is kept free leaves no room for a tripod. Make "
            "the area larger, or the keep-out places smaller."
        )
    if wishes.pole_needed and miss is not None and miss[2] < wishes.pole_margin_deg:
        parts = [f"{name} from {_percent(share)} of it" for name, share in found.hidden_by]
        by = " and ".join(parts) if parts else "the skyline all over it"
        short = wishes.pole_margin_deg - miss[2]
        if not found.planned:
            return (
                f"This spot doesn't show {wishes.pole_name} with {wishes.pole_margin_deg:g}° to "
                f"spare: {short:.1f}° are lacking, behind the measured skyline. Move, or align by "
                "level, north, latitude scale and drift (--no-pole judges the rest)."
            )
        return (
            f"No place in the area shows {wishes.pole_name} with {wishes.pole_margin_deg:g}° to "
            f"spare: it is hidden by {by}. The nearest miss is "
            f"{place_words((miss[0], miss[1]), units)}, where {short:.1f}° are lacking. Choose "
            "the place for the objects with --no-pole, and align by level, north, latitude scale "
            "and drift instead."
        )
    return (
        "No place will do: from nowhere in the area does any of the objects rise clear of the "
        f"skyline above {wishes.lowest_altitude_deg:g}° in the dark hours."
    )


def spot_data(found: SpotAnswer) -> dict[str, Any]:
    """The answer for programs; keys carry units."""
    scores, wishes = found.scores, found.wishes
    best: dict[str, Any] | None = None
    if scores.best is not None and scores.best_place_m is not None:
        row, column = scores.best
        best = {
            "x_m": round(scores.best_place_m[0], 4),
            "y_m": round(scores.best_place_m[1], 4),
            "score": float(scores.score[row, column]),
            "pole_clearance_deg": float(scores.pole_clearance_deg[row, column]),
            "object_hours": float(scores.hours_clear[:, row, column].sum()),
            "view_share": float(scores.view_share[row, column]),
            "objects": [
                {
                    "name": name,
                    "clear_h": round(float(scores.hours_clear[i, row, column]), 3),
                    "open_sky_h": round(float(scores.open_hours[i]), 3),
                }
                for i, name in enumerate(wishes.names)
            ],
        }
    return {
        "best": best,
        "acceptable_share": float(scores.acceptable.sum() / max(1, scores.allowed.sum())),
        "places": int(scores.allowed.sum()),
        "spacing_m": scores.spacing_m,
        "pole_star": wishes.pole_name,
        "pole_needed": wishes.pole_needed,
        "pole_margin_deg": wishes.pole_margin_deg,
        "dark_hours": wishes.dark_hours,
        "sun_depression_deg": wishes.depression_deg,
        "step_away": [
            {
                "azimuth_deg": step.azimuth_deg,
                "distance_m": step.distance_m,
                "allowed": step.allowed,
                "acceptable": step.acceptable,
                "score_lost": step.score_lost,
                "object_hours_lost": step.hours_lost,
                "pole_clearance_deg": step.pole_clearance_deg if step.allowed else None,
            }
            for step in found.steps
        ],
        "pole_hidden_by": [{"name": name, "share": share} for name, share in found.hidden_by],
        "skyline": None if found.horizon is None else [
            [azimuth, round(float(found.horizon.altitude_at(azimuth)), 2)]
            for azimuth in range(0, 360, 5)
        ],
        "skyline_unknown": unknown_skyline(found.far),
        "cautions": list(CAUTIONS),
        "assumed": list(found.notes),
    }  # fmt: skip
