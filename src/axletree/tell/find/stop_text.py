"""In which lines does a stop of the evening tell how its object is found?

Short, for who reads them by a red lamp: one way with what the hands turn, a second in half a line.
What holds for the turns of every stop is told once, in `ways_words`.
"""

from __future__ import annotations

from collections.abc import Iterable

from axletree.evening.stops.stop import Stop
from axletree.find.finding import FindBy, Finding
from axletree.find.hopping.answer import HopAnswer, HopOutcome
from axletree.find.parallel import LEAST_CHANCE, Parallel
from axletree.find.start_star import StartStar
from axletree.find.steps import AxisTurn, Steps
from axletree.sky.time.nights import later
from axletree.tell.find.search_text import sense_words
from axletree.tell.find.text import TOWARDS, way_of
from axletree.tell.find.where_text import WAYS
from axletree.tell.shared.words import bar, chance_words, compass_point, degrees, hours_minutes
from axletree.tell.stop.circles_text import led_to_words

NO_WAY = "no sure way: both circles, then search around the place"
_BESIDE_DEG = 1.0  # a guide star nearer than this is the object itself, or hides in it


def stop_find_words(stop: Stop, found: Finding) -> str:
    """How to find it, without a full stop: the way to try first, with its chance, and another."""
    if found.first is None or found.chance is None:
        return f"{NO_WAY}, {look_words(found)}"
    return f"{_first(stop, found)} ({chance_words(found.chance)}){_second(stop, found)}"


def stop_eyepiece_words(stop: Stop) -> str:
    """Through which eyepiece it is found, and through which it is shown then; no full stop."""
    if stop.finding is None:
        return ""
    finds, shows = stop.finding.views.weakest.instrument.label, stop.view.eyepiece
    return finds if finds == shows else f"{finds}, then {shows}"


def ways_words(stops: Iterable[Stop]) -> str:
    """What holds for the turns to all stops; '' where no stop has turns."""
    turned = [
        stop.finding.steps for stop in stops
        if stop.finding is not None and isinstance(stop.finding.steps, Steps)
    ]  # fmt: skip
    if not turned:
        return ""
    said = ["Turns count from the star in the middle of the first eyepiece at the time told."]
    back = next((s.hour for s in turned if s.hour.overshoot_turns), None)
    if back is not None and back.turns is not None:
        said.append(
            f"Hour knob {sense_words(back.turns)}: {back.overshoot_turns:.2f} turn too far, "
            "and back."
        )
    rate = next((s.later_turns_per_minute for s in turned if s.later_turns_per_minute), None)
    if rate:
        said.append(
            f"For each minute later: {abs(rate):.2f} turn of the hour knob {sense_words(rate)}."
        )
    return " ".join(said)


def look_words(found: Finding) -> str:
    """Where the bare eye looks: '7° left of Vega', else 'in the south, 45° high'."""
    stars = found.sky_patch.stars
    for guide in found.where.guides:
        names = found.star_names.get(int(stars.number[guide.star_index]), ())
        if names and guide.distance_deg >= _BESIDE_DEG:
            return f"{guide.distance_deg:.0f}° {WAYS[guide.way]} {names[0]}"
    where = found.where
    return f"in the {compass_point(where.azimuth_deg)}, {degrees(where.altitude_deg, 0)} high"


def _first(stop: Stop, found: Finding) -> str:
    by, start, steps = found.first, found.start, found.steps
    if by is FindBy.BARE_EYE:
        return f"bare eye, {look_words(found)}"
    if by is FindBy.IN_FINDER:
        return f"it shows in the finder, {look_words(found)}"
    if by is FindBy.CIRCLES_AS_SET:
        return f"both circles as told here, then it shows in the finder, {look_words(found)}"
    if by is FindBy.HOP and found.hop is not None:
        return _hop(found, found.hop)
    if by is FindBy.PARALLEL and found.parallel is not None:
        return _parallel(found.parallel)
    if not isinstance(start, StartStar) or not isinstance(steps, Steps):
        return look_words(found)
    if by is FindBy.CIRCLES:
        return f"from {_star(start)} {_circles(steps)} to the finder"
    return _from_star(stop, start, steps)


