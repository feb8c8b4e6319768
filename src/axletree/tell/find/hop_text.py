"""In which sentences is told how a finder goes from star to star to an object?"""

from __future__ import annotations

from axletree.find.finding import FindBy, Finding
from axletree.find.hopping.answer import (
    HopAnswer,
    HopHelp,
    HopHelpKind,
    HopOutcome,
    HopStar,
    HopStep,
    MoveAxis,
    Partner,
    WeakPart,
)
from axletree.find.hopping.hop import way_radius_deg
from axletree.find.hopping.pattern import PatternKind
from axletree.find.start_star import StartStar
from axletree.find.steps import Steps
from axletree.find.view import seen_angle_deg
from axletree.stages.target.find import FindAnswer
from axletree.stages.target.hop_views import hop_turns_deg
from axletree.tell.find.learned_text import source_words
from axletree.tell.find.view_text import half_hour
from axletree.tell.shared.paragraphs import listed
from axletree.tell.shared.words import capital, chance_words, magnitude

_TURN_TOLD_DEG = 15.0  # half an hour of a dial, to which places in a view are told
_OUTCOMES = {
    HopOutcome.SHOWS: "It shows in the finder itself: aim the finder at its place.",
    HopOutcome.HOP: "",
    HopOutcome.UNSURE: "This hop is not sure enough to rely on.",
    HopOutcome.NO_START: "No star near it is bright enough to begin at with the bare eye.",
    HopOutcome.NO_CHAIN: "The stars stand farther apart than the finder's field is wide.",
}
_WEAK = {
    WeakPart.START: "Its weakest part: the first star may be the wrong one.",
    WeakPart.STAR: "Its weakest part: a star on the way may be the wrong one.",
    WeakPart.ARRIVAL: "Its weakest part: the last move may miss the eyepiece's field.",
}
_MAKES = {
    PatternKind.PAIR: "it makes a pair with",
    PatternKind.BRIGHTER_NEIGHBOUR: "a much brighter star stands beside it:",
    PatternKind.TRIANGLE: "it makes a triangle with",
    PatternKind.ROW: "it stands in a row with",
}


def hop_text(answer: FindAnswer) -> str:
    """The hop as a section; '' without a finder that magnifies."""
    found = answer.finding
    if found is None or found.hop is None:
        return ""
    return listed("Star by star in the finder", hop_words(answer))


def hop_words(answer: FindAnswer) -> list[str]:
    """Each step twice, as turns of the axes and as seen, with its chance; or why there is none."""
    found = answer.finding
    hop = None if found is None else found.hop
    if found is None or hop is None:
        return []
    rows = [_OUTCOMES[hop.outcome]] if _OUTCOMES[hop.outcome] else []
    rows += [hop_start_words(found)] if hop_start_words(found) else []
    rows += [
        f"{number}. {' '.join(words)}" for number, words in enumerate(hop_step_words(answer), 1)
    ]
    return rows + _chances(found)


def hop_start_words(found: Finding) -> str:
    """The star to begin at; '' without a hop."""
    hop = found.hop
    if hop is None or hop.start is None or hop.start_chance is None:
        return ""
    return (
        f"Point the finder at {_star(found, hop.start)}.{_pattern(found, hop.start)} "
        f"Chance {chance_words(hop.start_chance)}."
    )


def hop_step_words(answer: FindAnswer) -> list[list[str]]:
    """For each step its sentences: the move, what confirms the star, the picture's turn, the
    chance."""
    found = answer.finding
    if found is None or found.hop is None:
        return []
    turns = hop_turns_deg(answer) or [0.0] * len(found.hop.steps)
    return [_step(found, step, turn) for step, turn in zip(found.hop.steps, turns, strict=True)]


def hop_picture_turns(answer: FindAnswer) -> list[bool]:
    """For each step whether the picture turns on its way by more than is read off a dial."""
    turns = hop_turns_deg(answer)
    return [abs(turn) >= _TURN_TOLD_DEG for turn in turns]


def hop_star_names(found: Finding, step: HopStep) -> dict[int, str]:
    """What stands beside both stars of a step in a drawing, by catalogue number."""
    names = {step.present.number: "here"}
    if step.following is not None:
        known = found.star_names.get(step.following.number, ())
        names[step.following.number] = f"next: {known[0]}" if known else "next"
    return names


def hop_end_words(found: Finding) -> list[str]:
    """How the question for a hop ended, its chance, and what would help."""
    hop = found.hop
    if hop is None:
        return []
    return ([_OUTCOMES[hop.outcome]] if _OUTCOMES[hop.outcome] else []) + _chances(found)


