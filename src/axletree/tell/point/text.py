"""In which sentences are both tube sides of one object told, beside each other?"""

from __future__ import annotations

import math
from datetime import datetime
from zoneinfo import ZoneInfo

from axletree.kit.kit import Kit
from axletree.mount.clearance.paths import TurnOrder
from axletree.mount.room.choice import Choice
from axletree.mount.room.ring_turn import RingTurn
from axletree.mount.room.side_answer import SideAnswer
from axletree.stages.target.point import PointAnswer, PointPlace
from axletree.tell.eyepiece.way_text import EyeTurn
from axletree.tell.point.cautions_text import (
    assumed_words,
    beware_words,
    caution_words,
    keeps_words,
    refusal_words,
)
from axletree.tell.point.columns_text import barrel_words, sides_table
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    above_ground,
    compass_point,
    day_and_clock,
    degrees,
    hours_minutes,
    length,
)
from axletree.tell.side.doubt_text import (
    other_side_words,
    telling_words,
    touch_sentence,
)
from axletree.tell.side.text import (
    end_words,
    side_reason_words,
)
from axletree.tell.stop.circles_text import set_on_words

# A turn of the rings that gains less comfort than this isn't worth the trouble (our figure).
WORTH_TURNING_M = 0.05


def point_text(answer: PointAnswer) -> str:
    """The whole answer for people; of what stands too near the Sun only why there is none."""
    if answer.refusal is not None:
        return "\n".join(
            paragraph(words)
            for words in (
                f"{answer.thing.name}: {refusal_words(answer.refusal)} {caution_words(answer)[0]}",
                keeps_words(answer.refusal),
            )
        )
    assert answer.choice is not None
    assert answer.place is not None
    choice, kit = answer.choice, answer.kit
    units = kit.habits.units
    better_turn = "" if answer.turn is None else paragraph(turn_words(answer.turn, kit))
    return sections(
        paragraph(headline(answer)),
        paragraph(_where(answer.place, answer.at, answer.kit.site.zone)),
        sides_table(answer, choice),
        _set_first(answer, choice),
        _ends(choice, units),
        _telling(answer, choice),
        better_turn,
        listed("In the eyepiece:", shown_words(answer)),
        listed("Beware:", beware_words(choice)),
        listed("Assumed:", assumed_words(answer)),
        listed("Cautions:", caution_words(answer)),
    )


def eye_turn(choice: Choice) -> EyeTurn | None:
    """How the eyepiece turns the sky on the better side; None where there is none."""
    for side in choice.sides:
        if side.side == choice.better and math.isfinite(float(side.picture.north_deg)):
            return EyeTurn(float(side.picture.north_deg), side.picture.mirrored)
    return None


def shown_words(answer: PointAnswer) -> list[str]:
    """What Moon, planet or double star show; [] of what is no more than a spot."""
    if answer.body is None or answer.choice is None:
        return []
    from axletree.tell.eyepiece.text import body_words  # most objects need none of it

    return body_words(answer.body, eye_turn(answer.choice), None, answer.kit.site.zone)


def headline(answer: PointAnswer) -> str:
    """'Vega: tube on side east. Side east lasts: ...' ; of a refusal, what the page says."""
    name = answer.thing.name
    if answer.choice is None:
        assert answer.refusal is not None
        return f"{name}: {refusal_words(answer.refusal)} {caution_words(answer)[0]} " + (
            keeps_words(answer.refusal)
        )
    better = answer.choice.better
    head = f"{name}: tube on side {better}." if better else f"{name}: not now."
    return f"{head} {side_reason_words(answer.choice, answer.kit.habits.units)}"


def _where(place: PointPlace, at: datetime, zone: ZoneInfo) -> str:
    return (
        f"{day_and_clock(at, zone)}, hour angle "
        f"{hours_minutes(place.hour_angle_h, signed=True)} (right ascension "
        f"{hours_minutes(place.right_ascension_h)}), declination "
        f"{degrees(place.declination_deg, signed=True)}, {degrees(place.altitude_deg, 0)} high in "
        f"the {compass_point(place.azimuth_deg)}."
    )


def order_words(order: TurnOrder) -> str:
    """Which axis is turned first."""
    first = {
        TurnOrder.HOUR_FIRST: "hour axis first",
        TurnOrder.DECLINATION_FIRST: "declination axis first",
    }
    return first[order]


def way_words(answer: SideAnswer, units: str = "metric") -> str:
    """The turn to the pose, in a sentence."""
    way = answer.way
    near = length(max(way.least_m, 0.0) * 1000, units)
    barrel = "the barrel hangs on the way" if way.can_fall else "the barrel stays above the level"
    return f"{order_words(way.order)}; nothing nearer than {near}, {barrel}"


def _set_first(answer: PointAnswer, choice: Choice) -> str:
    """On which star the hour circle is set before the turn to the better side."""
    rows = zip(answer.circles or (), answer.set_on, strict=True)
    said = [set_on_words(on) for one, on in rows if on and one.side == choice.better]
    return "\n".join(map(paragraph, said))


def _telling(answer: PointAnswer, choice: Choice) -> str:
    """From when on something may touch on the better side, and what measured would tell."""
    pairs = zip(choice.sides, answer.doubts_of_room, strict=True)
    said: list[str] = []
    for side, doubt in pairs:
        if doubt is not None and side.side == choice.better:
            said.append(touch_sentence(doubt, answer.at, answer.kit.site.zone))
            said.append(telling_words(doubt.tellings))
    said.append(other_side_words(choice, answer.other_side_chance))
    return "\n".join(paragraph(words) for words in said if words)


def _ends(choice: Choice, units: str) -> str:
    said: list[str] = []
    for a in choice.sides if choice.better else ():
        if a.usable and not a.endless:
            said.append(f"Side {a.side} ends when {end_words(a.ends)}.")
        elif not a.usable:
            said.append(f"Side {a.side}: {end_words(a.ends)}.")
        if a.nearest_parts:
            moving, other = a.nearest_parts
            said.append(f"Nearest now on side {a.side}: {moving} and {other}.")
    if choice.chosen is not None:
        said.append(f"Way from rest to side {choice.better}: {way_words(choice.chosen, units)}.")
    return "\n".join(paragraph(words) for words in said)


def turn_words(turn: RingTurn, kit: Kit) -> str:
    """What another turn of the tube (or diagonal) would do for the chosen side; '' if little."""
    gain = float(turn.present_discomfort_m[0] - turn.discomfort_m[0])
    if gain < WORTH_TURNING_M:
        return ""
    what = "the tube turned in its rings" if kit.tube.kind == "newtonian" else "the diagonal turned"
    height = above_ground(float(turn.place.height_m[0]) * 1000, kit.habits.units)
    barrel = barrel_words(float(turn.place.barrel_altitude_deg[0]))
    return (
        f"With {what} to {turn.turn_deg:.0f}° (now {turn.present_deg:.0f}°) the eyepiece would "
        f"stand at {height}, its barrel {barrel}."
    )