def _second(stop: Stop, found: Finding) -> str:
    """Another way in half a line; '' where none is worth a try."""
    start, steps, by = found.start, found.steps, found.first
    if by in (FindBy.BARE_EYE, FindBy.CIRCLES_AS_SET):
        return ""
    if by is FindBy.STEPS and isinstance(steps, Steps):
        hop = found.hop
        if hop is not None and hop.outcome is HopOutcome.HOP and hop.chance is not None:
            return f", or {_hop(found, hop)} ({chance_words(hop.chance)})"
        chance = steps.by_circles.finder
        if chance is not None and chance >= LEAST_CHANCE:
            return f", or {_circles(steps)} to the finder ({chance_words(chance)})"
        return ""
    fair = isinstance(steps, Steps) and steps.by_turns.eyepiece >= LEAST_CHANCE
    if by is not FindBy.CIRCLES and fair and isinstance(start, StartStar):
        assert isinstance(steps, Steps)
        chance = steps.by_turns.eyepiece
        return f", or {_from_star(stop, start, steps)} ({chance_words(chance)})"
    return ""


def _from_star(stop: Stop, start: StartStar, steps: Steps) -> str:
    centred = later(stop.begin, -round(steps.seconds))
    return f"from {_star(start)} at {centred:%H:%M}, {_turns(steps)}"


def _star(start: StartStar) -> str:
    """Its name; of one that the bare eye doesn't see also where the circles lead to it."""
    if start.by_circles is None:
        return start.names[0]
    return f"{start.names[0]} (in the finder by the circles at {led_to_words(start.by_circles)})"


def _circles(steps: Steps) -> str:
    hour = hours_minutes(steps.hour.circle_deg / 15.0, signed=True)
    return f"by the circles {hour}, {degrees(steps.declination.circle_deg, 1, signed=True)}"


def _turns(steps: Steps) -> str:
    """Both knobs, the error and the sense told once where they are the same."""
    hour, other = steps.hour, steps.declination
    if hour.turns is None or other.turns is None:
        return f"{_axis('hour', hour)}, {_axis('declination', other)}"
    if hour.left_alone or other.left_alone:
        return f"{_axis('hour', hour)}, {_axis('declination', other)}"
    one, two = f"hour knob {abs(hour.turns):.2f}", f"declination {abs(other.turns):.2f}"
    errors = {bar(turn.sigma_turns or 0.0, 2) for turn in (hour, other)}
    if len(errors) > 1:
        one += f" ± {bar(hour.sigma_turns or 0.0, 2)}"
        two += f" ± {bar(other.sigma_turns or 0.0, 2)}"
    last = f" ± {errors.pop()}" if len(errors) == 1 else ""
    if (hour.turns > 0) == (other.turns > 0):
        return f"{one}, {two} turns {sense_words(hour.turns)}{last}"
    return f"{one} turns {sense_words(hour.turns)}, {two} {sense_words(other.turns)}{last}"


def _axis(name: str, turn: AxisTurn) -> str:
    if turn.turns is None:
        return f"{name} by its circle {abs(turn.degrees):.1f}° {TOWARDS[way_of(turn)]}"
    if turn.left_alone:
        return f"{name} knob left alone"
    return (
        f"{name} knob {abs(turn.turns):.2f} ± {turn.sigma_turns or 0.0:.2f} turns "
        f"{sense_words(turn.turns)}"
    )


def _hop(found: Finding, hop: HopAnswer) -> str:
    count = len(hop.steps)
    names = () if hop.start is None else found.star_names.get(hop.start.number, ())
    star = names[0] if names else "the first star"
    return f"{count} finder {'step' if count == 1 else 'steps'} from {star}"


def _parallel(beside: Parallel) -> str:
    star = beside.star.names[0]
    turned = beside.hour_turns is not None and beside.turns_sigma is not None
    by_turning = turned and beside.by_turns.eyepiece >= (beside.by_waiting or 0.0)
    if by_turning and beside.hour_turns is not None:
        return (
            f"from {star}, hour knob alone {abs(beside.hour_turns):.2f} ± "
            f"{beside.turns_sigma:.2f} turns {sense_words(beside.hour_turns)}"
        )
    return (
        f"from {star}, touch nothing for {beside.wait_minutes or 0.0:.0f} ± "
        f"{beside.wait_sigma_minutes or 0.0:.1f} min"
    )
