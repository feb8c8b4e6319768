"""Somebody who asks the app anything at all, and a judge of what comes back.

Requests go in below every library: a scope of ASGI 3 as a server makes it, so that a test can
name any address, any header and any bytes. The judge knows the app's promises, not its code.
"""

from __future__ import annotations

import asyncio
import gzip
import json
import re
import time
from collections.abc import Coroutine, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any
from urllib.parse import unquote_to_bytes

HOST = "127.0.0.1:8765"
# Longer than any answer needs on a busy machine (the year's calendar takes 1-2 s).
LONGEST_S = 30.0
MARK = "<x-mark a='1'>"
LONGEST_SENTENCE = 400
# What every response says: W3C Content Security Policy Level 3; WHATWG Fetch (nosniff,
# Cross-Origin-Resource-Policy); RFC 9111 (no-store).
SAID = {
    "content-security-policy": re.compile(r"default-src 'none';.*frame-ancestors 'none'"),
    "x-content-type-options": re.compile("nosniff$"),
    "x-frame-options": re.compile("DENY$"),
    "referrer-policy": re.compile("same-origin$"),
    "cross-origin-resource-policy": re.compile("same-origin$"),
    "cache-control": re.compile(r"no-store$|private, max-age=\d+(, immutable)?$"),
}


@dataclass(frozen=True)
class Caller:
    """Where somebody sits, and their cookie ('' for none)."""

    word: str
    address: str
    cookie: str = ""


@dataclass(frozen=True)
class Asked:
    """One request. `target` is path and query as they go over the wire."""

    method: str
    target: str
    body: bytes = b""
    kind: str = "application/json"
    headers: tuple[tuple[str, str], ...] = ()
    pieces: int = 1
    label: str = ""

    def __str__(self) -> str:
        shown = self.body[:160] + (b"..." if len(self.body) > 160 else b"")
        said = f" {dict(self.headers)}" if self.headers else ""
        return f"{self.method} {self.target[:200]}{said} {self.kind} {shown!r}"


@dataclass
class Reply:
    """What came back; `broke` is an exception that left the app."""

    status: int = 0
    headers: dict[str, str] = field(default_factory=dict)
    body: bytes = b""
    seconds: float = 0.0
    broke: BaseException | None = None

    @property
    def text(self) -> str:
        return self.body.decode("utf-8", "replace")

    @property
    def kind(self) -> str:
        return self.headers.get("content-type", "").split(";")[0]


