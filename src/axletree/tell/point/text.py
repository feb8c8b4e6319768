"""How are both tube sides of one object told, beside each other?"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from axletree.kit.kit import Kit
from axletree.mount.rig.field_orientation import is_mirrored, view_words
from axletree.mount.room.choice import Choice
from axletree.mount.room.ring_turn import RingTurn
from axletree.mount.room.side_answer import SideAnswer
from axletree.sky.time.nights import later
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import (
    above_ground,
    clock,
    clock_face,
    compass_point,
    degrees,
    duration,
    hours_minutes,
    length,
)
from axletree.tell.side.text import (
    end_words,
    posture_words,
    side_caution_words,
    side_reason_words,
)

FIRST, COLUMN = 22, 28
# A turn of the rings that gains less comfort than this isn't worth the trouble (our figure).
WORTH_TURNING_M = 0.05
# Dimensions that nothing can touch.
WITHOUT_SHAPE = frozenset(("tube.obstruction_mm", "obstruction_mm"))

CAUTIONS = (
    "Hold the tube with one hand whenever a lock is open; turn one axis after the other.",
    "Look at tripod, cables and people before every turn: the figures are only as good as the "
    "kit's measures.",
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


def _face(answer: SideAnswer) -> str:
    azimuth = float(answer.eye.face_azimuth_deg)
    if math.isnan(azimuth):
        return "any way, it is so steep"
    return f"{compass_point(azimuth)} ({azimuth:.0f}°)"


def _gap(answer: SideAnswer, units: str) -> str:
    if answer.clearance_m <= 0:
        return "in contact"
    return f"{length(answer.clearance_m * 1000, units)} apart"


def way_words(answer: SideAnswer, units: str = "metric") -> str:
    """The turn to the pose, in a sentence."""
    way = answer.way
    near = length(max(way.least_m, 0.0) * 1000, units)
    barrel = "the barrel hangs on the way" if way.can_fall else "the barrel stays above the level"
    return f"{way.order}; nothing nearer than {near}, {barrel}"


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


def _table(choice: Choice, kit: Kit, moment: datetime) -> str:
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
        both("", lambda a: _until(a, moment, zone)),
        both("weights below tube", lambda a: _weights_down(a, moment, zone)),
        both("in reach since", lambda a: _since(a, moment, zone)),
        both("hour circle", lambda a: hours_minutes(a.hour_circle_h)),
        both("declination circle", lambda a: degrees(a.declination_circle_deg, signed=True)),
        both("weights hang", _weights),
        both("nearest parts", lambda a: _gap(a, units)),
        both("eyepiece height", lambda a: above_ground(float(a.eye.height_m) * 1000, units)),
        both("", lambda a: posture_words(a.posture, units)),
        both("face", _face),
        both("barrel", lambda a: barrel_words(float(a.eye.barrel_altitude_deg))),
        both("north in the view", lambda a: f"towards {clock_face(float(a.picture.north_deg))}"),
        both("the sky drifts", lambda a: f"towards {clock_face(float(a.picture.drift_deg))}"),
    ]
    return "\n".join(row for row in rows if row.strip())


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


def guessed_words(kit: Kit) -> list[str]:
    """One line that says how many dimensions nobody measured."""
    guessed = [g.split(".", 1)[1] for g in kit.guessed if g.startswith(("mount.", "tube."))]
    shapes = [
        g for g in guessed if g.endswith(("_mm", "directions_deg")) and g not in WITHOUT_SHAPE
    ]
    if not shapes:
        return []
    shown = ", ".join(shapes[:4])
    more = f" and {len(shapes) - 4} more" if len(shapes) > 4 else ""
    return [f"guessed, good to perhaps 20 %: {shown}{more}; measure those near a contact"]


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


def point_text(
    choice: Choice, kit: Kit, name: str, moment: datetime, azimuth_deg: float, altitude_deg: float,
    notes: Sequence[str] = (), turn: RingTurn | None = None, before: Sequence[str] = (),
) -> str:  # fmt: skip
    """The whole answer for people; `turn` is the ring turn that would suit the chosen side,
    `before` cautions that come before the usual ones."""
    better_turn = paragraph(turn_words(turn, kit)) if turn is not None else ""
    head = f"{name}: tube on side {choice.better}." if choice.better else f"{name}: not now."
    where = (
        f"{moment.isoformat(timespec='minutes')}, hour angle "
        f"{hours_minutes(choice.hour_angle_h, signed=True)}, declination "
        f"{degrees(choice.declination_deg, signed=True)}, {degrees(altitude_deg, 0)} high in the "
        f"{compass_point(azimuth_deg)}."
    )
    warnings = [
        f"side {a.side}: {side_caution_words(c)}"
        for a in choice.sides
        if a.usable
        for c in a.cautions
    ]
    view = view_words(kit.tube)
    if is_mirrored(kit.tube):
        view += "; clock directions above are as the eye sees them"
    assumed = [
        f"the view is {view}; the head is held upright",
        "the hour circle counts for the side it stands under; set on the other side it reads "
        "12 hours off; a declination circle that shows too much on one side shows as much too "
        "little on the other",
        f"parts keep {length(kit.habits.clearance_margin_mm, kit.habits.units)} apart, eyes reach "
        f"from {above_ground(kit.habits.eye_height_min_mm, kit.habits.units)} to "
        f"{above_ground(kit.habits.eye_height_max_mm, kit.habits.units)}",
        *guessed_words(kit),
        *notes,
    ]
    return sections(
        paragraph(f"{head} {side_reason_words(choice, kit.habits.units)}"),
        paragraph(where),
        _table(choice, kit, moment),
        _ends(choice, kit.habits.units),
        better_turn,
        listed("Beware:", warnings),
        listed("Assumed:", assumed),
        listed("Cautions:", [*before, *CAUTIONS]),
    )


def _finite(value: float) -> float | None:
    return round(value, 4) if math.isfinite(value) else None


def side_data(answer: SideAnswer) -> dict[str, Any]:
    """One side for programs."""
    eye, view = answer.eye, answer.picture
    return {
        "side": answer.side,
        "usable": answer.usable,
        "room_deg": round(answer.room_h * 15, 3),
        "room_s": round(answer.room_s, 1),
        "endless": answer.endless,
        "ends": end_words(answer.ends),
        "ends_code": answer.ends.by.key,
        "weights_down_s": round(answer.weights_down_s, 1),
        "in_reach_since_s": round(answer.since_s, 1),
        "opens_in_s": answer.opens_in_s,
        "hour_circle_h": round(answer.hour_circle_h, 4),
        "declination_circle_deg": round(answer.declination_circle_deg, 4),
        "tube_end_h": round(answer.tube_end_h, 6),
        "swing_deg": round(answer.swing_deg, 6),
        "weights_up": answer.weights_up,
        "weights_clock_deg": round(answer.weights_clock_deg, 1),
        "clearance_mm": round(answer.clearance_m * 1000, 1),
        "nearest": " and ".join(answer.nearest_parts),
        "nearest_parts": list(answer.nearest_parts),
        "end_parts": list(answer.ends.parts),
        "eyepiece_height_mm": round(float(eye.height_m) * 1000, 1),
        "face_azimuth_deg": _finite(float(eye.face_azimuth_deg)),
        "barrel_altitude_deg": _finite(float(eye.barrel_altitude_deg)),
        "eyepiece_can_fall": answer.can_fall,
        "step_up_mm": round(float(eye.step_up_m) * 1000, 1),
        "stoop_mm": round(float(eye.stoop_m) * 1000, 1),
        "view_north_clock_deg": _finite(float(view.north_deg)),
        "view_drift_clock_deg": _finite(float(view.drift_deg)),
        "view_mirrored": view.mirrored,
        "way_order": answer.way.order,
        "way_clearance_mm": round(answer.way.least_m * 1000, 1),
        "way_eyepiece_can_fall": answer.way.can_fall,
        "warnings": [side_caution_words(c) for c in answer.cautions],
        "warning_codes": [c.warning.value for c in answer.cautions],
    }


def point_data(
    choice: Choice,
    kit: Kit,
    name: str,
    moment: datetime,
    turn: RingTurn | None = None,
    *,
    azimuth_deg: float | None = None,
    altitude_deg: float | None = None,
    hours_per_s: float | None = None,
    before: Sequence[str] = (),
) -> Mapping[str, Any]:
    """The whole answer for programs."""
    return {
        "object": name,
        "at": moment.isoformat(),
        "hour_angle_h": round(choice.hour_angle_h, 6),
        "hour_angle_growth_h_per_s": hours_per_s,
        "declination_deg": round(choice.declination_deg, 6),
        "azimuth_deg": azimuth_deg,
        "altitude_deg": altitude_deg,
        "better_side": choice.better or None,
        "reason": side_reason_words(choice, kit.habits.units),
        "reason_code": choice.reason.value,
        "sides": [side_data(a) for a in choice.sides],
        "view": view_words(kit.tube),
        "ring_turn_deg": {
            "present": kit.tube.ring_turn_deg % 360,
            "best_for_this": None if turn is None else turn.turn_deg,
        },
        "guessed": [g for g in kit.guessed if g.startswith(("mount.", "tube."))],
        "cautions": [*before, *CAUTIONS],
    }
