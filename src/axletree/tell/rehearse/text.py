"""In which sentences is each step of a rehearsed evening told: what is done, held and minded?"""

from __future__ import annotations

from zoneinfo import ZoneInfo

from axletree.evening.sheet.set_up import WeightPlace
from axletree.evening.stops.stop import EyepieceView, Nudge, Stop
from axletree.kit.frozen import dataclass
from axletree.pole.correct.bolts import BoltStep
from axletree.stages.night.rehearsal import Act, FreedLock, Rehearsal, RehearsedStep
from axletree.stages.night.rehearsed_turns import Lock, OpenLockTurn, turned_by_keys
from axletree.stages.night.rig_built import BuiltLeg
from axletree.tell.pole.bolts_text import BOLT_WORDS, step_words
from axletree.tell.set_up.text import stage_words, taken_down_so
from axletree.tell.shared.text import error_words
from axletree.tell.shared.words import (
    above_ground,
    capital,
    clock,
    knob_turns,
    length,
    mass,
    to_the_second,
)
from axletree.tell.side.doubt_text import bar_words, touch_sentence
from axletree.tell.side.text import BARREL_DOWN, end_words, posture_words
from axletree.tell.stop.text import face_words, nudge_words, order_words, wait_words

LOCK_WORDS = {Lock.HOUR: "hour lock", Lock.DECLINATION: "declination lock"}
_STAGE_WORDS = {
    "arrive": "Arrive", "spot": "The spot", "level": "Legs", "north": "North", "balance": "Balance",
    "cool": "The tube cools", "finder": "The finder", "pole": "The pole", "check": "Check the axis",
}  # fmt: skip
_HOLD = {
    Act.ARRIVE: "a light",
    Act.SPOT: "nothing yet",
    Act.LEG: "one hand at the top, the other at the leg's clamp",
    Act.HEAD: "both hands under the head until its bolt grips",
    Act.WEIGHT: "one hand under the weight until its screw is tight",
    Act.TUBE: "both hands at the tube until the saddle's clamps are tight",
    Act.FREE: "one hand at the tube for as long as a lock is open",
    Act.FINDER: "the tube's locks are shut; fingers at the finder's screws",
    Act.SCALE: "one hand under the head while its altitude is free",
    Act.BOLT: "only the bolt; leave the tube alone",
    Act.CHECK: "leave the bolts; fingers at the knobs",
    Act.COOL: "nothing",
    Act.LOOK: "the focuser; leave the tube alone",
    Act.TUBE_OFF: "both hands at the tube before a clamp is opened",
    Act.WEIGHTS_OFF: "one hand under the weight before its screw is opened",
}


@dataclass(frozen=True)
class RehearsedWords:
    """What a step is called, what is done, what the hands hold, and what to beware of."""

    title: str
    done: tuple[str, ...]
    hold: str
    beware: tuple[str, ...] = ()


def rehearsed_words(whole: Rehearsal, step: RehearsedStep) -> RehearsedWords:
    """The words of one step."""
    done, hold = _what(whole, step), _HOLD.get(step.act, "")
    beware: tuple[str, ...] = ()
    if isinstance(step.detail, OpenLockTurn):
        hold, beware = _turn_hold(whole, step.detail), _turn_beware(step.detail)
    elif step.act is Act.FOLLOW and step.stop is not None:
        hold = _nudged(step.stop.nudge)
        beware = _room_beware(step.stop)
    title = _title(step)
    if step.stage is None:
        return RehearsedWords(title, done, hold, beware)
    said, details, cautions = stage_words(whole.evening, step.stage)
    if step.act is Act.TUBE:  # of all that balance has to say, where the tube goes comes with it
        return RehearsedWords(title, (*done, *details), hold, beware)
    if not step.first:
        return RehearsedWords(title, done, hold, beware)
    if step.act is Act.WEIGHT:
        return RehearsedWords(title, done, hold, (*cautions, *beware))
    return RehearsedWords(title, (said, *done, *details), hold, (*cautions, *beware))


def nothing_words(whole: Rehearsal) -> str:
    """Why there is nothing to rehearse, a sentence; '' where there is."""
    return "" if whole.steps else order_words(whole.evening.order)


def chapter_words(step: RehearsedStep) -> str:
    """To what a step belongs: a stage of setting up, a stop, or taking down."""
    if step.stop is not None:
        return f"Stop {step.stop.number}: {step.stop.name}"
    return "Take down" if step.stage is None else _STAGE_WORDS[step.stage.name]


def _title(step: RehearsedStep) -> str:
    detail, stop = step.detail, step.stop
    if isinstance(detail, BuiltLeg):
        return capital(detail.name)
    if isinstance(detail, WeightPlace):
        return "A weight on the shaft"
    if isinstance(detail, BoltStep):
        return capital(BOLT_WORDS[detail.bolt])
    if isinstance(detail, FreedLock):
        return f"Open the {LOCK_WORDS[detail.lock]}"
    if isinstance(detail, OpenLockTurn):
        what = "hour axis" if detail.lock is Lock.HOUR else "tube"
        return f"Turn the {what}" + (f" to {stop.name}" if stop is not None else "")
    if stop is not None:
        return f"Look at {stop.name}" if step.act is Act.LOOK else f"Follow {stop.name}"
    return {
        Act.HEAD: "The head, turned to the pole",
        Act.TUBE: "The tube into its saddle",
        Act.SCALE: "The latitude scale",
        Act.TUBE_OFF: "The tube off",
        Act.WEIGHTS_OFF: "Weights off, legs together",
    }.get(step.act, "" if step.stage is None else _STAGE_WORDS[step.stage.name])


