"""How many may stand in the door, and how long may one of them take to say what they want?

The web server lets a connection wait for ever and takes as many as come. Here each address on the
network has a few connections, all of them together have some, and none holds one for nothing: a
request's head has to arrive in time, what is sent back has to be taken, and who is gone without a
word is noticed. This machine itself is not counted, so that its person always gets in.
"""

from __future__ import annotations

import asyncio
import contextlib
import socket
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from axletree.app.web import guard
from axletree.app.web.framing import OneLength

# A browser opens six connections to one machine; some phones hold two browsers.
MOST_FROM_ONE = 32
MOST_FROM_ELSEWHERE = 400
OPEN_FILES = 4096
# Our figures, for a phone at the edge of the network.
LONGEST_HEAD_S = 10.0
LONGEST_STANDSTILL_S = 60.0


class Door(H11Protocol):
    """One connection."""

    head_s = LONGEST_HEAD_S
    standstill_s = LONGEST_STANDSTILL_S
    _late: asyncio.TimerHandle | None = None
    _stuck: asyncio.TimerHandle | None = None

    def __init__(self, *words: Any, **more: Any) -> None:
        super().__init__(*words, **more)
        longest = self.config.h11_max_incomplete_event_size or guard.LONGEST_HEAD_BYTES
        self.conn = OneLength(h11.SERVER, longest)

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Let it in, or shut the door."""
        super().connection_made(transport)
        if self._crowded():
            transport.abort()
            return
        _notice_silence(transport, self.standstill_s)
        self._late = self.loop.call_later(self.head_s, transport.abort)

    def _crowded(self) -> bool:
        """Whether this one is too many; it is counted already."""
        address = self.client[0] if self.client else ""
        if guard.is_here(address):
            return False
        all_of_them = (c for c in self.connections if isinstance(c, H11Protocol))
        others = [c.client[0] for c in all_of_them if c.client]
        far = sum(not guard.is_here(other) for other in others)
        return others.count(address) > MOST_FROM_ONE or far > MOST_FROM_ELSEWHERE

    def data_received(self, data: bytes) -> None:
        """A piece of a request: from the first to the last of its head there is little time."""
        super().data_received(data)
        if self.cycle is not None and not self.cycle.response_complete:
            self._in_time()
        elif self._late is None:
            self._late = self.loop.call_later(self.head_s, self.transport.abort)

    def pause_writing(self) -> None:
        """Nothing is taken any more."""
        super().pause_writing()
        self._stuck = self.loop.call_later(self.standstill_s, self.transport.abort)

    def resume_writing(self) -> None:
        """It goes on."""
        super().resume_writing()
        self._flows()

    def connection_lost(self, exc: Exception | None) -> None:
        """Gone."""
        self._in_time()
        super().connection_lost(exc)
        self._flows()

    def _in_time(self) -> None:
        if self._late is not None:
            self._late.cancel()
            self._late = None

    def _flows(self) -> None:
        if self._stuck is not None:
            self._stuck.cancel()
            self._stuck = None


def _notice_silence(transport: asyncio.Transport, seconds: float) -> None:
    """A phone that left the network says nothing; what is sent to it fails after this time."""
    connected = transport.get_extra_info("socket")
    option = getattr(socket, "TCP_USER_TIMEOUT", None)  # RFC 5482; Linux has it
    if connected is not None and option is not None:
        with contextlib.suppress(OSError):
            connected.setsockopt(socket.IPPROTO_TCP, option, int(seconds * 1000))


def open_files() -> None:
    """Ask the system for room for as many connections as may come (macOS begins with 256)."""
    try:
        import resource
    except ImportError:  # Windows has no such limit
        return
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = OPEN_FILES if hard == resource.RLIM_INFINITY else min(OPEN_FILES, hard)
    if soft != resource.RLIM_INFINITY and soft < wanted:
        with contextlib.suppress(OSError, ValueError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
