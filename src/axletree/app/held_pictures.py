"""Which pictures were sent for measuring the axis? Held while the app runs, in memory alone."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from typing import TYPE_CHECKING

from axletree.app.people.turns import Turns
from axletree.kit.errors import AxletreeError
from axletree.pole.picture_files.sent import PictureSent

if TYPE_CHECKING:
    from axletree.stages.set_up.check import CheckAnswer, CheckRequest

MOST_HELD = 12
# Processor's seconds that recognising pictures may take at once, and how fast they come back: a
# run of three takes about one (our figures).
FULL_S, COMES_BACK = 30.0, 0.5
BUSY = "Pictures are being recognised: wait for that answer first."
TOO_MANY = f"At most {MOST_HELD} pictures at once: take some away."


class HeldPictures:
    """Pictures by the page's own keys, in the order in which they came; and the run they made.

    `turns`: the budget of all that is done with them.
    """

    def __init__(self) -> None:
        self.turns = Turns(left_s=FULL_S, most_s=FULL_S, back=COMES_BACK)
        self.run: tuple[CheckAnswer, CheckRequest] | None = None
        self._sent: dict[str, PictureSent] = {}
        self._lock = threading.Lock()
        self._recognising = threading.Lock()

    def hold(self, key: str, sent: PictureSent) -> None:
        """Keep a picture; one of the same key is replaced."""
        with self._lock:
            if key not in self._sent and len(self._sent) >= MOST_HELD:
                raise AxletreeError(TOO_MANY)
            self._sent[key] = sent

    def of(self, keys: Sequence[str]) -> list[PictureSent]:
        """The pictures of these keys, in that order; those that went astray are left out."""
        with self._lock:
            return [self._sent[key] for key in keys if key in self._sent]

    def forget(self) -> None:
        """Let all of them go."""
        with self._lock:
            self._sent.clear()
            self.run = None

    def __enter__(self) -> None:
        """One recognition at a time: each takes memory and all of a processor."""
        if not self._recognising.acquire(blocking=False):
            raise AxletreeError(BUSY)

    def __exit__(self, *_: object) -> None:
        self._recognising.release()