def _what(whole: Rehearsal, step: RehearsedStep) -> tuple[str, ...]:
    detail, units = step.detail, whole.evening.kit.habits.units
    if isinstance(detail, BuiltLeg):
        return (_leg(detail, units),)
    if isinstance(detail, WeightPlace):
        return (
            f"{mass(detail.mass_kg, units)}: its face {length(detail.gap_mm, units)} from where "
            "the shaft begins.",
        )
    if isinstance(detail, FreedLock):
        lever = "shaft" if detail.lock is Lock.HOUR else "tube"
        what = "weights" if detail.lock is Lock.HOUR else "tube in its saddle"
        return (
            f"Open it and bring the {lever} level: if it sinks, move the {what}. Then shut it.",
        )
    if isinstance(detail, BoltStep):
        return (capital(step_words(detail)) + ".",)
    if isinstance(detail, OpenLockTurn):
        return (*_wait(step), _turn(whole, detail))
    if step.act is Act.SCALE:
        rough = whole.rough
        return (
            "Compass and scale may leave the axis "
            f"{error_words(rough.high_sigma_arcmin)} off the pole in height and "
            f"{error_words(rough.east_sigma_arcmin)} sideways. Say it stands too low and too far "
            "west by just that; the bolts take it away, the altitude's first.",
        )
    if step.stop is not None:
        return _at_stop(step, step.stop, units)
    if step.act is Act.TUBE_OFF:
        return (capital(taken_down_so()),)
    return ()


def _leg(leg: BuiltLeg, units: str) -> str:
    if leg.longer_mm < 1.0:
        return "To its mark; press its foot in and shut its clamp."
    return (
        f"{length(leg.longer_mm, units)} longer than the shortest on this slope; press its foot in "
        "and shut its clamp."
    )


def _wait(step: RehearsedStep) -> tuple[str, ...]:
    stop = step.stop
    if stop is None or stop.wait is None or not step.first:
        return ()
    return (wait_words(stop.wait, stop.name),)


def _turn(whole: Rehearsal, turn: OpenLockTurn) -> str:
    size = f"{abs(turn.turn_deg):.0f}°"
    if turn.near_sun:
        return "The Sun is up and this turn passes it: caps on tube and finder until it is done."
    if turn.lock is Lock.HOUR:
        moved = (
            f"the tube's end of the axis {size} to the {'west' if turn.turn_deg > 0 else 'east'}"
        )
    elif turn.through_pole:
        moved = f"the tube {size} over by way of the pole"
    else:
        moved = f"the tube {size} {'towards' if turn.to_pole_deg > 0 else 'away from'} the pole"
    if turned_by_keys(whole.evening.kit.mount.motor, turn.lock):
        return f"By the motor's keys, {moved}."
    return f"{capital(LOCK_WORDS[turn.lock])} open, {moved}, lock shut."


def _turn_hold(whole: Rehearsal, turn: OpenLockTurn) -> str:
    if turned_by_keys(whole.evening.kit.mount.motor, turn.lock):
        return "the key that stops the motor; locks stay shut"
    if turn.weights_up:
        return "the shaft: its weights are above the tube"
    return "one hand at the tube, the other at the lock"


def _turn_beware(turn: OpenLockTurn) -> tuple[str, ...]:
    said = []
    if turn.too_near:
        moving, other = turn.too_near
        said.append(f"The {moving} comes too near to the {other}: go slowly and watch.")
    if turn.barrel_down:
        said.append(capital(BARREL_DOWN) + ".")
    return tuple(said)


def _at_stop(step: RehearsedStep, stop: Stop, units: str) -> tuple[str, ...]:
    zone, view = stop.begin.tzinfo, stop.view
    assert isinstance(zone, ZoneInfo)
    if step.act is Act.LOOK:
        return (
            f"Eyepiece {view.eyepiece}, {above_ground(view.height_mm, units)} above the ground: "
            f"{posture_words(view.posture, units)}, {_face(view)}.",
        )
    room = stop.chosen.room_ends
    until = "all night"
    if room is not None:
        bar, ends = bar_words(stop.chosen.doubt), end_words(stop.chosen.ends)
        until = f"to {clock(room, zone)}{bar}: {ends}"
    return (
        f"To {clock(stop.end, zone)}, the tube on side {stop.chosen.side}; there is room {until}.",
    )


def _face(view: EyepieceView) -> str:
    words = face_words(view)
    return words if view.face_azimuth_deg is None else f"face {words}"


def _nudged(nudge: Nudge) -> str:
    if nudge.every_s is None or not nudge.knob_turns:
        return nudge_words(nudge)
    turns = knob_turns(nudge.knob_turns)
    every = to_the_second(nudge.every_s)
    return f"the hour knob: every {every} {turns} {nudge_words(nudge)}"


def _room_beware(stop: Stop) -> tuple[str, ...]:
    doubt = stop.chosen.doubt
    if doubt is None or not doubt.matters(stop.queue_s):
        return ()
    zone = stop.begin.tzinfo
    assert isinstance(zone, ZoneInfo)
    return (touch_sentence(doubt, stop.begin, zone),)
