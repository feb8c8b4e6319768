"""In which sentences is a tube side told: what ends its room, what to beware of, why it is better?

Point, room, objects and the run sheet say the same of a side in the same words.
"""

from __future__ import annotations

from axletree.mount.rig.eyepiece import Posture, Stance
from axletree.mount.rig.field_orientation import PictureKind
from axletree.mount.room.better_side import SideReason
from axletree.mount.room.choice import Choice
from axletree.mount.room.ends import End, RoomEnd
from axletree.mount.room.side_answer import SideAnswer, SideCaution, SideWarning
from axletree.tell.shared.words import above_ground

WHOLE_DAY_H = 23.99
BARREL_DOWN = (
    "the eyepiece's barrel points below the horizontal: check its screws, and hold the eyepiece "
    "while turning"
)


def end_words(ends: RoomEnd) -> str:
    """What ends a room, as the end of a sentence: 'the tube comes too near to the tray'."""
    lowest = f"{ends.lowest_altitude_deg:g}°"
    if ends.by is End.CONTACT:
        if not ends.parts:
            return "something touches"
        moving, other = ends.parts
        return f"the {moving} comes too near to the {other}"
    return {
        End.NOTHING: "nothing ends it",
        End.STOP: "the hour axis reaches its stop",
        End.SKYLINE: "it goes behind the skyline",
        End.LOW: f"it sinks below {lowest}",
        End.BEHIND: "it stands behind the skyline",
        End.BELOW: f"it stands below {lowest}",
        End.NOT_RISEN: f"it has not risen to {lowest} yet",
    }[ends.by]


def side_caution_words(caution: SideCaution) -> str:
    """What to beware of, without a capital and a full stop."""
    if caution.warning is SideWarning.TOO_NEAR_ON_THE_TURN:
        moving, other = caution.parts
        return (
            f"on the way there the {moving} comes too near to the {other}: turn both axes by "
            "turns and watch"
        )
    return {
        SideWarning.BARREL_DOWN_ON_THE_TURN: f"on the way there {BARREL_DOWN}",
        SideWarning.BARREL_DOWN: BARREL_DOWN,
        SideWarning.WEIGHTS_UP: (
            "the weights are above the tube: nothing stops a swing if a clutch slips; hold the "
            "shaft while the lock is open"
        ),
        SideWarning.WEIGHTS_WILL_RISE: ("beyond the shaft's level the weights rise above the tube"),
    }[caution.warning]


def picture_words(kind: PictureKind) -> str:
    """What the picture looks like."""
    return {
        PictureKind.MIRRORED: "a mirror image: left and right are exchanged",
        PictureKind.TRUE: "a true image, not mirrored",
        PictureKind.TURNED: "turned with the pose, not mirrored",
        PictureKind.UPSIDE_DOWN: "upside down, not mirrored",
    }[kind]


def posture_words(posture: Posture, units: str = "metric") -> str:
    """What the body has to do."""
    if posture.stance is Stance.STEP:
        step = posture.stool_mm
        high = f"{step / 25.4:.0f} in" if units == "us" else f"{step:.0f} mm"
        return f"a step of {high} is needed"
    return {
        Stance.KNEEL: "kneel or sit low",
        Stance.STOOP: "sit or stoop",
        Stance.STAND: "standing height",
    }[posture.stance]


def side_reason_words(choice: Choice, units: str = "metric") -> str:
    """Why the better side is the better one, or why there is none, in a sentence."""
    east, west, why = choice.east, choice.west, choice.reason
    if why is SideReason.NEITHER_FOR_ONE_REASON:
        return f"Neither side can be used now: {end_words(east.ends)}."
    if why is SideReason.NEITHER:
        both = f"on side east {end_words(east.ends)}, on side west {end_words(west.ends)}"
        return f"Neither side can be used now: {both}."
    one, other = (east, west) if choice.better == "east" else (west, east)
    if why is SideReason.ONLY_ONE:
        return f"Only side {one.side} can be used: on side {other.side} {end_words(other.ends)}."
    if why is SideReason.LASTS:
        up = " although the weights are up there" if one.weights_up else ""
        return (
            f"Side {one.side} lasts: {_hours(one)} of room against {_hours(other)}, when on side "
            f"{other.side} {end_words(other.ends)}{up}."
        )
    if why is SideReason.WEIGHTS_DOWN:
        return (
            f"On side {one.side} the weights stay below the tube, on side {other.side} they are "
            "or come above it."
        )
    if why is SideReason.BARREL_UP:
        return (
            f"On side {one.side} the eyepiece can't fall out, on side {other.side} its barrel "
            "hangs below the horizontal."
        )
    if why is SideReason.WITHIN_REACH:
        high, low = (above_ground(float(s.eye.height_m) * 1000, units) for s in (one, other))
        return (
            f"On side {one.side} the eyepiece stands at {high} "
            f"({posture_words(one.posture, units)}), on side {other.side} at {low} "
            f"({posture_words(other.posture, units)})."
        )
    if why is SideReason.MORE_ROOM:
        return f"Side {one.side} has more room: {_hours(one)} against {_hours(other)}."
    return f"Both sides serve equally; side {one.side} keeps everything further apart."


def _hours(answer: SideAnswer) -> str:
    if answer.room_h >= WHOLE_DAY_H:
        return "the whole night"
    minutes = round(answer.room_s / 60)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"
