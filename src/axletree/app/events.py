"""How do open pages hear of changes? Server-sent events, for changes only.

The page asks for everything else itself. An event is a word and a small JSON; a page that missed
some asks again for all when its link comes back.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncGenerator, Callable, Mapping
from typing import Any

HEARTBEAT_S = 15.0
MOST_WAITING = 100
Event = tuple[str, Mapping[str, Any]]
Seen = Callable[[str, Mapping[str, Any]], Mapping[str, Any]]


class Hub:
    """Everybody who listens. `tell` may be called from any thread."""

    def __init__(self) -> None:
        self._listeners: dict[asyncio.Queue[Event | None], asyncio.AbstractEventLoop] = {}
        self.closed = False

    def __len__(self) -> int:
        return len(self._listeners)

    def tell(self, word: str, data: Mapping[str, Any]) -> None:
        """Send one event to every open page."""
        self._send((word, data))

    def close(self) -> None:
        """End every link; nobody can listen any more."""
        self.closed = True
        self._send(None)

    def _send(self, event: Event | None) -> None:
        for queue, loop in list(self._listeners.items()):
            loop.call_soon_threadsafe(_put, queue, event)

    async def listen(
        self, hello: Callable[[], Mapping[str, Any]], gone: Callable[[], None], seen: Seen
    ) -> AsyncGenerator[str, None]:
        """Events as text until the link ends; `hello` makes the first, `gone` is called last, and
        `seen` gives what this listener may know of each."""
        queue: asyncio.Queue[Event | None] = asyncio.Queue(MOST_WAITING)
        self._listeners[queue] = asyncio.get_running_loop()
        try:
            yield "retry: 2000\n" + event_text("hello", seen("hello", hello()))
            while not self.closed:
                try:
                    event = await asyncio.wait_for(queue.get(), HEARTBEAT_S)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                if event is None:
                    return
                word, data = event
                yield event_text(word, seen(word, data))
        finally:
            self._listeners.pop(queue, None)
            gone()


def event_text(word: str, data: Mapping[str, Any]) -> str:
    """One event as it goes over the wire (WHATWG HTML, section 9.2)."""
    return f"event: {word}\ndata: {json.dumps(data, ensure_ascii=False)}\n\n"


def _put(queue: asyncio.Queue[Event | None], event: Event | None) -> None:
    if queue.full():  # a page that reads nothing hears the newest
        queue.get_nowait()
    queue.put_nowait(event)
