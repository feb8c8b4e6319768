"""Whose question is answered next?

Threads that compute take turns at the interpreter, and lose time at every turn: two answers of a
tenth of a second made side by side took 1.4 times as long as one after the other, eight of them
twice as long. So one long answer is made at a time, and one short one beside it, by how long those
of its address took before. Of those that wait, the one comes next that has waited longest for its
length (highest response ratio next: P. Brinch Hansen, Operating System Principles, 1973, 3.2.4).
Whoever leads never waits, and while they do ask no long answer of others begins.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from dataclasses import dataclass

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from axletree.app.people.turns import spent_s

# Of all who look so many questions are answered at once, whatever happens: a short one, a long one,
# and another beside one that is very long. With eight each slows the others until all are.
LOOKING_AT_ONCE = 3
# Our figures: an answer that takes no longer is a short one, and so is one that nobody had yet; one
# that takes longer than that lets another begin; and so long is waited for whoever leads.
SHORT_S, ALONE_S, PATIENCE_S = 0.03, 1.0, 1.0
# How much of what an address took before counts after each answer; one that took longer counts
# whole at once.
_KEPT = 0.8
_MOST_ADDRESSES = 300


@dataclass(eq=False)
class _Waiting:
    expected_s: float
    since: float
    called: asyncio.Future[None]

    @property
    def short(self) -> bool:
        return self.expected_s <= SHORT_S

    def ratio(self, now: float) -> float:
        return (now - self.since) / max(self.expected_s, 1e-4)


class _Place:
    """Where one answer is made, until it begins to be sent; only for so long alone."""

    def __init__(self, line: Line, *, short: bool) -> None:
        self._line, self._short, self._alone = line, short, True
        self._timer = asyncio.get_running_loop().call_later(ALONE_S, self.let_others)

    def let_others(self) -> None:
        """The next one may begin."""
        if self._alone:
            self._alone = False
            self._line.busy[self._short] = False
        self._line.call()

    def leave(self) -> None:
        """The answer is made."""
        self._timer.cancel()
        self._line.under_way -= 1
        self.let_others()


class Line:
    """Where the questions of all who look wait."""

    def __init__(self) -> None:
        self.under_way = 0
        self._leading = 0
        self.busy = {True: False, False: False}  # the place for short ones, and for long ones
        self._waiting: list[_Waiting] = []
        self._took: dict[str, float] = {}

    async def answered(self, app: ASGIApp, scope: Scope, receive: Receive, send: Send) -> None:
        """One question's answer. Its place is free once the answer begins: who reads it slowly
        keeps nobody waiting."""
        place = await self._place(scope["path"])
        before = spent_s()
        try:
            await _until_begun(app, scope, receive, send, place.leave)
        finally:
            self._learn(scope["path"], spent_s() - before)

    async def led(self, app: ASGIApp, scope: Scope, receive: Receive, send: Send) -> None:
        """What whoever leads asks for: at once, and nothing long of others begins meanwhile."""
        self._leading += 1

        def begins() -> None:
            self._leading -= 1
            self.call()

        await _until_begun(app, scope, receive, send, begins)

    def call(self) -> None:
        """Let those begin for whom there is a place."""
        while self.under_way < LOOKING_AT_ONCE:
            now = time.monotonic()
            able = [one for one in self._waiting if self._may_begin(one, now)]
            if not able:
                return
            one = max(able, key=lambda waiting: waiting.ratio(now))
            self._waiting.remove(one)
            if one.called.done():  # gone meanwhile
                continue
            self.busy[one.short] = True
            self.under_way += 1
            one.called.set_result(None)

    def _may_begin(self, one: _Waiting, now: float) -> bool:
        if self.busy[one.short]:
            return False
        return one.short or not self._leading or now - one.since >= PATIENCE_S

    async def _place(self, path: str) -> _Place:
        loop = asyncio.get_running_loop()
        one = _Waiting(self._took.get(path, SHORT_S), time.monotonic(), loop.create_future())
        self._waiting.append(one)
        self.call()
        later = None if one.called.done() else loop.call_later(PATIENCE_S, self.call)
        try:
            await one.called
        except asyncio.CancelledError:
            if one in self._waiting:
                self._waiting.remove(one)
            elif not one.called.cancelled():  # called just now
                _Place(self, short=one.short).leave()
            raise
        finally:
            if later is not None:
                later.cancel()
        return _Place(self, short=one.short)

    def _learn(self, path: str, took_s: float) -> None:
        if path in self._took or len(self._took) < _MOST_ADDRESSES:
            before = self._took.get(path, took_s)
            self._took[path] = max(took_s, _KEPT * before + (1.0 - _KEPT) * took_s)


async def _until_begun(
    app: ASGIApp, scope: Scope, receive: Receive, send: Send, begins: Callable[[], None]
) -> None:
    """The answer; `begins()` once, when it begins to be sent or there will be none."""
    begun = False

    def once() -> None:
        nonlocal begun
        if not begun:
            begun = True
            begins()

    async def sent(message: Message) -> None:
        once()
        await send(message)

    try:
        await app(scope, receive, sent)
    finally:
        once()
