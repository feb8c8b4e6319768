"""How is a command's help laid out, so that it reads well in eighty columns, or fewer?

Sentences of a description are wrapped to the page; what is indented (examples, tables) stays as
it was written, wrapped only where it would run over. An example that is longer than the page
goes on in the next line after a backslash, so that it can be copied as it stands.
"""

from __future__ import annotations

import argparse
import re

from axletree.commands.shared.terminal import terminal_columns

COLUMNS = 80
_GAP = re.compile(r"(\s+\S+(?: \S+)*?\s{2,})\S")


class HelpPage(argparse.RawDescriptionHelpFormatter):
    """The layout of all help texts."""

    def __init__(self, prog: str) -> None:
        columns = min(COLUMNS, terminal_columns() or COLUMNS)
        super().__init__(prog, max_help_position=min(26, columns // 3), width=columns)

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return "\n".join(wrapped(text, width))


def wrapped(text: str, columns: int = COLUMNS) -> list[str]:
    """The lines of a description of at most `columns`."""
    import textwrap

    out: list[str] = []
    sentences: list[str] = []

    def flush() -> None:
        if sentences:
            out.extend(textwrap.wrap(" ".join(sentences), columns, break_on_hyphens=False))
            sentences.clear()

    for line in text.splitlines():
        if line.startswith("example: "):
            flush()
            out += example_lines(line, columns)
        elif not line.strip() or line[0].isspace():
            flush()
            out += _kept(line.rstrip(), columns)
        else:
            sentences.append(line.strip())
    flush()
    return out


def _kept(line: str, columns: int) -> list[str]:
    """An indented line as it stands, or hung under its second column where it is too long."""
    import textwrap

    if len(line) <= columns:
        return [line]
    indent = " " * (len(line) - len(line.lstrip()))
    gap = _GAP.match(line)
    if gap is None or len(gap[1]) >= columns // 2:
        return textwrap.wrap(
            line.strip(), columns, initial_indent=indent, subsequent_indent=f"{indent}    ",
            break_on_hyphens=False,
        )  # fmt: skip
    hang = " " * len(gap[1])
    lines = textwrap.wrap(line[len(hang) :], columns - len(hang), break_on_hyphens=False)
    return [gap[1] + lines[0], *(hang + more for more in lines[1:])]


def example_lines(line: str, columns: int = COLUMNS) -> list[str]:
    """'example: axletree ...' broken before options, a backslash at the end of every part."""
    if len(line) <= columns:
        return [line]
    words = re.split(r" (?=--)", line)
    lines = [words[0]]
    for word in words[1:]:
        if len(lines[-1]) + len(word) + 1 <= columns - 2:
            lines[-1] += f" {word}"
        else:
            lines.append(f"    {word}")
    return [f"{one} \\" for one in lines[:-1]] + lines[-1:]