class Asker:
    """Sends requests to one app, one after another, on a loop and a thread of its own.

    Of its own: where browser tests ran before, the main thread has a loop that never stops.
    """

    def __init__(self, app: Any, host: str = HOST) -> None:
        self.app, self.host = app, host
        self.loop = asyncio.new_event_loop()
        self.thread = ThreadPoolExecutor(1)
        self.count = 0
        self.slowest: tuple[float, str] = (0.0, "")

    def close(self) -> None:
        self._run(self.loop.shutdown_default_executor())
        self.loop.close()
        self.thread.shutdown()

    def _run(self, work: Coroutine[Any, Any, Any]) -> Any:
        return self.thread.submit(self.loop.run_until_complete, work).result()

    def ask(self, asked: Asked, caller: Caller) -> Reply:
        self.count += 1
        reply: Reply = self._run(self._ask(asked, caller))
        self.slowest = max(self.slowest, (reply.seconds, str(asked)))
        return reply

    async def _ask(self, asked: Asked, caller: Caller) -> Reply:
        raw, _, query = asked.target.partition("?")
        scope = {
            "type": "http", "asgi": {"version": "3.0", "spec_version": "2.3"},
            "http_version": "1.1", "server": ("127.0.0.1", 8765), "scheme": "http",
            "client": (caller.address, 50000), "method": asked.method, "root_path": "",
            "path": unquote_to_bytes(raw).decode("utf-8", "replace"),
            "raw_path": raw.encode("utf-8"), "query_string": query.encode("utf-8"),
            "headers": self._headers(asked, caller), "state": {},
        }  # fmt: skip
        whole, step = asked.body, max(1, -(-len(asked.body) // asked.pieces))
        pieces = [whole[i : i + step] for i in range(0, len(whole), step)] or [b""]
        reply, heard = Reply(), asyncio.Event()

        async def receive() -> dict[str, Any]:
            if pieces:
                piece = pieces.pop(0)
                return {"type": "http.request", "body": piece, "more_body": bool(pieces)}
            # A stream of events never ends by itself: its reader leaves after the first one.
            await heard.wait()
            return {"type": "http.disconnect"}

        async def send(message: dict[str, Any]) -> None:
            if message["type"] == "http.response.start":
                reply.status = message["status"]
                reply.headers = {k.decode("latin-1").lower(): v.decode("latin-1")
                                 for k, v in message["headers"]}  # fmt: skip
            elif message["type"] == "http.response.body":
                reply.body += message.get("body", b"")
                heard.set()

        begun = time.perf_counter()
        try:
            await asyncio.wait_for(self.app(scope, receive, send), 3 * LONGEST_S)
        except BaseException as error:
            reply.broke = error
        reply.seconds = time.perf_counter() - begun
        if reply.headers.get("content-encoding") == "gzip":
            reply.body = gzip.decompress(reply.body)
        return reply

    def _headers(self, asked: Asked, caller: Caller) -> list[tuple[bytes, bytes]]:
        given = [(k.lower(), v) for k, v in asked.headers]
        named = {k for k, _ in given}
        usual = [("host", self.host), ("accept-encoding", "gzip")]
        if asked.method not in ("GET", "HEAD"):
            usual.append(("origin", f"http://{self.host}"))
        if asked.body:
            usual += [("content-type", asked.kind), ("content-length", str(len(asked.body)))]
        if caller.cookie:
            usual.append(("cookie", f"axletree_seat={caller.cookie}"))
        both = [(k, v) for k, v in usual if k not in named] + given
        return [(k.encode("latin-1", "replace"), v.encode("latin-1", "replace"))
                for k, v in both if v != "\0gone"]  # fmt: skip


class _Tags(HTMLParser):
    """Whether a page holds a tag that somebody outside has written."""

    def __init__(self) -> None:
        super().__init__()
        self.foreign = False

    def handle_starttag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        self.foreign |= tag == "x-mark" or any(name.startswith("on") for name, _ in attrs)


def _no_constant(word: str) -> None:
    raise ValueError(f"{word} is no JSON (RFC 8259)")


def strings_in(value: Any) -> Iterable[str]:
    """Every text of a JSON value."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from strings_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from strings_in(inner)


def no_sentence(words: Any) -> str:
    """Why this is no plain sentence for a person; '' if it is one."""
    if not isinstance(words, str) or not words.strip():
        return "says nothing"
    if len(words) > LONGEST_SENTENCE:
        return f"is {len(words)} characters long"
    if any(ord(c) < 32 or 127 <= ord(c) < 160 or 0xD800 <= ord(c) < 0xE000 for c in words):
        return "holds a control character"
    own = re.sub(r"'.*'", "", words)  # without what was sent and is quoted
    if re.search(r"Traceback|Error\b|pydantic|\bNone\b|<class|object at 0x|line \d+ in ", own):
        return "speaks as a program"
    return ""


def complaints(asked: Asked, reply: Reply, secret: Sequence[str] = ()) -> list[str]:
    """What is wrong with a reply, one line each; `secret` must not stand in it."""
    wrong: list[str] = []
    if reply.broke is not None:
        wrong.append(f"broke: {type(reply.broke).__name__}: {str(reply.broke)[:200]}")
    if reply.status >= 500 or reply.status < 200:
        wrong.append(f"status {reply.status}: {reply.text[:100]}")
    if reply.seconds > LONGEST_S:
        wrong.append(f"took {reply.seconds:.1f} s")
    for name, said in SAID.items():
        if not said.match(reply.headers.get(name, "")):
            wrong.append(f"header {name}: {reply.headers.get(name)!r}")
    wrong += [f"tells '{word}'" for word in secret if word in reply.text]
    if reply.kind == "application/json":
        wrong += _wrong_json(asked, reply)
    elif reply.kind == "text/html":
        tags = _Tags()
        tags.feed(reply.text)
        if tags.foreign or MARK in reply.text:
            wrong.append("markup from outside")
        if reply.status >= 400:
            heading = re.search(r"<h1>(.*?)</h1>", reply.text, re.DOTALL)
            if heading is None:
                wrong.append("a refusal without words")
    elif reply.kind == "text/event-stream":
        for line in reply.text.split("\n"):  # no other line end is the stream's, nor is one made
            if line.startswith("data: "):
                wrong += _wrong_json(asked, Reply(200, body=line[6:].encode()))
    elif reply.kind == "text/plain":
        why = no_sentence(reply.text)
        if reply.status >= 400 and why:
            wrong.append(f"the refusal {why}: {reply.text[:100]!r}")
    elif reply.kind == "application/pdf":
        # A work sheet made here, and nothing that a caller brought.
        if not asked.target.startswith("/answer/teach/sheet.pdf"):
            wrong.append("a PDF from where none is made")
    elif reply.kind not in ("text/event-stream", "text/csv", "image/svg+xml", "text/css",
                            "text/javascript", ""):  # fmt: skip
        wrong.append(f"content type {reply.kind!r}")
    if not reply.kind and reply.body:
        wrong.append("a body of no kind")
    return wrong


def _wrong_json(asked: Asked, reply: Reply) -> list[str]:
    try:
        value = json.loads(reply.body.decode("utf-8"), parse_constant=_no_constant)
    except ValueError as error:
        return [f"not JSON: {error}"]
    wrong = []
    if reply.status >= 400:
        why = no_sentence(value.get("problem") if isinstance(value, dict) else None)
        if why:
            wrong.append(f"the refusal {why}: {str(value)[:160]!r}")
        elif set(value) - {"problem", "field", "row"}:
            wrong.append(f"the refusal has {sorted(value)}")
    elif not isinstance(value, dict):
        wrong.append("the answer is no object, which its schema declares")
    # Drawings are put onto the page as markup.
    if any("<svg" in text and MARK in text for text in strings_in(value)):
        wrong.append("markup from outside in a drawing")
    return wrong
