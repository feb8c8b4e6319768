"""In which words is it told what pictures of the rig say?"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.mount.photographed.picture import RigPlace
from axletree.mount.photographed.solution import MarkLeft
from axletree.stages.kit.photographs import PhotographsAnswer
from axletree.tell.learned.text import learned_words, value_words
from axletree.tell.shared.words import capital

PLACES = {
    RigPlace.FOOT_1: "foot of the first leg, where it meets the ground",
    RigPlace.FOOT_2: "foot of the second leg, clockwise from above",
    RigPlace.FOOT_3: "foot of the third leg",
    RigPlace.HINGE_1: "hinge of the first leg, in the middle of the bolt",
    RigPlace.HINGE_2: "hinge of the second leg",
    RigPlace.HINGE_3: "hinge of the third leg",
    RigPlace.TILT_BOLT: "bolt about which the head tilts to the latitude",
    RigPlace.CROSSING: "crossing of the axes, in the middle of the head",
    RigPlace.SADDLE: "middle of the saddle's face, on the declination axis",
    RigPlace.SHAFT_END: "lower end of the counterweight shaft",
    RigPlace.TUBE_FRONT: "middle of the tube's front rim",
    RigPlace.TUBE_BACK: "middle of the tube's back end",
    RigPlace.EYEPIECE_SEAT: "outer end of the focuser, its middle",
}
SET_UP = (
    "Stand the rig as at rest: weights down, tube along the polar axis, in balance. Take one "
    "picture from the side and one from behind, from three or four metres, all of it in the middle "
    "of the frame, and measure one length on each."
)


def photographs_text(answer: PhotographsAnswer, written: Sequence[str] = ()) -> str:
    """What pictures tell, what they leave open, which marks are wrong."""
    units = answer.kit.habits.units
    count = len(answer.pictures)
    head = "A picture tells:" if count == 1 else f"{count} pictures tell:"
    lines = [head, *(f"  {capital(learned_words(one, units))}" for one in answer.told)]
    if not answer.told:
        lines = ["These marks tell no length better than the kit does."]
    if answer.open:
        few = "; ".join(value_words(one, units) for one in answer.open[:_MOST_OPEN])
        lines.append(f"Left open, a little surer than before: {few}.")
    if count == 1:
        lines.append(ONE_ALONE)
    if not any(picture.known for picture in answer.pictures):
        lines.append(NO_SCALE)
    lines += [mark_words(mark) for mark in answer.marks]
    rest = "All other marks" if answer.marks else "All marks"
    lines.append(f"{rest} lie {answer.rms_px:.1f} pixels off, root mean square.")
    if written:
        lines.append(f"Written into the kit: {len(written)} dimensions, each by itself.")
    return "\n".join(lines)


_MOST_OPEN = 4
ONE_ALONE = (
    "From one picture only what lies across the line of sight is known: take another from a "
    "quarter of a circle further on."
)
NO_SCALE = "No length was given: all lengths are only as sure as those of the kit."


def mark_words(mark: MarkLeft) -> str:
    """Which mark is hardly on its place."""
    return (
        f"Look again at picture {mark.picture + 1}: '{mark.place.value}' lies {mark.off_px:.0f} "
        "pixels from where all else has it, and counts little."
    )


def places_title(*, behind: bool) -> str:
    """The title of the drawing of the places."""
    return f"Places to mark on a picture from {'behind' if behind else 'the side'}"
