"""What was a night last told as, and is it still so?

After a change every open page asks at once: an answer is made by the first that asks, and the
others wait for it; each making it anew would only take its time away.
"""

from __future__ import annotations

import threading
from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Any

_Key = tuple[str, bool]


class Told:
    """The answers of one night as texts, with what each was made from: by name, and whether it is
    told to those who only look."""

    def __init__(self) -> None:
        self._held: dict[_Key, tuple[Sequence[Any], Any, str]] = {}
        self._making: defaultdict[_Key, threading.Lock] = defaultdict(threading.Lock)

    def text(
        self, name: _Key, steps: Sequence[Any], beside: Any, make: Callable[[], str]
    ) -> str:  # fmt: skip
        """What was told under this name, if of these very steps and the same things beside them;
        else what `make()` gives now."""
        with self._making[name]:
            held = self._held.get(name)
            if held is None or held[0] is not steps or held[1] != beside:
                held = self._held[name] = (steps, beside, make())
            return held[2]
