"""In which sentences are the stops told, their order, and what got no stop?"""

from __future__ import annotations

import math

from axletree.evening.event.allotment import HereBecause, WhyHere
from axletree.evening.given_up import GivenUp, GivenUpReason
from axletree.evening.night.first_light import LEAST_DEG
from axletree.evening.stops.outcome import EmptyBecause, IdleEnd, OrderQuality
from axletree.evening.stops.stop import (
    CutOff,
    EyepieceView,
    Meanwhile,
    Nudge,
    NudgeDirection,
    Stop,
    Wait,
    WaitFor,
)
from axletree.mount.room.side_answer import SideCaution
from axletree.sky.orbits.orbit import OrbitDoubt
from axletree.tell.kit.questions_text import words_for
from axletree.tell.orbit.text import orbit_doubt_words
from axletree.tell.seeing.text import session_end_words
from axletree.tell.shared.words import clock_face, dial_place, one_and_another, own_clock
from axletree.tell.side.text import picture_words, side_caution_words, side_reason_words

POINTS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip


def why_side_words(stop: Stop, units: str) -> str:
    """Why this tube side, in a sentence."""
    better = stop.choice.better
    if better in (stop.chosen.side, ""):
        return side_reason_words(stop.choice, units)
    return (
        f"Side {stop.chosen.side} suits the order of the stops; alone, side {better} would be the "
        "better one."
    )


def stop_caution_words(caution: SideCaution | CutOff | OrbitDoubt) -> str:
    """What to beware of, in a sentence."""
    if isinstance(caution, CutOff):
        return _cut_off_words(caution)
    if isinstance(caution, OrbitDoubt):
        words = orbit_doubt_words(caution)
    else:
        words = side_caution_words(caution)
    return words[:1].upper() + words[1:] + "."


def _cut_off_words(cut: CutOff) -> str:
    """That the object doesn't fit into the field, and what to do about it."""
    stand = f"its {cut.size_arcmin:.0f}′ stand in a field of {cut.field_arcmin:.0f}′"
    if cut.held_by:
        return f"Only a part at a time: {stand}; {cut.held_by} holds all of it."
    if cut.moon:
        return f"No eyepiece of yours holds the whole Moon: {stand}; move over it."
    return f"No eyepiece of yours holds all of it: {stand}; begin with its bright part."


def face_words(view: EyepieceView) -> str:
    """Which way the face looks."""
    if view.face_azimuth_deg is None:
        return "any way, looking down"
    return POINTS[round(view.face_azimuth_deg / 45.0) % 8]


def orientation_words(view: EyepieceView) -> str:
    """How the picture stands."""
    return f"The picture is {picture_words(view.picture)}; north is {at_dial(view.north_deg)}."


def at_dial(angle_deg: float) -> str:
    """Where something stands, by its angle clockwise from the top: 'just past 7 on the dial'."""
    return f"{dial_place((angle_deg % 360.0) / 30.0)} on the dial"


def dial(angle_deg: float) -> str:
    """The same for where something goes to: '7 on the dial'."""
    return f"{clock_face(angle_deg)} on the dial"


def wait_words(wait: Wait, name: str) -> str:
    """Why nothing new comes before this stop, and what to do until then, in two sentences."""
    why = {
        WaitFor.MOMENT: f"{name} is shown when something happens on it",
        WaitFor.LIGHT: f"the sky is still too light for {name}",
        WaitFor.WAY: f"{name} is not yet clear of the skyline or within the mount's reach",
        WaitFor.PLACE: f"{name} stands better later",
    }[wait.waits_for]
    meanwhile = {
        Meanwhile.STAY: f"Stay with {wait.stay_with}, whose room lasts",
        Meanwhile.BARE_EYE: "Look with the bare eye: the brightest stars, their figures and names",
        Meanwhile.RIG: "No star shows to the bare eye yet: let people see how the mount turns",
    }[wait.meanwhile]
    return f"Until {own_clock(wait.end)}: {why}. {meanwhile}."


def nudge_words(nudge: Nudge) -> str:
    """Which way to turn the knob, or what to do where there is none to turn."""
    return {
        NudgeDirection.CLOCKWISE: "clockwise",
        NudgeDirection.ANTICLOCKWISE: "anticlockwise",
        NudgeDirection.MOTOR: "The motor follows; correct with its keys when the object strays.",
        NudgeDirection.PUSH_WEST: "There is no knob: push the tube gently towards the west.",
    }[nudge.direction]


def given_up_words(left: GivenUp) -> str:
    """Why an object got no stop."""
    if left.reason is GivenUpReason.ELSEWHERE and left.shown_at is not None:
        return f"{left.neighbour} shows it at {own_clock(left.shown_at)}"
    promise = "promised, but it can't be kept: " if left.promised else ""
    return promise + _reason(left)


