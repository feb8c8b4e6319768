"""In which sentences is told how an object gets into the eyepiece?"""

from __future__ import annotations

from datetime import datetime

from axletree.find.finding import FindBy, Finding
from axletree.find.start_star import StartRefusal, StartStar
from axletree.find.steps import AxisTurn, Steps, StepsRefusal, Way
from axletree.find.turning.knobs import LockReason
from axletree.find.view import FieldView
from axletree.sky.time.nights import later
from axletree.stages.target.find import FindAnswer, FindCaution, FindEnd
from axletree.tell.find.hop_text import hop_text
from axletree.tell.find.learned_text import learned_of, reckoned_words, source_words
from axletree.tell.find.search_text import parallel_words, sense_words, sweep_words
from axletree.tell.find.sight_text import shown_words, sight_words
from axletree.tell.find.view_text import field_words, head_words
from axletree.tell.find.where_text import where_words
from axletree.tell.orbit.text import orbit_words
from axletree.tell.point.cautions_text import keeps_words, refusal_words
from axletree.tell.sayings.text import sayings_of
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    chance_words,
    clock,
    day_and_clock,
    degrees,
    duration,
    hours_minutes,
)
from axletree.tell.stop.circles_text import led_to_words

CAUTIONS = {
    FindCaution.CAPS_BY_DAY: "The Sun is up: caps on every tube and finder until it points away.",
    FindCaution.HOLD_THE_TUBE: "A hand on the tube whenever a lock is open.",
    FindCaution.LOOK_BEFORE_TURNING: "Look where the tube, the weights and the cords go first.",
}
TOWARDS = {Way.WEST: "west", Way.EAST: "east", Way.NORTH: "north", Way.SOUTH: "south"}
_LOCKS = {
    LockReason.NO_KNOB: "it has no knob",
    LockReason.TURNS_NOT_COUNTED: "nobody has counted its turns",
    LockReason.TURN_UNSURE: "its teeth are a guess, too rough for so far (count them by day, and "
    "the knob serves)",
    LockReason.BEYOND_THE_ARM: "the arm does not reach so far",
    LockReason.TOO_MANY_TURNS: "nobody counts so many turns",
}
_NO_START = {
    StartRefusal.NO_STAR: "it is no star",
    StartRefusal.BELOW_HORIZON: "it is below the horizon",
    StartRefusal.TOO_LOW: "it stands too low",
    StartRefusal.BEHIND_SKYLINE: "it is behind the skyline",
    StartRefusal.TOO_FAINT: "it is too faint for the bare eye under this sky",
    StartRefusal.OTHER_SIDE: "the tube would have to change sides on the way",
    StartRefusal.NO_ROOM: "the tube has no room there on this side",
    StartRefusal.NEAR_SUN: "it stands too near the Sun",
    StartRefusal.WAY_NEAR_SUN: "the way from it leads too near the Sun",
    StartRefusal.TOUCHES: "something would touch on the way",
    StartRefusal.AT_THE_POLE: "it stands so near the pole that its hour angle is no help",
}
_FIRST = {
    FindBy.BARE_EYE: "it is seen with the bare eye: point the finder at it.",
    FindBy.IN_FINDER: "it shows in the finder itself: aim there, then centre it.",
    FindBy.STEPS: "count the turns from the star.",
    FindBy.HOP: "go from star to star in the finder.",
    FindBy.PARALLEL: "start at the star on its parallel.",
    FindBy.CIRCLES: "turn to it by both circles; it comes into the finder's field.",
    FindBy.CIRCLES_AS_SET: "turn to it by both circles as they stand; it shows in the finder.",
}


def find_text(answer: FindAnswer) -> str:
    """The whole answer for people; of what can't be found now only why."""
    if answer.refusal is not None:
        return "\n".join(
            paragraph(words)
            for words in (
                f"{answer.thing.name}: {refusal_words(answer.refusal)}",
                keeps_words(answer.refusal),
            )
        )
    if answer.finding is None:
        return paragraph(ended_words(answer))
    found = answer.finding
    return sections(
        "\n".join(paragraph(words) for words in (headline(answer), first_words(answer))),
        listed("Where to look", where_words(answer)),
        listed(steps_title(found), steps_words(answer)),
        listed("On its parallel", parallel_words(answer)) if found.parallel else "",
        hop_text(answer) if found.hop is not None else "",
        listed("If it isn't there", sweep_words(found)),
        listed("What the eye meets", view_rows(answer)),
        listed("What it shows", shown_words(answer)),
        listed("To say", sayings_of(answer.thing.name)),
        listed("Reckoned with", [reckoned_words(answer)]),
        listed("Mind", [*(CAUTIONS[caution] for caution in answer.cautions), *_orbit(answer)]),
    )


