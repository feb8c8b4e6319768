"""In which sentences are told a star on the object's parallel, and the search around a place?"""

from __future__ import annotations

from axletree.find.finding import Finding
from axletree.find.turning.sweep import Sweep, SweepRefusal, SweptBy
from axletree.stages.target.find import FindAnswer
from axletree.tell.shared.words import chance_words

MOST_LEGS_TOLD = 8
_SWEEP_REFUSED = {
    SweepRefusal.NO_KNOB: "Not there? Without two knobs whose turns are counted nobody can search "
    "in turns: go back to the star and come again.",
    SweepRefusal.OUT_OF_REACH: "Not there? So near to the pole go back to the star and come again.",
}


def parallel_words(answer: FindAnswer) -> list[str]:
    """The oldest way: a star of the same declination, then one knob, or patience."""
    found = answer.finding
    if found is None or found.parallel is None:
        return []
    beside = found.parallel
    rows = [
        f"Centre {beside.star.names[0]} (magnitude {beside.star.magnitude_v:.1f}) and leave the "
        "declination alone."
    ]
    if beside.hour_turns is not None and beside.turns_sigma is not None:
        rows.append(
            f"Hour knob: {abs(beside.hour_turns):.2f} ± {beside.turns_sigma:.2f} turns "
            f"{sense_words(beside.hour_turns)}. Chance {chance_words(beside.by_turns.eyepiece)}."
        )
    if beside.wait_minutes is not None and beside.by_waiting is not None:
        rows.append(
            f"Or touch nothing: the sky brings it in {beside.wait_minutes:.0f} ± "
            f"{beside.wait_sigma_minutes or 0.0:.1f} min. Chance {chance_words(beside.by_waiting)}."
        )
    return rows


def sweep_words(found: Finding) -> list[str]:
    """The search around the place, leg by leg."""
    searched = found.sweep
    if not isinstance(searched, Sweep) or not searched.legs:
        return [no_search_words(found)]
    rows = [
        f"{number}. {'Hour' if leg.by is SweptBy.HOUR else 'Declination'} knob "
        f"{abs(leg.turns):.2f} turn {sense_words(leg.turns)}; "
        f"until here {chance_words(leg.chance)}."
        for number, leg in enumerate(searched.legs[:MOST_LEGS_TOLD], 1)
    ]
    if len(searched.legs) > MOST_LEGS_TOLD:
        rows.append(f"And so on, wider each time, to leg {len(searched.legs)}.")
    return [*rows, "Still not there: back to the star, and count again."]


def no_search_words(found: Finding) -> str:
    """What to do where there is nothing to search through; '' where there is."""
    searched = found.sweep
    if searched is None:
        return "Go back to the star and come again."
    if not isinstance(searched, Sweep):
        return _SWEEP_REFUSED[searched]
    if not searched.legs:
        return "It is there, or the count was wrong: go back to the star and come again."
    return ""


def sense_words(turns: float) -> str:
    """Which way a knob turns for so many turns."""
    return "clockwise" if turns > 0 else "anticlockwise"
