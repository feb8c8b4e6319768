"""Is the length of a request said once, before the library makes one of several?

A server may take the same length said twice, or as a list (RFC 9110, section 8.6); nobody who means
well says it so, and a proxy in front may count otherwise. Such a request is refused.
"""

from __future__ import annotations

import re

import h11

_HEAD_ENDS = re.compile(rb"\n\r?\n")
_LENGTH = re.compile(rb"^content-length[ \t]*:([^\n]*)", re.IGNORECASE | re.MULTILINE)


class OneLength(h11.Connection):
    """A connection that refuses a request whose length stands in it twice."""

    def next_event(self) -> h11.Event | type[h11.NEED_DATA] | type[h11.PAUSED]:
        """The next event, as h11 tells it."""
        if self.their_state is h11.IDLE:
            data, _ = self.trailing_data
            end = _HEAD_ENDS.search(data)
            if end is not None and _said_twice(data[: end.start()]):
                raise h11.RemoteProtocolError("the length is said twice", error_status_hint=400)
        return super().next_event()


def _said_twice(head: bytes) -> bool:
    lengths = _LENGTH.findall(head)
    return len(lengths) > 1 or any(b"," in length for length in lengths)