def ended_words(answer: FindAnswer) -> str:
    """Why there is no way to it now."""
    name = answer.thing.name
    if answer.ended is FindEnd.BELOW_HORIZON:
        return f"{name} is below the horizon ({_when(answer)}); {_opens_words(answer)}."
    if answer.ended is FindEnd.TOO_LIGHT:
        head = f"{name}: the sky is too light to find it ({_when(answer)})"
        if answer.shows_from is None:
            return f"{head}, and it doesn't show within a day."
        return f"{head}; it shows from {_from_when(answer, answer.shows_from)} on."
    return (
        f"{name} can't be reached ({_when(answer)}): the tube has no room there; "
        f"{_opens_words(answer)}."
    )


def _opens_words(answer: FindAnswer) -> str:
    """From when on the tube reaches it, on which side."""
    opens = answer.opens
    if opens is None:
        return "the tube doesn't reach it within a day"
    if opens.at == answer.at:
        return f"on tube side {opens.side} it can be reached now"
    return f"from {_from_when(answer, opens.at)} it can be reached, on tube side {opens.side}"


def _from_when(answer: FindAnswer, moment: datetime) -> str:
    """The time alone on the same day, else with its day."""
    zone = answer.kit.site.zone
    same = moment.astimezone(zone).date() == answer.at.astimezone(zone).date()
    return clock(moment, zone) if same else day_and_clock(moment, zone)


def headline(answer: FindAnswer) -> str:
    """What is found, when, on which side."""
    common = answer.thing.common_names
    called = f" ({common[0]})" if common else ""
    return f"{answer.thing.name}{called}, {_when(answer)}, tube side {answer.side}."


def _when(answer: FindAnswer) -> str:
    return day_and_clock(answer.at, answer.kit.site.zone)


def first_words(answer: FindAnswer) -> str:
    """The way to try first, with its chance."""
    found = answer.finding
    if found is None or found.first is None or found.chance is None:
        return "No way has a fair chance: choose a brighter object, or wait for a darker sky."
    source = source_words(found, found.first, found.chance)
    return f"First: {_FIRST[found.first]} Chance {chance_words(found.chance)}, {source}."


def steps_title(found: Finding) -> str:
    """'By turns from Vega'."""
    if isinstance(found.start, StartStar):
        return f"By turns from {found.start.names[0]}"
    return "By turns from a star"


def steps_words(answer: FindAnswer) -> list[str]:
    """What the hands do from the star, and how surely it is there then."""
    found = answer.finding
    if found is None:
        return []
    start, steps = found.start, found.steps
    if not isinstance(start, StartStar) or not isinstance(steps, Steps):
        return [no_turns_words(found)]
    zone = answer.kit.site.zone
    begin = clock(later(answer.at, -steps.seconds), zone)
    weakest = found.views.weakest
    rows = [
        f"Bring {start.names[0]} ({_bright(start)}{_led_words(start)}"
        f"{degrees(start.altitude_deg, 0)} high) to the middle of the "
        f"{weakest.instrument.label} by {begin}; end both knobs "
        f"{TOWARDS[steps.hour.last_move]} and {TOWARDS[steps.declination.last_move]}.",
        _axis_words("Hour", steps.hour),
        _axis_words("Declination", steps.declination),
        f"On the circles: {_signed_hours(steps.hour.circle_deg / 15.0)} in hour angle, "
        f"{degrees(steps.declination.circle_deg, 1, signed=True)} in declination.",
        f"It takes about {duration(steps.seconds)} ± {duration(steps.seconds_sigma)}.",
    ]
    if steps.later_turns_per_minute:
        sense = sense_words(steps.later_turns_per_minute)
        rows.append(
            f"For each minute more: {abs(steps.later_turns_per_minute):.2f} turn of the hour knob, "
            f"{sense}; the sky turns on."
        )
    chance = (
        f"In the {weakest.instrument.label}'s field ({field_words(2 * weakest.radius_deg)}): "
        f"{chance_words(steps.by_turns.eyepiece)}"
    )
    if steps.by_turns.finder is not None:
        chance += f"; in the finder's: {chance_words(steps.by_turns.finder)}"
    rows.append(chance + ". By circles alone: " + _circles_chance(steps) + _source(found))

    return rows