def _chances(found: Finding) -> list[str]:
    hop = found.hop
    if hop is None:
        return []
    rows = []
    if hop.chance is not None and hop.steps:
        source = source_words(found, FindBy.HOP, hop.chance)
        rows.append(f"In the weakest eyepiece then: chance {chance_words(hop.chance)}, {source}.")
    if hop.weakest is not None:
        rows.append(_WEAK[hop.weakest])
    if hop.weakest is WeakPart.START or hop.outcome is HopOutcome.NO_START:
        rows += _brightest_near(found)
    return rows + [_help(one) for one in hop.helps] + _counted(found, hop)


def _brightest_near(found: Finding) -> list[str]:
    """How bright the brightest star is that a hop could begin at, and how far it was looked for."""
    patch, finder = found.near_patch, found.views.finder
    if patch is None or finder is None:
        return []
    radius_deg = way_radius_deg(finder.instrument.true_field_deg)
    up = patch.stars.magnitude_v[patch.star_altitude_deg > 0.0]
    if not len(up):
        return []
    return [
        f"The brightest star within {radius_deg:.0f}° of it is of magnitude {magnitude(up[0])}."
    ]


def _counted(found: Finding, hop: HopAnswer) -> list[str]:
    """Whether counted turns are surer than a hop that isn't."""
    start, steps = found.start, found.steps
    if hop.outcome in (HopOutcome.HOP, HopOutcome.SHOWS):
        return []
    if not isinstance(steps, Steps) or not isinstance(start, StartStar):
        return []
    chance = steps.by_turns.eyepiece
    if steps.hour.turns is None or chance <= (hop.chance or 0.0):
        return []
    return [f"Counting turns from {start.names[0]} is surer: chance {chance_words(chance)}."]


def _star(found: Finding, star: HopStar) -> str:
    names = found.star_names.get(star.number, ())
    if names:
        return f"{names[0]} (magnitude {magnitude(star.magnitude_v)})"
    return f"the star of magnitude {magnitude(star.magnitude_v)}"


def _step(found: Finding, step: HopStep, turn_deg: float) -> list[str]:
    target = "The object's place" if step.following is None else _star(found, step.following)
    where = _clock(found, step.present, step.position_angle_deg)
    seen = f"{target} stands {where}, {_part(step)} away"
    confirmed = "" if step.following is None else _pattern(found, step.following).strip()
    rows = [f"{capital(seen)}; {_moves(step)} brings it to the middle.", confirmed]
    if abs(turn_deg) >= _TURN_TOLD_DEG:
        sense = "clockwise" if turn_deg > 0 else "anticlockwise"
        rows.append(
            f"Near the zenith the picture turns by {abs(turn_deg):.0f}° {sense} on the way."
        )
    return [row for row in (*rows, f"Chance {chance_words(step.chance)}.") if row]


def _part(step: HopStep) -> str:
    return f"{step.distance_field:.2f} of the field's width ({step.distance_deg:.1f}°)"


def _moves(step: HopStep) -> str:
    words = {
        MoveAxis.HOUR: f"{abs(step.hour_deg):.1f}° {'west' if step.hour_deg > 0 else 'east'} on "
        "the hour axis",
        MoveAxis.DECLINATION: f"{abs(step.declination_deg):.1f}° "
        f"{'north' if step.declination_deg > 0 else 'south'} in declination",
    }
    return " and ".join(words[axis] for axis in step.axes) or "hardly a turn"


def _clock(found: Finding, middle: HopStar, position_angle_deg: float) -> str:
    """Where it is seen in the finder with a star in the middle, the head upright."""
    finder = found.views.finder
    if finder is None:
        return "at 12"
    north = found.north_deg.get(middle.number, finder.turned.north_deg)
    mirrored = finder.turned.mirrored
    return half_hour(float(seen_angle_deg(position_angle_deg, north, mirrored)))


def _pattern(found: Finding, star: HopStar) -> str:
    made = star.pattern
    if made.kind is PatternKind.ALONE or not made.partners:
        return ""
    others = " and ".join(_partner(found, star, one) for one in made.partners)
    return f" You are right if {_MAKES[made.kind]} {others}."


def _partner(found: Finding, star: HopStar, one: Partner) -> str:
    if abs(one.fainter_mag) < 0.3:
        light = "as bright"
    else:
        light = f"{abs(one.fainter_mag):.1f} mag {'fainter' if one.fainter_mag > 0 else 'brighter'}"
    return (
        f"one {_clock(found, star, one.position_angle_deg)}, {one.separation_field:.2f} of the "
        f"field away, {light}"
    )


def _help(one: HopHelp) -> str:
    words = {
        HopHelpKind.WIDER_FINDER: f"A finder that shows {one.figure:.1f}° would help",
        HopHelpKind.WIDER_EYEPIECE: f"An eyepiece that shows {one.figure:.1f}° would help",
        HopHelpKind.DARKER_SKY: f"A sky that shows stars of {one.figure:.1f} would help",
        HopHelpKind.OTHER_START: f"Another first star, of magnitude {one.figure:.1f}, would help",
    }
    return f"{words[one.kind]}: chance {chance_words(one.chance)}."
