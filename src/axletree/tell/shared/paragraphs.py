"""How do sentences and short tables fit into 80 columns?"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

COLUMNS = 80


def paragraph(words: str, indent: str = "", hang: str | None = None) -> str:
    """Words wrapped to the page; later lines begin with `hang` (the indent unless given)."""
    return textwrap.fill(
        words,
        COLUMNS,
        initial_indent=indent,
        subsequent_indent=indent if hang is None else hang,
        break_long_words=False,
        break_on_hyphens=False,
    )


def listed(title: str, items: Iterable[str]) -> str:
    """A titled list, one wrapped item a line, or nothing where there are no items."""
    rows = [paragraph(item, "  ", "    ") for item in items]
    return "\n".join([title, *rows]) if rows else ""


def sections(*parts: str) -> str:
    """The parts that say something, with an empty line between them."""
    return "\n\n".join(part for part in parts if part)
