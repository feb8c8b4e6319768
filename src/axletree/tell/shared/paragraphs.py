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


def narrowed(text: str, columns: int) -> str:
    """A text of 80 columns on a narrower terminal: longer lines go on under their beginning."""
    lines: list[str] = []
    for line in text.split("\n"):
        indent = " " * min(len(line) - len(line.lstrip()) + 2, columns // 4)
        wrapped = textwrap.wrap(
            line, columns, subsequent_indent=indent, break_on_hyphens=False,
            drop_whitespace=True,
        )  # fmt: skip
        lines += [line] if len(line) <= columns or not wrapped else wrapped
    return "\n".join(lines)
