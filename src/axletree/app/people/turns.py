"""How much of the machine's time may somebody who looks take from who leads?

Of a seat that looks two questions are in the line at once (see `line`). They are answered out of
a budget of the processor's seconds: those of a seat that has used it up wait until enough has come
back, or are told to. A page of its person never comes near it (a question takes a
few hundredths of a second, one every few seconds); a program that asks without end gets a fifth of
the processor's time, and who leads the rest.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import wraps
from typing import Any

# Our figures: a page's questions take some tenths of a second, a night's plan one or two.
FULL_S = 8.0
COMES_BACK = 0.2  # seconds of answering for each second that passes
LONGEST_WAIT_S = 10.0
# So many questions of one seat are in the line at once; ours: with one a long one would keep all
# the others of its person waiting.
OF_A_SEAT_AT_ONCE = 2
# What the question under way has taken so far; a thread that answers it sees the same list.
_spent: ContextVar[list[float] | None] = ContextVar("spent", default=None)


class OverBudgetError(Exception):
    """A seat asked for more of the machine's time than comes back to it while it waits."""


@dataclass
class Turns:
    """The budget of one seat in the processor's seconds, and whose turn it is of its questions."""

    left_s: float = field(default_factory=lambda: FULL_S)
    most_s: float | None = None  # None: as for a seat that looks
    back: float | None = None
    counted_at: float = field(default_factory=time.monotonic)
    places: asyncio.Semaphore = field(default_factory=lambda: asyncio.Semaphore(OF_A_SEAT_AT_ONCE))
    one: asyncio.Lock = field(default_factory=asyncio.Lock)

    @property
    def _comes_back(self) -> float:
        return COMES_BACK if self.back is None else self.back

    @asynccontextmanager
    async def turn(self) -> AsyncIterator[None]:
        """One question's turn; waits for the seat's others and where the budget is used up, or
        refuses."""
        async with self.places:
            if self._count(0.0) < 0:
                async with self.one:
                    wait = self._count(0.0) / -self._comes_back
                    if wait > LONGEST_WAIT_S:
                        raise OverBudgetError
                    await asyncio.sleep(max(wait, 0.0))
                    async with self._counted():
                        yield
            else:
                async with self._counted():
                    yield

    @asynccontextmanager
    async def _counted(self) -> AsyncIterator[None]:
        spent = [0.0]
        token = _spent.set(spent)
        try:
            yield
        finally:
            _spent.reset(token)
            self._count(spent[0])

    def _count(self, spent_s: float) -> float:
        """What is left after so many seconds were spent; below zero they are owed."""
        now = time.monotonic()
        back = self._comes_back * (now - self.counted_at)
        most = FULL_S if self.most_s is None else self.most_s
        self.left_s, self.counted_at = min(most, self.left_s + back) - spent_s, now
        return self.left_s


def spent_s() -> float:
    """What the question under way has taken of the processor so far."""
    spent = _spent.get()
    return 0.0 if spent is None else spent[0]


def metered(answers: Callable[..., Any]) -> Callable[..., Any]:
    """What answers a question in a thread, its processor time counted where somebody counts."""

    if hasattr(answers, "__wrapped__"):
        return answers  # by an app before

    @wraps(answers)
    def counted(*given: Any, **named: Any) -> Any:
        begun = time.thread_time()
        try:
            return answers(*given, **named)
        finally:
            spent = _spent.get()
            if spent is not None:
                spent[0] += time.thread_time() - begun

    return counted
