"""Who may come in, and what may a page do?

Every request passes here first: the host it names must be ours (a foreign name that leads to
this machine is refused), it must not come from another site's page, its body must be small, in
time and plain (see `bodies`), and it must belong to a seat. Only the seat that leads may change
anything. Every response carries headers that let a page load nothing but our own files and run no
script but those.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from urllib.parse import quote

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from axletree.app.people.seats import Seat, Seats
from axletree.app.people.turns import OverBudgetError
from axletree.app.state import Desk
from axletree.app.web.bodies import (
    LARGEST_FORM_BYTES,
    PICTURES,
    TOO_LARGE,
    GoneError,
    check_json,
    is_picture,
    most_bytes,
    replayed,
    whole_body,
)
from axletree.app.web.cookies import cookie_of
from axletree.app.web.lights import chosen_light
from axletree.app.web.refusals import RefusedError

COOKIE = "axletree_seat"
# A browser asks six things at a time of one machine; several may share a seat.
MOST_AT_ONCE = 24
LONGEST_HEAD_BYTES = 16_384
MOST_HEADERS = 100
CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
HEADERS = {
    "Content-Security-Policy": CONTENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    # Not "no-referrer": a form would then be sent with the Origin "null" and be refused here.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), usb=(), payment=()",
}
READING = ("GET", "HEAD")
# What somebody without a seat may reach, and what a seat that doesn't lead may send.
OPEN_TO_ALL = ("/enter", "/static/")
OPEN_TO_LOOKERS = ("/enter", "/lead/ask", "/lead/take", "/answer/")


class Guard:
    """Pure ASGI, so that event streams pass unbuffered. `allowed_hosts` are names as in `Host:`."""

    def __init__(self, app: ASGIApp, desk: Desk, allowed_hosts: Iterable[str]) -> None:
        self.app = app
        self.desk = desk
        self.allowed_hosts = frozenset(h.lower() for h in allowed_hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            elif scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
            return
        headers = Headers(scope=scope)
        refused = self._foreign(scope, headers)
        if refused is not None:
            await _refuse(scope, receive, send, *refused)
            return
        seat, new = self._seat(scope, headers)
        scope.setdefault("state", {})["seat"] = seat
        allowed = self._allowed(scope, seat)
        if allowed is not None:
            await _refuse(scope, receive, send, *allowed)
            return
        try:
            if scope["method"] not in READING:
                sent = (scope["path"], scope["method"])
                most = LARGEST_FORM_BYTES if seat is None else most_bytes(*sent)
                body = await whole_body(receive, most)
                if scope["path"] != "/enter" and not is_picture(*sent):
                    check_json(body)
                receive = replayed(body, receive)
            await self._let_in(seat, scope, receive, _with_headers(send, new))
        except RefusedError as error:
            await _refuse(scope, receive, send, error.status, error.words)
        except GoneError:
            pass

    async def _let_in(self, seat: Seat | None, scope: Scope, receive: Receive, send: Send) -> None:
        """On to the app; a seat has only so many things under way, one that looks takes turns."""
        if seat is None or scope["path"] == "/events":
            await self.app(scope, receive, send)
            return
        if seat.busy >= MOST_AT_ONCE:
            raise RefusedError(429, "Too much at once: wait for one answer, then ask again.")
        seat.busy += 1
        try:
            if scope["path"].startswith(PICTURES):
                async with self.desk.pictures.turns.turn():
                    await self.app(scope, receive, send)
            elif self.desk.seats.leads(seat):
                await self.desk.seats.line.led(self.app, scope, receive, send)
            elif not scope["path"].startswith("/answer/"):
                await self.app(scope, receive, send)
            else:
                async with seat.turns.turn():
                    await self.desk.seats.line.answered(self.app, scope, receive, send)
        except OverBudgetError:
            words = "Too much asked of this machine: wait a little, then ask again."
            raise RefusedError(429, words) from None
        finally:
            seat.busy -= 1

    def _foreign(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        """Status and sentence for a request that doesn't come from a page of ours."""
        host = headers.get("host", "").lower()
        if _overlong(scope):
            return 431, "Too much stands in the head of this request."
        if host not in self.allowed_hosts or len(headers.getlist("host")) > 1:
            return 421, "This is not a name of this app: use the address that it printed."
        if not scope["path"].startswith("/"):
            return 400, "This is no address of this app."
        own = [f"http://{host}"]
        fetched_from = headers.get("sec-fetch-site", "same-origin")
        if scope["method"] in READING:
            navigates = headers.get("sec-fetch-mode") == "navigate"
            if fetched_from == "cross-site" and not navigates:
                return 403, "Another site's page may not read this."
        elif headers.getlist("origin") != own or fetched_from != "same-origin":
            return 403, "Changes can only be made from this app's own pages."
        return _misframed(scope["method"], headers, most_bytes(scope["path"], scope["method"]))

    def _seat(self, scope: Scope, headers: Headers) -> tuple[Seat | None, Seat | None]:
        """The seat behind the request, and it again if it is new. This machine needs no code."""
        seats: Seats = self.desk.seats
        seat = seats.of(cookie_of(headers.get("cookie", ""), COOKIE))
        if seat is not None:
            seat.light = chosen_light(headers) or seat.light
        if seat is not None or not from_here(scope):
            return seat, None
        if scope["path"].startswith("/static/"):
            return None, None
        seat = seats.take("", here=True)
        seat.light = chosen_light(headers)
        return seat, seat

    def _allowed(self, scope: Scope, seat: Seat | None) -> tuple[int, str] | None:
        path, method = scope["path"], scope["method"]
        if seat is None and not path.startswith(OPEN_TO_ALL):
            if method in READING and not path.startswith(("/answer/", "/events")):
                return 303, "/enter?to=" + quote(path)
            return 403, "Type the code first: it stands in the terminal that runs the app."
        if method in READING or path.startswith(OPEN_TO_LOOKERS):
            return None
        if not self.desk.seats.leads(seat):
            leader = self.desk.seats.leader
            name = leader.name if leader else "nobody"
            return 403, f"You are looking: {name} leads. Ask for the lead to change things."
        return None


