"""In which lines does a stop of the evening tell how its object is found?"""

from __future__ import annotations

from axletree.evening.stops.stop import Stop
from axletree.find.finding import FindBy, Finding
from axletree.find.hopping.answer import HopAnswer
from axletree.find.parallel import Parallel
from axletree.find.start_star import StartStar
from axletree.find.steps import AxisTurn, Steps
from axletree.sky.time.nights import later
from axletree.tell.find.chance_text import chance_words
from axletree.tell.find.search_text import sense_words
from axletree.tell.find.text import TOWARDS, WAYS, way_of
from axletree.tell.shared.words import compass_point, degrees, hours_minutes

NO_WAY = "no way has a fair chance, search around the place"
_BESIDE_DEG = 1.0  # a guide star nearer than this is the object itself, or hides in it


def stop_find_words(stop: Stop, found: Finding) -> str:
    """How to find it, without a full stop: the way to try first, with its chance."""
    if found.first is None or found.chance is None:
        return f"{NO_WAY}, {look_words(found)}"
    there = _there(found, found.first)
    return f"{_first(stop, found)}; {there} {chance_words(found.chance)}"


def stop_eyepiece_words(stop: Stop) -> str:
    """Through which eyepiece it is found, and through which it is shown then; no full stop."""
    if stop.finding is None:
        return ""
    finds, shows = stop.finding.views.weakest.instrument.label, stop.view.eyepiece
    if finds == shows:
        return f"find it with the {finds}"
    return f"find it with the {finds}, then change to the {shows}"


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
    if by is FindBy.HOP and found.hop is not None:
        return _hop(found, found.hop)
    if by is FindBy.PARALLEL and found.parallel is not None:
        return _parallel(found.parallel)
    if not isinstance(start, StartStar) or not isinstance(steps, Steps):
        return look_words(found)
    if by is FindBy.CIRCLES:
        hour = hours_minutes(steps.hour.circle_deg / 15.0, signed=True)
        other = degrees(steps.declination.circle_deg, 1, signed=True)
        return f"from {start.names[0]} by the circles, hour angle {hour}, declination {other}"
    hour, other = _axis("hour", steps.hour), _axis("declination", steps.declination)
    centred = later(stop.begin, -round(steps.seconds))
    return (
        f"from {start.names[0]} (in the middle at {centred:%H:%M}), {hour}, {other}{_late(steps)}"
    )


def _late(steps: Steps) -> str:
    """What a minute more of the sky's turn asks for."""
    rate = steps.later_turns_per_minute
    if not rate:
        return ""
    return f"; a minute later {abs(rate):.2f} of the hour knob {sense_words(rate)}"


def _axis(name: str, turn: AxisTurn) -> str:
    if turn.turns is None:
        return f"{name} by its circle {abs(turn.degrees):.1f}° {TOWARDS[way_of(turn)]}"
    sense = sense_words(turn.turns)
    past = f" (past it by {turn.overshoot_turns:.2f} and back)" if turn.overshoot_turns else ""
    return f"{name} knob {abs(turn.turns):.2f} ± {turn.sigma_turns:.2f} turns {sense}{past}"


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
            f"centre {star} and leave the declination, hour knob {abs(beside.hour_turns):.2f} ± "
            f"{beside.turns_sigma:.2f} turns {sense_words(beside.hour_turns)}"
        )
    return (
        f"centre {star} and touch nothing for {beside.wait_minutes or 0.0:.0f} ± "
        f"{beside.wait_sigma_minutes or 0.0:.1f} min"
    )


def _there(found: Finding, by: FindBy) -> str:
    """Where it stands then."""
    if by in (FindBy.BARE_EYE, FindBy.IN_FINDER, FindBy.CIRCLES):
        return "in the finder" if found.views.finder is not None else "in view"
    return f"in the {found.views.weakest.instrument.label}"