def _reason(left: GivenUp) -> str:
    stop = f"{left.needed_s / 60:.0f} min" if left.needed_s >= 90 else f"{left.needed_s:.0f} s"
    if left.reason is GivenUpReason.WORTH_LESS:
        if not left.instead_of:
            return "would fit, but the moves to it and back cost more than it brings"
        names = " and ".join(left.instead_of)
        ranks = "ranks" if len(left.instead_of) == 1 else "rank"
        return f"would fit only instead of {names}, which {ranks} higher"
    return {
        GivenUpReason.EXCLUDED: "you excluded it",
        GivenUpReason.BELOW: "below the skyline or too low through the session",
        GivenUpReason.TOO_CLOSE: "its two stars are too close for this aperture and seeing",
        GivenUpReason.UNKNOWN: ("its stars cannot be told apart, or its brightness is not known"),
        GivenUpReason.TOO_FAINT: (
            f"too faint for this sky and telescope, by {left.short_mag:.1f} mag"
        ),
        GivenUpReason.TOO_FAINT_BY_MOON: (
            f"too faint under this Moon for this sky and telescope, by {left.short_mag:.1f} mag"
        ),
        GivenUpReason.NEVER_DARK: "it doesn't get dark enough for it",
        GivenUpReason.CONTACT: "the tube would meet the mount on both sides",
        GivenUpReason.MAY_TOUCH: (
            f"something of the mount may touch there (chance {left.touch_chance * 100.0:.1f} %) "
            "until its lengths are measured"
        ),
        GivenUpReason.TRAVEL_STOP: "the mount's travel stop is in the way",
        GivenUpReason.NEVER_OPEN: ("too low, too faint or out of the mount's reach all the time"),
        GivenUpReason.NO_LONGER_OPEN: "by now too low, too faint or out of the mount's reach",
        GivenUpReason.CLOUDED: "clouds hide it",
        GivenUpReason.SESSION_OVER: (
            f"the session's hours end too soon for it (a stop takes {stop})"
        ),
        GivenUpReason.ROOM_TOO_SHORT: (
            f"free for {int(left.room_s // 60)} min at most, and the stop takes {stop}"
        ),
        GivenUpReason.NOT_IN_THIS_ORDER: ("in this order its turn comes too late: show it earlier"),
        GivenUpReason.MANY_BETTER: "shows, but more than enough ranks higher",
        GivenUpReason.ENOUGH: "would fit, beyond the number of stops you want",
        GivenUpReason.NO_TIME: f"no time left beside stops that rank higher (a stop takes {stop})",
    }[left.reason]


def order_words(order: OrderQuality) -> str:
    """How good the order is; of an empty one, why it is empty."""
    empty = order.empty_because
    if order.ended_by is None or order.session_end is None:
        return (
            f"no stops: the Sun does not sink {LEAST_DEG[-1]:.0f}° below the horizon within the "
            "hours you chose."
        )
    ended_by = session_end_words(order.ended_by)
    if empty is EmptyBecause.SESSION_OVER:
        return (
            f"the session ends at {own_clock(order.session_end)} with {ended_by}, too soon for "
            "another stop."
        )
    if empty is EmptyBecause.CLOUDS:
        words = "nothing could be ordered: clouds hide it."
    elif empty is EmptyBecause.NOTHING_FITS:
        words = "nothing could be ordered."
    elif empty is EmptyBecause.NOTHING_LEFT:
        words = "nothing is left to order."
    elif order.method == "given":
        words = "the order stands as it was set."
    elif order.proven_best:
        words = "no other order of these objects is worth more (proven)."
    else:
        # Rounded up, so that it holds as it is printed.
        most = math.ceil(order.gap_percent * 10.0 - 1e-9) / 10.0
        words = f"at most {most:.1f} % below the best possible order."
    idle = "" if order.idle is None else f" {idle_words(order.idle)}"
    return f"{words} The session ends with {ended_by}.{idle}"


def idle_words(idle: IdleEnd) -> str:
    """Why nothing comes after the last stop, and what could, in a sentence or two."""
    if idle.enough:
        why = f"From {own_clock(idle.begin)} on nothing more is planned: these are as many stops as"
        why += f" people take in ('{words_for('habits.most_stops')}' of the kit changes that)."
    elif idle.could_follow:
        why = f"From {own_clock(idle.begin)} on nothing more is planned; there is time to spare."
    else:
        why = f"From {own_clock(idle.begin)} on nothing else of tonight's objects can be shown."
    if not idle.could_follow:
        return why
    return f"{why} Whoever stays can look at {one_and_another(idle.could_follow)}."


def why_here_words(why: WhyHere, labels: tuple[str, ...]) -> str:
    """Why this telescope of an event shows an object."""
    if why.because is HereBecause.ALSO_ELSEWHERE:
        return f"also shown by {labels[why.neighbour]}, at another time"
    return {
        HereBecause.PROMISED: "its kit promises it",
        HereBecause.ONLY_HERE: "only from here does it show tonight",
        HereBecause.WHOLE_IN_FIELD: f"its field of {why.value:.1f}° holds all of it",
        HereBecause.MORE_APERTURE: f"{why.value:.0f} mm of aperture draw it finer",
        HereBecause.CLEARER: f"it shows {why.value:.1f} mag clearer here",
        HereBecause.ALIKE: "alike in all; its turn is here",
        HereBecause.OTHERS_FULL: "the others have more to show",
    }[why.because]


def stay_cut_words(stay_cut_s: float) -> str:
    """That the present object's room ends before the time asked for does, in a sentence."""
    return f"Its room ends {stay_cut_s / 60.0:.0f} min before that."
