"""Which words stand on the drawing of the point that stands still?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.stages.set_up.pole import PoleAnswer
from axletree.tell.pole.tube_text import picture_words, tube_words
from axletree.tell.shared.words import dial_place


@dataclass(frozen=True)
class SwingWords:
    """What stands above, in and below the three fields."""

    title: str
    description: str
    head: str
    cone: str
    star: str
    captions: tuple[str, str, str]


def swing_words(answer: PoleAnswer) -> SwingWords:
    """All words of the drawing."""
    tube, view = answer.through_tube, answer.view
    captions = (
        "1. Swing the hour axis from level to weights down: against the cross-hair every star goes "
        "round one point. That is the axis.",
        "2. Declination alone brings the point near the middle. What is left across is the cone: "
        "mark it.",
        f"3. The bolts put {view.star} {dial_place(view.clock_hour)} on a dial about the point, "
        f"{view.pole_distance_arcmin:.0f}′ away. The point stays.",
    )
    return SwingWords(
        title="The point of the field that stands still while the hour axis swings",
        description=" ".join(captions),
        head=f"The axis in {tube_words(tube.view)}, {picture_words(tube)}",
        cone="cone",
        star=view.star,
        captions=captions,
    )
