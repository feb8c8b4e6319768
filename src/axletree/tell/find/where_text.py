"""In which sentences is told where the bare eye looks?"""

from __future__ import annotations

from axletree.find.finding import Finding
from axletree.find.naked_eye import GuideStar, Hand, LookWay
from axletree.stages.target.find import FindAnswer
from axletree.tell.shared.words import compass_point, degrees, magnitude

_HANDS = {
    Hand.LITTLE_FINGER: ("a little finger's width", "widths of a little finger"),
    Hand.THREE_FINGERS: ("three fingers' width", "times three fingers' width"),
    Hand.FIST: ("a fist's width", "fists"),
    Hand.SPAN: ("a spread hand", "spread hands"),
}
WAYS = {
    LookWay.ABOVE: "above",
    LookWay.UPPER_RIGHT: "above and right of",
    LookWay.RIGHT: "right of",
    LookWay.LOWER_RIGHT: "below and right of",
    LookWay.BELOW: "below",
    LookWay.LOWER_LEFT: "below and left of",
    LookWay.LEFT: "left of",
    LookWay.UPPER_LEFT: "above and left of",
}


def where_words(answer: FindAnswer) -> list[str]:
    """The part of the sky, then from the bright stars that lead there."""
    found = answer.finding
    if found is None:
        return []
    where = found.where
    rows = [
        f"In the {compass_point(where.azimuth_deg)}, {degrees(where.altitude_deg, 0)} high"
        + (", nearly overhead." if where.overhead else ".")
    ]
    return rows + guide_words(found)


def guide_words(found: Finding) -> list[str]:
    """From each bright star that leads there, a line."""
    if not found.where.guides:
        return ["No bright star stands near it."]
    return [_guide(found, guide) for guide in found.where.guides]


def _guide(found: Finding, guide: GuideStar) -> str:
    number = int(found.sky_patch.stars.number[guide.star_index])
    names = found.star_names.get(number, ())
    star = names[0] if names else f"a star of magnitude {magnitude(guide.magnitude_v)}"
    digits = 0 if guide.hand_sigma_deg >= 0.95 else 1
    distance = f"{guide.distance_deg:.{digits}f}° ± {max(guide.hand_sigma_deg, 0.1):.{digits}f}°"
    return f"{_hands(guide)} ({distance}) {WAYS[guide.way]} {star}."


def _hands(guide: GuideStar) -> str:
    one, many = _HANDS[guide.hand]
    if guide.hand_count == 1.0:
        return one[:1].upper() + one[1:]
    if guide.hand_count == 0.5:
        return f"Half {one}"
    return f"{guide.hand_count:g} {many}"
