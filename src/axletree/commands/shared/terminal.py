"""How wide is what is printed to?"""

from __future__ import annotations

import sys

NARROWEST = 20


def terminal_columns() -> int | None:
    """The width of the terminal that is printed to, None where it is none (a file keeps its 80)."""
    if sys.stdout is None or not sys.stdout.isatty():
        return None
    import shutil

    return max(NARROWEST, shutil.get_terminal_size().columns)
