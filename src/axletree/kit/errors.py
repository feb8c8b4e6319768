"""What does a person read when something they gave is wrong?

Public: ``AxletreeError``, ``SeveralWrongError``, ``KeptAside``, ``one_line``, ``harmless``.
"""

from __future__ import annotations

import re
from pathlib import Path

from axletree.kit.frozen import dataclass

_LONGEST = 600
# Control characters but for the line feed, surrogates, and what turns the way of writing:
# a terminal would obey them, and a file that says such things may be a stranger's.
_OBEYED = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
_DIGITS = re.compile(r"\d{40,}")  # no number that a person means


class AxletreeError(ValueError):
    """One line for the person: what is wrong, where, and what would be right."""


class SeveralWrongError(AxletreeError):
    """The first of several things wrong in a file; who shows it says what lists the others."""


@dataclass(frozen=True)
class KeptAside:
    """A damaged file at `path`: it lies beside it under the name `kept_as`, a new one was begun."""

    path: Path
    kept_as: str


def harmless(text: str) -> str:
    """The text with a mark in place of every character that a terminal would obey."""
    return _OBEYED.sub("\ufffd", text)


def one_line(error: BaseException | str) -> str:
    """The words of an error as one line, the middle of a very long one (or number) left out."""
    line = harmless(" ".join(str(error).split()))
    line = _DIGITS.sub(lambda many: f"{many[0][:12]}... ({len(many[0])} digits)", line)
    if len(line) <= _LONGEST:
        return line
    return f"{line[: _LONGEST - 200]} ... {line[-195:]}"
