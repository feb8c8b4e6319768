"""Is a kit's text so long or so deep that reading it would take for ever?

TOML readers take time and memory as the square of some things: 100 kB of one dotted key took
8 GB. What is asked here is asked before any of them reads the text.
"""

from __future__ import annotations

import re

from axletree.kit.reading.problems import Problem, ProblemKind

# Our figures: the demo kits have under 200 lines; a skyline of 360 points fits on one of them.
MOST_LINES = 2000
LONGEST_LINE = 10_000
_PART = r"""(?:"[^"]*"|'[^']*'|[^.,=\s"']+)"""
_DEEP = re.compile(rf"(?:\.[ \t]*{_PART}[ \t]*){{9}}")
_MANY_DIGITS = re.compile(r"[0-9A-Fa-f](?:_?[0-9A-Fa-f]){199}")


def overgrown(text: str) -> Problem | None:
    """What is beyond any kit, with its line; None for what can be read in no time."""
    rows = text.split("\n")
    if len(rows) > MOST_LINES:
        message = f"a kit has at most {MOST_LINES} lines, this text {len(rows)}"
        return _too_large(message, MOST_LINES + 1)
    for number, row in enumerate(rows, 1):
        if len(row) > LONGEST_LINE:
            return _too_large(f"longer than any line of a kit: {LONGEST_LINE} letters", number)
        if _DEEP.search(row):
            return _too_large("dots within dots, deeper than any key of a kit", number)
        if _MANY_DIGITS.search(row):
            return _too_large("a number has hundreds of digits", number)
    return None


def _too_large(message: str, line: int) -> Problem:
    return Problem("", message, line, ProblemKind.TOO_LARGE)