def _led_words(start: StartStar) -> str:
    """How a star is met that the bare eye doesn't see yet; '' where it does."""
    led = start.by_circles
    if led is None:
        return ""
    return (
        f"not seen by the bare eye: in the finder at {led_to_words(led)} on the circles, chance "
        f"{chance_words(led.chance)}, "
    )


def _bright(start: StartStar) -> str:
    return "" if start.magnitude_v is None else f"magnitude {start.magnitude_v:.1f}, "


def _source(found: Finding) -> str:
    if learned_of(found, FindBy.STEPS) is None:
        return " Assumed, not learned."
    source = source_words(found, FindBy.STEPS, None)
    return f" That of the turns is {source}. That of the circles is assumed."


def no_turns_words(found: Finding) -> str:
    """Why there are no turns from a star; '' where there are."""
    start, steps = found.start, found.steps
    if isinstance(start, StartRefusal):
        return f"That star can't serve: {_NO_START[start]}."
    if start is None:
        return "No bright star serves tonight on this side."
    return "" if isinstance(steps, Steps) else _no_steps(steps)


def _circles_chance(steps: Steps) -> str:
    words = f"{chance_words(steps.by_circles.eyepiece)} in the eyepiece"
    if steps.by_circles.finder is not None:
        words += f", {chance_words(steps.by_circles.finder)} in the finder"
    return words + "."


def _no_steps(refusal: StepsRefusal | None) -> str:
    if refusal is StepsRefusal.OUT_OF_REACH:
        return "This tube, leaning as it does, never gets so near to the pole."
    return "The star stands too near the pole to count turns from it."


def _axis_words(name: str, turn: AxisTurn) -> str:
    way = TOWARDS[way_of(turn)]
    if turn.turns is None or turn.sigma_turns is None:
        lock = "" if turn.lock is None else f": {_LOCKS[turn.lock]}"
        return f"{name}: open the lock{lock}; {abs(turn.degrees):.1f}° {way} by the circle."
    if turn.left_alone:
        return (
            f"{name} knob: leave it alone; {abs(turn.turns):.2f} ± {turn.sigma_turns:.2f} turns is "
            "less than its error."
        )
    words = (
        f"{name} knob: {abs(turn.turns):.2f} ± {turn.sigma_turns:.2f} turns "
        f"{sense_words(turn.turns)} ({abs(turn.degrees):.1f}° {way})"
    )
    if turn.overshoot_turns:
        words += f"; go {turn.overshoot_turns:.2f} turn past it and come back"
    return words + "."


def way_of(turn: AxisTurn) -> Way:
    along = turn.last_move in (Way.WEST, Way.EAST)
    if along:
        return Way.WEST if turn.degrees >= 0 else Way.EAST
    return Way.NORTH if turn.degrees >= 0 else Way.SOUTH


def _signed_hours(value_h: float) -> str:
    return hours_minutes(value_h, signed=True)


def view_rows(answer: FindAnswer) -> list[str]:
    """Each instrument's field in a line; the drawings show them."""
    found = answer.finding
    if found is None:
        return []
    views = found.views
    sight = sight_words(answer)
    rows = [views.finder, views.weakest, views.planned]
    return [*([sight] if sight else []), *(_view(view) for view in rows if view is not None)]


def _view(view: FieldView) -> str:
    return (
        f"{head_words(view.instrument)}: {field_words(2.0 * view.radius_deg)} of sky, "
        f"{len(view.x)} stars to magnitude {min(view.limit_mag, view.list_limit_mag):.1f}."
    )


def _orbit(answer: FindAnswer) -> list[str]:
    """What is doubtful about the place of a comet or a minor planet, as sentences."""
    return [f"{words[:1].upper()}{words[1:]}." for words in orbit_words(answer.thing)]
