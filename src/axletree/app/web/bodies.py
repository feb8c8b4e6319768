"""What is sent to the app, whole and in time: is it small enough, and is it plain JSON?

A body is read here before any route sees it, so that each of them can count on what it gets:
JSON of RFC 8259 that every browser reads back alike. Refused are not-a-number and infinities,
whole numbers that a browser can't hold (RFC 8259, section 6), half characters (a surrogate
without its other half), a name given twice (section 4: what it means is not defined) and nesting
deeper than any page sends.
"""

from __future__ import annotations

import asyncio
import json
from typing import Any

from starlette.types import Message, Receive

from axletree.app.web.refusals import RefusedError
from axletree.pole.picture_files.limits import LARGEST_SENT_BYTES

LARGEST_BODY_BYTES = 600_000
# A page that leads sends pictures, each reduced to less than this, to addresses of their own.
LARGEST_PICTURE_BYTES = LARGEST_SENT_BYTES
PICTURES = "/check/pictures/"
# Somebody without a seat sends a code and a name, nothing else.
LARGEST_FORM_BYTES = 4_000
TOO_LARGE = "Too large: at most {} kB at once."
TOO_SLOW = "That came too slowly: nothing was changed. Send it again."
UNREADABLE = "That could not be read: nothing was changed."
# Our figures: a page's largest body (a logbook's evenings) takes 5 s over a poor link.
LONGEST_BODY_S = 30.0
DEEPEST = 40
LARGEST_WHOLE = 2**53


class GoneError(Exception):
    """Whoever was sending has hung up: there is nobody to answer."""


def is_picture(path: str, method: str) -> bool:
    """Whether a request brings a picture, and no JSON."""
    return method == "PUT" and path.startswith(PICTURES)


def most_bytes(path: str, method: str) -> int:
    """How large the body of a request may be."""
    return LARGEST_PICTURE_BYTES if is_picture(path, method) else LARGEST_BODY_BYTES


async def whole_body(receive: Receive, most: int, longest_s: float | None = None) -> bytes:
    """All of a request's body, at most `most` bytes of it and for so many seconds."""
    body = bytearray()
    try:
        async with asyncio.timeout(LONGEST_BODY_S if longest_s is None else longest_s):
            more = True
            while more:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise GoneError
                body += message.get("body", b"")
                if len(body) > most:
                    raise RefusedError(413, TOO_LARGE.format(most // 1000))
                more = message.get("more_body", False)
    except TimeoutError:
        raise RefusedError(408, TOO_SLOW) from None
    return bytes(body)


def check_json(body: bytes) -> None:
    """Refuse a body that isn't plain JSON; an empty one is left to its route."""
    if not body:
        return
    try:
        value = json.loads(
            body.decode("utf-8"), parse_constant=_no, parse_int=_whole, parse_float=_finite,
            object_pairs_hook=_once,
        )  # fmt: skip
        _walk(value)
    except (ValueError, RecursionError):
        raise RefusedError(422, UNREADABLE) from None


def replayed(body: bytes, receive: Receive) -> Receive:
    """A body that was read, to be read again; then whatever comes."""
    given = False

    async def again() -> Message:
        nonlocal given
        if not given:
            given = True
            return {"type": "http.request", "body": body, "more_body": False}
        return await receive()

    return again


def _no(word: str) -> Any:
    raise ValueError(word)


def _whole(digits: str) -> int:
    if len(digits) > 17 or abs(number := int(digits)) > LARGEST_WHOLE:
        raise ValueError("a whole number that a browser can't hold")
    return number


def _finite(digits: str) -> float:
    number = float(digits)
    if number in (float("inf"), float("-inf")):
        raise ValueError("beyond any number")
    return number


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a name stands twice")
    return found


def _walk(value: Any) -> None:
    """Look at every text and every level."""
    level = [value]
    for _ in range(DEEPEST):
        inner: list[Any] = []
        for one in level:
            if isinstance(one, str):
                one.encode("utf-8")  # raises for half a character
            elif isinstance(one, dict):
                inner += one.keys()
                inner += one.values()
            elif isinstance(one, list):
                inner += one
        if not inner:
            return
        level = inner
    raise ValueError("too deep")
