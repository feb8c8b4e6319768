"""Which lengths do pictures of the rig tell?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit, check_text
from axletree.kit.writing.measured import with_measured
from axletree.mount.dimensions.names import key_of
from axletree.mount.learned.learn import DimensionLearned, before_and_after
from axletree.mount.photographed.picture import MarkedPicture
from axletree.mount.photographed.solution import MarkLeft, photographed

# A dimension is told by pictures where they leave less than so much of its error; what they leave
# more of stays open (our figure).
TOLD_BELOW = 0.6
_STILL_OPEN = 0.98  # where they leave more than this, they say nothing of it
# Masses stand on no picture: what balance makes of them isn't written down.
_LENGTHS = ("_mm", "_deg")


@dataclass(frozen=True)
class PhotographsAnswer:
    """The dimensions that pictures tell, surest gain first; lengths that they leave open.

    `marks`: those that lie far from where all else has their places; `rms_px` of the others.
    """

    kit: Kit
    pictures: tuple[MarkedPicture, ...]
    told: tuple[DimensionLearned, ...]
    open: tuple[DimensionLearned, ...]
    marks: tuple[MarkLeft, ...]
    rms_px: float


def photographs(kit: Kit, pictures: Sequence[MarkedPicture]) -> PhotographsAnswer:
    """What pictures of the rig tell, weights down and the tube along the polar axis."""
    found = photographed(kit, pictures)
    rows = [
        one for one in before_and_after(found.known, found.values, found.sigmas)
        if key_of(one.name).endswith(_LENGTHS)
    ]  # fmt: skip
    told = tuple(one for one in rows if one.left < TOLD_BELOW and not one.name.endswith("]"))
    open_ = tuple(one for one in rows if TOLD_BELOW <= one.left < _STILL_OPEN)
    return PhotographsAnswer(kit, tuple(pictures), told, open_, found.marks, found.rms_px)


def with_photographed(text: str, answer: PhotographsAnswer, day: date) -> tuple[str, list[str]]:
    """A kit's text with the dimensions that were told, and their names; parts that the text doesn't
    have are left out. Refuses what would make it no kit."""
    written = []
    for one in answer.told:
        try:
            text = with_measured(text, one.name, round(one.value, 1), round(one.sigma, 1), day)
        except AxletreeError:
            continue
        written.append(one.name)
    _, problems = check_text(text)
    if problems:
        raise AxletreeError(f"not written: {problems[0]}")
    return text, written
