"""Which words stand on the drawing of the eyepieces' fields?"""

from __future__ import annotations

import math

from axletree.kit.frozen import dataclass
from axletree.mount.follow.nudge import EyepieceFollow
from axletree.stages.target.follow import FollowAnswer
from axletree.tell.shared.words import duration, to_the_second


@dataclass(frozen=True)
class FieldWords:
    """What stands in and below one eyepiece's field; '' where there is nothing to say."""

    head: str
    field: str
    too_large: str
    knob: str
    stays: str
    nudge: str
    edge: str


@dataclass(frozen=True)
class FollowDrawingWords:
    """What stands on the drawing; `fields` in the order of the eyepieces."""

    title: str
    description: str
    name: str
    turning: str
    fields: tuple[FieldWords, ...]
    west: str


def follow_drawing_words(answer: FollowAnswer) -> FollowDrawingWords:
    """All words of the drawing."""
    name = answer.target.name if answer.target else "A star on the celestial equator"
    return FollowDrawingWords(
        title=f"{name}: when to nudge",
        description=(
            "The field of each eyepiece, the way that the object drifts, and where a nudge is due."
        ),
        name=name,
        turning=_turning(answer),
        fields=tuple(_field(eyepiece) for eyepiece in answer.eyepieces),
        west="West is drawn to the right; in the eyepiece it is where the object drifts by itself.",
    )


def step_words(arcmin: float) -> str:
    """A tick of the scale."""
    return f"{arcmin:g}′"


def _turning(answer: FollowAnswer) -> str:
    if answer.knob is None or answer.seconds_per_turn is None:
        drive = answer.drive
        return f"motor at the {drive.rate} rate" if drive else "pushed by hand"
    sense = "clockwise" if answer.knob.clockwise else "anticlockwise"
    return f"hour knob {sense}, one turn in {duration(answer.seconds_per_turn)}"


def _field(eyepiece: EyepieceFollow) -> FieldWords:
    knob = ""
    if eyepiece.knob_turn_deg is not None and math.isfinite(eyepiece.knob_turn_deg):
        knob = f"nudge: {eyepiece.knob_turn_deg:.0f}° of the knob"
    return FieldWords(
        head=f"{eyepiece.label}, {eyepiece.magnification:.0f} times",
        field=(
            f"field {_angle(eyepiece.true_field_deg)}, crosses in {_time(eyepiece.drift_time_s)}"
        ),
        too_large="" if eyepiece.fits else "larger than the field",
        knob=knob,
        stays="stays in the field",
        nudge=_time(eyepiece.nudge_s),
        edge=_time(eyepiece.drift_time_s / 2),
    )


def _time(seconds: float) -> str:
    if not math.isfinite(seconds):
        return "never"
    return to_the_second(seconds)


def _angle(degrees: float) -> str:
    return f"{degrees:.2f}°" if degrees >= 1 else f"{degrees * 60:.0f}′"
