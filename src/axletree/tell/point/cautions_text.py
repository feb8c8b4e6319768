"""In which sentences are cautions, refusals and assumptions about a pose told?"""

from __future__ import annotations

from axletree.kit.kit import Kit
from axletree.mount.rig.field_orientation import is_mirrored, picture_kind
from axletree.mount.room.choice import Choice
from axletree.sky.sun_rule import SunReason, SunRefusal
from axletree.stages.target.point import PointAnswer, PointCaution
from axletree.tell.learned.text import assumed_of_rig
from axletree.tell.orbit.text import orbit_words
from axletree.tell.point.circles_text import by_which_notes, hour_circle_counts, resting_on
from axletree.tell.shared.guessed import guessed_shapes
from axletree.tell.shared.text import rotation_words
from axletree.tell.shared.words import (
    above_ground,
    length,
)
from axletree.tell.side.text import (
    picture_words,
    side_caution_words,
)
from axletree.tell.skyline.text import skyline_words

NEVER_AT_THE_SUN = (
    "Never point a telescope at or near the Sun without a filter made for it over the front: it "
    "blinds in an instant."
)


def refusal_words(refusal: SunRefusal) -> str:
    """Why there is no side, without the object's name."""
    up = refusal.reason is SunReason.UP
    if refusal.itself:
        return f"no side now, it {'is up' if up else 'rises before the stop ends'}."
    does = "is up" if up else "rises before the stop ends"
    return f"no side now, it stands {refusal.separation_deg:.0f}° from the Sun, which {does}."


def too_near_words(name: str, refusal: SunRefusal) -> tuple[str, str]:
    """Why something gets no direction, a paragraph each."""
    return f"{name}: {refusal_words(refusal)} {NEVER_AT_THE_SUN}", keeps_words(refusal)


def keeps_words(refusal: SunRefusal) -> str:
    """What the kit keeps from the Sun, and what a look at the Sun itself would need."""
    if not refusal.itself:
        return f"This kit keeps {refusal.distance_deg:g}° away."
    lacking = [
        words
        for words, there in (
            ("over the tube", refusal.tube_filter),
            ("over the finder", refusal.finder_filter),
        )
        if not there
    ]
    return f"The kit names no filter made for the Sun {' nor '.join(lacking)}."


def caution_words(answer: PointAnswer) -> list[str]:
    """The cautions, a sentence or two each."""
    words = {
        PointCaution.CAPS_BY_DAY: (
            "The Sun is up: caps on tube and finder until the tube points at its object, and turn "
            "it there by a way that passes far from the Sun."
        ),
        PointCaution.FILTERS_ON: (
            "The Sun: the filters go over the front of tube and finder before either turns to it, "
            "held fast and looked through for holes first, and stay on until both point far away."
        ),
        PointCaution.NEVER_AT_THE_SUN: NEVER_AT_THE_SUN,
        PointCaution.HOLD_THE_TUBE: (
            "Hold the tube with one hand whenever a lock is open; turn one axis after the other."
        ),
        PointCaution.LOOK_BEFORE_TURNING: (
            "Look at tripod, cables and people before every turn: the figures are only as good as "
            "the kit's measures."
        ),
    }
    return [words[caution] for caution in answer.cautions]


def beware_words(choice: Choice) -> list[str]:
    return [
        f"side {a.side}: {side_caution_words(c)}"
        for a in choice.sides
        if a.usable
        for c in a.cautions
    ]


def assumed_words(answer: PointAnswer) -> list[str]:
    kit = answer.kit
    view = picture_words(picture_kind(kit.tube))
    if is_mirrored(kit.tube):
        view += "; clock directions above are as the eye sees them"
    return [
        f"the view is {view}; the head is held upright",
        f"{_counts(answer)}; a declination circle that shows too much on one "
        "side shows as much too little on the other",
        f"parts keep {length(kit.habits.clearance_margin_mm, kit.habits.units)} apart, eyes reach "
        f"from {above_ground(kit.habits.eye_height_min_mm, kit.habits.units)} to "
        f"{above_ground(kit.habits.eye_height_max_mm, kit.habits.units)}",
        *([] if answer.pointing is None else [resting_on(answer.pointing, kit.site.zone)]),
        *([] if answer.state is None else [by_which_notes(answer.state)]),
        *assumed_of_rig(answer.learned, kit.site.zone, kit.habits.units),
        *guessed_words(kit),
        *orbit_words(answer.thing),
        *(note for note in (rotation_words(answer.doubts),) if note),
        *skyline_words(answer.horizon),
    ]


def _counts(answer: PointAnswer) -> str:
    return hour_circle_counts(answer.pointing, set_on_star=any(answer.set_on))


def guessed_words(kit: Kit) -> list[str]:
    """One line that says how many dimensions nobody measured."""
    shapes = guessed_shapes(kit)
    if not shapes:
        return []
    shown = ", ".join(shapes[:4])
    more = f" and {len(shapes) - 4} more" if len(shapes) > 4 else ""
    return [f"guessed, good to perhaps 20 %: {shown}{more}; measure those near a contact"]
