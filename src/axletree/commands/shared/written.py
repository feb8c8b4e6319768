"""How does a command write its drawing, and how are the files named that it has written?"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from axletree.kit.errors import harmless

# Of the files of a run sheet those that are printed; the order made again has none.
PAPER_FILES = ("run-sheet.pdf", "pocket.pdf")


def write_drawing(file: str, drawing: str) -> None:
    """Write an SVG with the letters that it is drawn in, whole or not at all."""
    from axletree.tell.shared.files import write_whole
    from axletree.tell.shared.typeface import by_itself

    write_whole(Path(file), by_itself(drawing).encode())


def written_words(files: Iterable[Path], older: Iterable[Path] = ()) -> str:
    """A paragraph that names the files in one line, and those of an order before this one."""
    words = f"\n\nWritten: {_names(files)}"
    before = _names(older)
    return f"{words}\nStill of the order before: {before}" if before else words


def _names(files: Iterable[Path]) -> str:
    # A line feed in a name would begin a line that seems to be the answer's own.
    return ", ".join(harmless(str(file)).replace("\n", "\ufffd") for file in files)
