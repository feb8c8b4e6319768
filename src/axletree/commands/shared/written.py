"""How are the files named that a command has written?"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from axletree.kit.errors import harmless

# Of the files of a run sheet those that are printed; the order made again has none.
PAPER_FILES = ("run-sheet.pdf", "pocket.pdf")


def written_words(files: Iterable[Path], older: Iterable[Path] = ()) -> str:
    """A paragraph that names the files in one line, and those of an order before this one."""
    words = f"\n\nWritten: {_names(files)}"
    before = _names(older)
    return f"{words}\nStill of the order before: {before}" if before else words


def _names(files: Iterable[Path]) -> str:
    # A line feed in a name would begin a line that seems to be the answer's own.
    return ", ".join(harmless(str(file)).replace("\n", "\ufffd") for file in files)
