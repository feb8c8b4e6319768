"""In which sentences is the way told that sets the axis through the tube, by its still point?"""

from __future__ import annotations

from axletree.find.practice.through_tube import ThroughTubeAnswer
from axletree.pole.aim.scope_orientation import Look
from axletree.pole.enough.still_point import StillPointView, ThroughTube
from axletree.stages.set_up.pole import PoleAnswer
from axletree.tell.shared.text import error_words
from axletree.tell.shared.words import dial_hour, dial_place

LOOK_IN_TUBE_WORDS: dict[Look, str] = {
    "erect": "the right way up",
    "inverted": "upside down",
    "mirrored": "left and right exchanged",
}


def tube_words(view: StillPointView) -> str:
    """What is looked through, with how much sky it shows: 'the finder (7°)'."""
    name = "finder" if view.through is ThroughTube.FINDER else f"{view.eyepiece} eyepiece"
    return f"the {name} ({view.field_deg:.2g}°)"


def looked_through_tube(answer: PoleAnswer) -> str:
    """What of the tube the answer's view is seen in; '' for what the mount itself has."""
    return tube_words(answer.through_tube.view) if answer.axis_view.kind == "tube" else ""


def picture_words(tube: ThroughTubeAnswer) -> str:
    """How the sky lies in it: 'upside down', 'turned by 40°'."""
    seen = tube.axis_view
    turned = round(seen.rotation_deg) % 360
    words = LOOK_IN_TUBE_WORDS[seen.look]
    if not turned:
        return words
    by = f"turned by {min(turned, 360 - turned)}° {'clockwise' if turned <= 180 else 'back'}"
    return by if seen.look == "erect" else f"{words}, {by}"


def star_about_point(answer: PoleAnswer) -> str:
    """Where the pole star goes: 'Put Polaris at 7 on a dial about that point, 37.6′ from it.'"""
    view = answer.view
    return (
        f"Put {view.star} {dial_place(view.clock_hour)} on a dial about the still point of "
        f"{tube_words(answer.through_tube.view)}, {view.pole_distance_arcmin:.1f}′ from it (12 is "
        "up)"
    )


def swing_from_words(tube: ThroughTubeAnswer) -> str:
    """On which side the tube is when the swing begins."""
    if tube.clear_west and tube.clear_east:
        return "in the west or the east"
    return "in the west" if tube.clear_west else "in the east"


def tube_steps(answer: PoleAnswer) -> list[str]:
    """What the hands and the eye do, one step a sentence or two; none where it can't be done."""
    tube, view = answer.through_tube, answer.view
    if not tube.possible:
        return []
    mark = "90°" if answer.target.north else "-90°"
    straight = tube.view.through is ThroughTube.FINDER
    own = " and the finder's own slant" if straight else ""
    shown = "" if straight else f" (the circle shows {mark} there)"
    ends = " or ".join(dial_hour(hour) for hour in sorted(_both_ends(tube.across_clock_h)))
    steps = [
        f"turn the tube to look along the axis (declination circle {mark}), the shaft level with "
        f"the tube {swing_from_words(tube)}, and look through {tube_words(tube.view)}.",
        f"swing the hour axis a quarter turn, until the weights hang down. {_seen_words(tube)}",
        "turn declination alone until that point comes as near to the middle as it will"
        f"{shown}. What is left across, towards {ends} on the dial with the weights down, is the "
        f"cone{own}, ordinarily about {tube.cone_sigma_arcmin:.0f}′: mark where the point stands, "
        "leave the finder's screws.",
    ]
    if not tube.view.cone_fits:
        steps.append(
            f"the star stands {tube.view.spare_arcmin:.0f}′ from the edge of this field when the "
            "point is in its middle: with more left across, it may lie outside."
        )
    if answer.axis_view.kind == "tube":
        steps.append(
            f"with the bolts bring {view.star} {dial_place(view.clock_hour)} on the dial, "
            f"{view.pole_distance_arcmin:.1f}′ from that point, not from the middle; the picture "
            f"is {picture_words(tube)} when the weights are down. The bolts move the stars, the "
            "point stays."
        )
    return [*steps, tube_error_words(tube)]


def _both_ends(hour: float) -> tuple[float, float]:
    """An hour of the dial and the one across."""
    return hour, hour + 6.0 if hour <= 6.0 else hour - 6.0


def _seen_words(tube: ThroughTubeAnswer) -> str:
    """What the eye meets in the swing, and which point is the axis."""
    if tube.sky_rolls:
        return "Every star goes round one point of the field: that point is the axis."
    return (
        "The picture keeps its way up while a cross-hair turns with the tube, and the stars shift "
        "past: the axis is the one point that keeps its distance from the middle, and its place "
        "against the cross-hair."
    )


def tube_error_words(tube: ThroughTubeAnswer) -> str:
    """How well that sets the axis, and of what the error is made."""
    view = tube.view
    return (
        f"it ends within {error_words(tube.within_90_arcmin)} nine times in ten: the point seen "
        f"to {view.point_sigma_arcmin:.1f}′, the star placed to {view.placing_sigma_arcmin:.1f}′ "
        f"each way. A swing of a minute misplaces the point by {100 * tube.sky_turn_part:.1f} % of "
        "what the axis is still off: swing once more at the end."
    )
