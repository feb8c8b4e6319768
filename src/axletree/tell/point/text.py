"""In which sentences are both tube sides of one object told, beside each other?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from axletree.axis.marks import HOUR_ANGLE, RIGHT_ASCENSION
from axletree.kit.kit import Kit
from axletree.mount.clearance.paths import TurnOrder
from axletree.mount.room.choice import Choice
from axletree.mount.room.ring_turn import RingTurn
from axletree.mount.room.side_answer import SideAnswer
from axletree.sky.time.nights import later
from axletree.stages.target.point import PointAnswer, PointPlace
from axletree.tell.eyepiece.way_text import EyeTurn
from axletree.tell.point.cautions_text import (
    assumed_words,
    beware_words,
    caution_words,
    keeps_words,
    refusal_words,
)
from axletree.tell.point.circles_text import (
    declination_circle_words,
    hour_circle_words,
)
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    above_ground,
    clock,
    clock_face,
    compass_point,
    day_and_clock,
    degrees,
    duration,
    hours_minutes,
    length,
)
from axletree.tell.side.doubt_text import (
    bar_words,
    other_side_words,
    telling_words,
    touch_sentence,
    touch_words,
)
from axletree.tell.side.text import (
    end_words,
    posture_words,
    side_reason_words,
)
from axletree.tell.stop.circles_text import set_on_words

FIRST, COLUMN = 22, 30
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
        _table(answer, choice),
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


def _row(name: str, east: str, west: str) -> str:
    return f"  {name:<{FIRST - 2}}{east:<{COLUMN}}{west}".rstrip()


def _room(answer: SideAnswer) -> str:
    if not answer.usable:
        return "none now"
    if answer.endless:
        return "all night"
    return f"{duration(answer.room_s)}, {answer.room_h * 15:.0f}°"


def _until(answer: SideAnswer, moment: datetime, zone: ZoneInfo) -> str:
    if not answer.usable:
        if answer.opens_in_s is None:
            return "not within a day"
        return f"can be used from {clock(later(moment, answer.opens_in_s), zone)}"
    if answer.endless:
        return ""
    return f"until {clock(later(moment, answer.room_s), zone)}"


def _ends_row(answer: PointAnswer, choice: Choice) -> list[str]:
    """When each room ends, ± what the dimensions leave open, and from when on something may
    touch."""
    moment, zone = answer.at, answer.kit.site.zone
    pairs = list(zip(choice.sides, answer.doubts_of_room, strict=True))
    ends = [_until(side, moment, zone) for side, _ in pairs]
    bars = [bar_words(doubt) if end and side.usable else ""
            for end, (side, doubt) in zip(ends, pairs, strict=True)]  # fmt: skip
    return [
        _row("", *(end + bar for end, bar in zip(ends, bars, strict=True))),
        _row("a touch possible", *(touch_words(doubt, moment, zone) for _, doubt in pairs)),
    ]


def _face(answer: SideAnswer) -> str:
    azimuth = float(answer.eye.face_azimuth_deg)
    if math.isnan(azimuth):
        return "any way, it is so steep"
    return f"{compass_point(azimuth)} ({azimuth:.0f}°)"


def _gap(answer: SideAnswer, units: str) -> str:
    if answer.clearance_m <= 0:
        return "in contact"
    return f"{length(answer.clearance_m * 1000, units)} apart"


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


def barrel_words(altitude_deg: float) -> str:
    """How the eyepiece's barrel points."""
    if altitude_deg >= 80:
        return "upright: look down into it"
    if altitude_deg <= -80:
        return "hanging: look straight up"
    if abs(altitude_deg) < 0.5:
        return "level"
    return f"{abs(altitude_deg):.0f}° {'above' if altitude_deg > 0 else 'BELOW'} the level"


def _weights(answer: SideAnswer) -> str:
    return f"at {clock_face(answer.weights_clock_deg)}" + (" (UP)" if answer.weights_up else "")


def _weights_down(answer: SideAnswer, moment: datetime, zone: ZoneInfo) -> str:
    if not answer.usable:
        return ""
    if answer.weights_up:
        return "they are above it now"
    if answer.weights_down_h >= answer.room_h - 1e-6:
        return "all that time"
    return f"until {clock(later(moment, answer.weights_down_s), zone)}"


def _since(answer: SideAnswer, moment: datetime, zone: ZoneInfo) -> str:
    if not answer.usable:
        return ""
    if answer.endless:
        return "always"
    return clock(later(moment, -answer.since_s), zone)


def _table(answer: PointAnswer, choice: Choice) -> str:
    kit, moment = answer.kit, answer.at
    if not choice.better:
        return _later(choice, kit, moment)
    zone, units = kit.site.zone, kit.habits.units
    east, west = choice.sides

    def both(name: str, text: Any) -> str:
        return _row(name, text(east), text(west))

    better = choice.better
    titles = [f"side {a.side}{' (better)' if better == a.side else ''}" for a in choice.sides]
    rows = [
        _row("", *titles),
        both("room", _room),
        *_ends_row(answer, choice),
        both("weights below tube", lambda a: _weights_down(a, moment, zone)),
        both("in reach since", lambda a: _since(a, moment, zone)),
        *_circles(answer),
        both("weights hang", _weights),
        both("nearest parts", lambda a: _gap(a, units)),
        _row("eyepiece height", *_eye_heights(answer, choice)),
        both("", lambda a: posture_words(a.posture, units)),
        both("face", _face),
        both("barrel", lambda a: barrel_words(float(a.eye.barrel_altitude_deg))),
        both("north in the view", lambda a: f"towards {clock_face(float(a.picture.north_deg))}"),
        both("the sky drifts", lambda a: f"towards {clock_face(float(a.picture.drift_deg))}"),
    ]
    return "\n".join(row for row in rows if row.strip())


def _eye_heights(answer: PointAnswer, choice: Choice) -> list[str]:
    """The eyepiece above the ground on both sides, with its error where asked."""
    return [
        above_ground(
            float(side.eye.height_m) * 1000.0,
            answer.kit.habits.units,
            0.0 if doubt is None else doubt.eye_sigma_m * 1000.0,
        )
        for side, doubt in zip(choice.sides, answer.doubts_of_room, strict=True)
    ]


def _circles(answer: PointAnswer) -> list[str]:
    """What the person's own circles show, the hour circle once it was set on its star."""
    assert answer.circles is not None
    marks = answer.kit.mount.circles.hour_marks
    other = RIGHT_ASCENSION if marks == HOUR_ANGLE else HOUR_ANGLE
    pairs = list(zip(answer.circles, answer.set_on, strict=True))
    return [
        _row("hour circle", *(hour_circle_words(one, marks, on) for one, on in pairs)),
        _row(f"or {other}", *(hour_circle_words(one, other, on) for one, on in pairs)),
        _row("declination circle", *map(declination_circle_words, answer.circles)),
    ]


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


def _later(choice: Choice, kit: Kit, moment: datetime) -> str:
    """When an object that can't be reached now can be."""
    rows = [f"Side {a.side}: {_until(a, moment, kit.site.zone)}." for a in choice.sides]
    return "\n".join(rows)


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
