"""How much of the machine's time may somebody who looks take from who leads?

Questions of a seat that looks are answered one after another, and out of a budget of seconds: a
seat that has used it up waits until enough has come back, or is told to. A page of its person
never comes near it (a question takes a few hundredths of a second, one every few seconds); a
program that asks without end gets a tenth of the machine's time, and who leads the rest.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field

# Our figures: pages that open one after another take less than 4 s in the first minute.
FULL_S = 4.0
COMES_BACK = 0.1  # seconds of answering for each second that passes
LONGEST_WAIT_S = 10.0


class OverBudgetError(Exception):
    """A seat asked for more of the machine's time than comes back to it while it waits."""


@dataclass
class Turns:
    """The budget of one seat, in seconds of answers, and whose turn it is among its questions."""

    left_s: float = field(default_factory=lambda: FULL_S)
    counted_at: float = field(default_factory=time.monotonic)
    one: asyncio.Lock = field(default_factory=asyncio.Lock)

    @asynccontextmanager
    async def turn(self) -> AsyncIterator[None]:
        """One question's turn; waits for it, refuses where the wait would be long."""
        async with self.one:
            wait = self._count(0.0) / -COMES_BACK
            if wait > LONGEST_WAIT_S:
                raise OverBudgetError
            if wait > 0:
                await asyncio.sleep(wait)
            begun = time.monotonic()
            try:
                yield
            finally:
                self._count(time.monotonic() - begun)

    def _count(self, spent_s: float) -> float:
        """What is left after so many seconds were spent; below zero they are owed."""
        now = time.monotonic()
        back = COMES_BACK * (now - self.counted_at)
        self.left_s, self.counted_at = min(FULL_S, self.left_s + back) - spent_s, now
        return self.left_s
