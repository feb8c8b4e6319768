"""In which words is told where the axis points while bolts are turned?"""

from __future__ import annotations

from axletree.pole.correct.advice import Verdict
from axletree.stages.set_up.check import CheckAnswer
from axletree.tell.check.text import error_words
from axletree.tell.check.turn_text import turn_words
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import clock


def begun_words(folder: str) -> str:
    """What to do now."""
    return paragraph(
        f"Now turn the bolts; each new picture in {folder} tells where the axis points then. The "
        "camera stays as it is on the tube; declination stays locked. Ctrl-C ends it."
    )


def now_words(answer: CheckAnswer) -> str:
    """Where the axis points by one picture, and what is left to turn."""
    source = answer.known.since_turn[-1].source
    turn = turn_words(answer)
    good = answer.advice.verdict is Verdict.GOOD
    return sections(
        paragraph(
            f"{source}, {clock(answer.at, answer.zone)}: "
            f"{error_words(answer.estimate, answer.pole)}{' Good enough.' if good else ''}"
        ),
        listed("Still to turn", turn) if turn else "",
    )


def ended_words(count: int) -> str:
    """What is to be done when the bolts are locked."""
    if not count:
        return paragraph("No new picture was recognised; nothing was noted of turning bolts.")
    return paragraph(
        "Locked? Note it with 'axletree check turned', and measure again: locking moves the axis."
    )
