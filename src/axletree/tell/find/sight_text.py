"""In which words is it told what somebody will see: how well, how large, what it looks like?"""

from __future__ import annotations

from axletree.evening.seeing.grades import Visibility
from axletree.evening.stops.to_find import BestSight
from axletree.find.naked_eye import HAND_DEG, Hand
from axletree.stages.target.find import FindAnswer
from axletree.tell.eyepiece.text import body_words
from axletree.tell.eyepiece.way_text import EyeTurn
from axletree.tell.seeing.text import visibility_words

# The full Moon's width to the bare eye, which everybody knows.
_MOON_DEG = 0.52
_FISTS_FROM_DEG = 12.0
_LOOKS = {
    "moon": "mountains and craters, best along the line between light and dark",
    "planet": "a small disc, not a point",
    "star": "a point of light; look for its colour",
    "double star": "two points of light",
    "open cluster": "a handful of stars that belong together",
    "star cloud": "more stars than anybody counts",
    "globular cluster": "a round glow, brighter to the middle",
    "cluster with nebula": "stars in a faint glow",
    "planetary nebula": "a small soft disc among points",
    "emission nebula": "a faint glow without an edge",
    "reflection nebula": "a faint glow about stars",
    "nebula": "a faint glow without an edge",
    "supernova remnant": "a very faint glow",
    "minor planet": "a point of light that moves among the stars from night to night",
    "comet": "a soft glow, maybe with a tail",
}
_GALAXY = "a soft patch of light, brighter to the middle"


def sight_words(answer: FindAnswer) -> str:
    """'In the 6 mm (125 times): plain after a few seconds; ...', '' where there is nothing."""
    sight, kind = answer.sight, answer.thing.kind
    if sight is None:
        return ""
    head = f"In the {sight.eyepiece} ({sight.magnification:.0f} times)"
    if sight.visibility is Visibility.NOT_SEEN:
        return f"{head}: too faint for this sky and tube, by {-sight.margin_mag:.1f} mag."
    looks = _GALAXY if kind.startswith("galaxy") else _LOOKS.get(kind, "")
    parts = [visibility_words(sight.visibility), looks, _size_words(kind, sight)]
    return f"{head}: {'; '.join(part for part in parts if part)}."


def _size_words(kind: str, sight: BestSight) -> str:
    wide = sight.at_eye_deg
    if wide is None or kind in ("star", "moon", "minor planet"):
        return ""
    moons = wide / _MOON_DEG
    if kind == "double star":
        apart = f"{moons:.1f} Moon's widths" if moons >= 0.3 else f"{wide * 60.0:.0f}′"
        return f"they stand {apart} apart at the eye"
    if wide > sight.field_at_eye_deg:
        return "wider than the field: move about in it"
    if wide >= _FISTS_FROM_DEG:
        return f"at the eye it is about {wide / HAND_DEG[Hand.FIST]:.0f} fists at arm's length wide"
    if moons < 0.3:
        return f"at the eye it is {wide * 60.0:.0f}′ wide"
    many = f"{moons:.1f}" if moons < 3.0 else f"{moons:.0f}"
    return f"at the eye it is {many} times as wide as the Moon without a telescope"


def body_turn(answer: FindAnswer) -> tuple[EyeTurn | None, float | None]:
    """How the eyepiece to look with turns the sky, and its power."""
    if answer.finding is None:
        return None, None
    views = answer.finding.views
    view = views.planned or views.weakest
    turned = view.turned
    return EyeTurn(turned.north_deg, turned.mirrored), view.instrument.magnification


def shown_words(answer: FindAnswer) -> list[str]:
    """What Moon, planet or double star show; [] of what is no more than a spot."""
    if answer.question is None or answer.question.body is None:
        return []
    return body_words(answer.question.body, *body_turn(answer), answer.kit.site.zone)
