"""What of somebody's words may be shown to others, in a page or in a terminal?

No control characters (they steer terminals), none that turn the direction of what follows or
can't be seen (Unicode categories Cc, Cf, Cs, Co, Cn, Zl, Zp; Unicode Technical Report 36 tells what
is done with them), no pile of marks on one letter, one line, and not more than fits.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

MOST_MARKS = 2
CUT = "…"


def printable(text: str, most: int) -> str:
    """The text on one line, without what can't be seen, at most `most` characters long."""
    spaced = " ".join(text[: 8 * most].split())
    words = " ".join(_seen(unicodedata.normalize("NFC", spaced)).split())
    return words if len(words) <= most else words[: most - 1].rstrip() + CUT


def _seen(text: str) -> str:
    return "".join(_few_marks(c for c in text if c.isprintable()))


def _few_marks(text: Iterable[str]) -> Iterable[str]:
    marks = 0
    for c in text:
        marks = marks + 1 if unicodedata.category(c) in ("Mn", "Me") else 0
        if marks <= MOST_MARKS:
            yield c