def from_here(scope: Scope) -> bool:
    """True for a connection from this very machine."""
    return is_here(str((scope.get("client") or ("",))[0]))


def is_here(address: str) -> bool:
    """True for an address of this very machine that nobody else can send from."""
    return address == "::1" or address.startswith("127.")


def seat_cookie(seat: Seat) -> str:
    """The header that gives a browser its seat. Plain http: it can't be marked Secure."""
    return f"{COOKIE}={seat.token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=57600"


def _overlong(scope: Scope) -> bool:
    """A browser's heads take 1 or 2 kB; the web server's own bound is one of whole reads."""
    given = scope["headers"]
    size = sum(len(name) + len(value) for name, value in given)
    size += len(scope.get("raw_path") or b"") + len(scope["query_string"])
    return size > LONGEST_HEAD_BYTES or len(given) > MOST_HEADERS


def _misframed(method: str, headers: Headers, most: int) -> tuple[int, str] | None:
    """Status and sentence for a body whose length is said wrongly, or where none belongs; `most`
    bytes may come."""
    lengths, coded = headers.getlist("content-length"), headers.getlist("transfer-encoding")
    if lengths and (coded or len(lengths) > 1):
        return 400, "The length is said twice: nothing was read."  # RFC 9112, section 6.3
    length = lengths[0] if lengths else "0"
    if not (length.isascii() and length.isdigit()):
        return 400, "The length is no number: nothing was read."
    if len(length) > 12 or int(length) > most:
        return 413, TOO_LARGE.format(most // 1000)
    if method in READING and (coded or int(length)):
        return 400, "A question carries nothing along."  # RFC 9110, section 9.3.1
    return None


def _with_headers(send: Send, new: Seat | None) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            if "cache-control" not in headers:
                headers["Cache-Control"] = "no-store"
            if new is not None:
                headers.append("Set-Cookie", seat_cookie(new))
        await send(message)

    return sent


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, words: str) -> None:
    """A redirection, or one plain sentence as JSON (the pages show it) or as text."""
    if status == 303:
        await _say(send, status, {"Location": words}, b"")
    elif scope["path"].startswith("/answer") or scope["method"] not in READING:
        await _say(send, status, {"Content-Type": "application/json"}, _problem(words))
    else:
        await _say(send, status, {"Content-Type": "text/plain; charset=utf-8"}, words.encode())


def _problem(words: str) -> bytes:
    return json.dumps({"problem": words}).encode()


async def _say(send: Send, status: int, own: dict[str, str], body: bytes) -> None:
    headers = {**HEADERS, "Cache-Control": "no-store", "Content-Length": str(len(body)), **own}
    if status in (400, 408, 413, 431):  # where this request ends is in doubt: none may follow
        headers["Connection"] = "close"
    raw = [(k.lower().encode("latin-1"), v.encode("latin-1")) for k, v in headers.items()]
    await send({"type": "http.response.start", "status": status, "headers": raw})
    await send({"type": "http.response.body", "body": body})
