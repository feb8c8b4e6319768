"""Which words stand in the drawing of a kit's measures?"""

from __future__ import annotations

from axletree.kit.kit import Kit
from axletree.tell.shared.words import length

CAPTION = "from the east, weights down"


def kit_view_title(kit: Kit) -> str:
    """The title of the drawing."""
    return f"{kit.name}: the rig from the east, with its measures"


def mount_title(size: str) -> str:
    """The title of the drawing of one of the sizes of mount."""
    return f"A {size} mount with its tube, beside a person 1.7 m tall"


def measure_words(value_mm: float, units: str, *, guessed: bool) -> str:
    """A length, and that nobody measured it."""
    return length(value_mm, units) + (", guessed" if guessed else "")
