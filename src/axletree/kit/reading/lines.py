"""On which line of a TOML file does a key stand?

`tomllib` reads values but forgets where they stood; a person who is told of a mistake wants the
line. This reads only headers and keys, of a file that `tomllib` has already accepted.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

_HEADER = re.compile(r"^\s*(\[\[|\[)\s*([^\[\]]+?)\s*(\]\]|\])\s*(#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*[A-Za-z0-9_"'-]+)*)\s*=\s*(.*)$"""
)
Path = tuple[str | int, ...]


def _names(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip().strip("\"'") for part in dotted.split("."))


def _open_after(text: str, state: tuple[int, str]) -> tuple[int, str]:
    """Bracket depth and open multi-line quote after reading one line of a value."""
    depth, quote = state
    i = 0
    while i < len(text):
        if quote:
            if text.startswith(quote, i):
                i += len(quote)
                quote = ""
                continue
            i += 2 if text[i] == "\\" and quote[0] == '"' else 1
            continue
        if text.startswith('"""', i) or text.startswith("'''", i):
            quote = text[i : i + 3]
            i += 3
        elif text[i] in "\"'":
            quote = text[i]
            i += 1
        else:
            if text[i] == "#":
                break
            depth += (text[i] in "[{") - (text[i] in "]}")
            i += 1
    return depth, quote if len(quote) == 3 else ""


def key_lines(text: str) -> dict[Path, int]:
    """Line numbers (from 1) by path; entries of arrays of tables carry their index."""
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    prefix: Path = ()
    state = (0, "")
    for number, line in enumerate(text.splitlines(), start=1):
        if state != (0, ""):
            state = _open_after(line, state)
            continue
        header = _HEADER.match(line)
        if header:
            names: list[str | int] = []
            parts = _names(header.group(2))
            for depth, part in enumerate(parts, start=1):
                names.append(part)
                is_array = header.group(1) == "[[" and depth == len(parts)
                if is_array:
                    counts[tuple(names)] = counts.get(tuple(names), -1) + 1
                if tuple(names) in counts:
                    names.append(counts[tuple(names)])
            prefix = tuple(names)
            found.setdefault(prefix, number)
            continue
        key = _KEY.match(line)
        if key:
            names = list(prefix)
            for part in _names(key.group(1)):
                names.append(part)
                found.setdefault(tuple(names), number)
            state = _open_after(key.group(2), state)
    return found


def parted(text: str, tables: Collection[str], blank: str = "\n") -> tuple[str, str]:
    """The text without some of its tables, and these alone, each with `blank` for a row of the
    other, so that lines keep their numbers."""
    rest, own = "", ""
    inside = mine = under = False
    state = (0, "")
    for row in text.splitlines(keepends=True):
        line = row.rstrip("\r\n")
        if state != (0, ""):
            state = _open_after(line, state)
        elif header := _HEADER.match(line):
            inside = mine = _names(header.group(2))[0] in tables
            under = True
        elif key := _KEY.match(line):
            mine = inside or (not under and _names(key.group(1))[0] in tables)
            state = _open_after(key.group(2), state)
        else:
            mine = inside
        rest += blank if mine else row
        own += row if mine else blank
    return rest, own


def line_of(path: Sequence[str | int], lines: dict[Path, int]) -> int | None:
    """The line of a path, or of the nearest table that holds it; None when nothing is known."""
    for end in range(len(path), 0, -1):
        line = lines.get(tuple(path[:end]))
        if line is not None:
            return line
    return None
