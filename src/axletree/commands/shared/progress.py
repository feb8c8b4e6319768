"""How does a person know that work of over a second goes on? A bar on standard error.

Nothing is shown for quicker work, nor where standard error is no terminal; `rich` is imported
only when the bar appears.
"""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import Any, Self

PATIENCE_S = 1.0


class Bar:
    """A progress bar of `steps` steps; call it with the words of the step that begins."""

    def __init__(self, steps: int) -> None:
        self._steps, self._done = steps, 0
        self._begun = time.monotonic()
        self._shown: Any = None
        self._task: Any = None

    def __enter__(self) -> Self:
        return self

    def __call__(self, words: str) -> None:
        """One step is done and the next, `words`, begins."""
        self._done += 1
        if self._shown is None:
            waited = time.monotonic() - self._begun > PATIENCE_S
            if not waited or not sys.stderr.isatty():
                return
            from rich.console import Console
            from rich.progress import Progress

            self._shown = Progress(console=Console(stderr=True), transient=True)
            self._shown.start()
            self._task = self._shown.add_task(words, total=self._steps)
        self._shown.update(self._task, completed=min(self._done, self._steps), description=words)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._shown is not None:
            self._shown.stop()
