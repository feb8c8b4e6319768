"""In which words is told what the declination knob has to do where the axis is off?"""

from __future__ import annotations

from axletree.axis.model import KnownBy
from axletree.axis.state import State
from axletree.axis.unknowns import ModelPart
from axletree.mount.follow.gearing import DeclinationKnob
from axletree.stages.target.follow import AxisWork
from axletree.tell.shared.words import bar, day_words


def axis_work_words(work: tuple[AxisWork, ...], knob: DeclinationKnob | None) -> list[str]:
    """What the tube has to be moved by on each side; of a knob with counted turns, how far."""
    return [_side_words(one, knob) for one in work]


def _side_words(work: AxisWork, knob: DeclinationKnob | None) -> str:
    rate, sigma = work.declination_arcsec_per_min, work.sigma_arcsec_per_min
    way = "north" if rate >= 0 else "south"
    said = (
        f"With this mount's axis, on side {work.side}: declination {abs(rate):.1f}″ ± "
        f"{bar(sigma, 1)}″ a minute {way}"
    )
    turn = None if knob is None else knob.degrees_per_turn
    if not turn:
        return f"{said}."
    assert knob is not None
    clockwise = knob.clockwise_east if work.side == "east" else knob.clockwise_west
    sense = "clockwise" if clockwise == way else "anticlockwise"
    knob_deg = abs(rate) * 10.0 / 3600.0 / turn * 360.0
    if knob_deg < 0.5:
        return f"{said}: less than a degree of the knob in 10 min."
    return f"{said}: {knob_deg:.0f}° of the knob {sense} in 10 min."


def axis_from_words(state: State) -> str:
    """How the axis is known that this rests on, and by which evening's notes."""
    known = state.pointing.known_of(ModelPart.AXIS).by
    how = "measured" if known is KnownBy.MEASURED else "as well as it was set, not measured"
    since = state.stands_since
    stands = "" if since is None else f", the mount standing where it stood on {day_words(since)}"
    return (
        f"The declination's work is that of this mount's axis, {how}, by the notes of the evening "
        f"of {day_words(state.evening)}{stands}; ± is one standard deviation."
    )
