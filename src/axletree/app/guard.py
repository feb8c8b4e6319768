"""Who may come in, and what may a page do?

Every request passes here first: the host it names must be ours (a foreign name that leads to
this machine is refused), it must not come from another site's page, its body must be small, and
it must belong to a seat. Only the seat that leads may change anything. Every response carries
headers that let a page load nothing but our own files and run no script but those.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from http.cookies import CookieError, SimpleCookie
from urllib.parse import quote

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from axletree.app.seats import Seat, Seats
from axletree.app.state import Desk

COOKIE = "axletree_seat"
LARGEST_BODY_BYTES = 600_000
TOO_LARGE = f"Too large: at most {LARGEST_BODY_BYTES // 1000} kB at once."
CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
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
    """Pure ASGI, so that event streams pass unbuffered. `hosts` are names as in `Host:`."""

    def __init__(self, app: ASGIApp, desk: Desk, hosts: Iterable[str]) -> None:
        self.app = app
        self.desk = desk
        self.hosts = frozenset(h.lower() for h in hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
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
        limited = _Limited(receive)
        await self.app(scope, limited, _dressed(send, new, limited))

    def _foreign(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        """Status and sentence for a request that doesn't come from a page of ours."""
        host = headers.get("host", "").lower()
        if host not in self.hosts:
            return 421, "This is not a name of this app: use the address that it printed."
        own = f"http://{host}"
        origin = headers.get("origin")
        fetched_from = headers.get("sec-fetch-site", "same-origin")
        if scope["method"] in READING:
            navigates = headers.get("sec-fetch-mode") == "navigate"
            if fetched_from == "cross-site" and not navigates:
                return 403, "Another site's page may not read this."
        elif origin != own or fetched_from != "same-origin":
            return 403, "Changes can only be made from this app's own pages."
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > LARGEST_BODY_BYTES:
            return 413, TOO_LARGE
        return None

    def _seat(self, scope: Scope, headers: Headers) -> tuple[Seat | None, Seat | None]:
        """The seat behind the request, and it again if it is new. This machine needs no code."""
        seats: Seats = self.desk.seats
        seat = seats.of(_cookie(headers.get("cookie", "")))
        if seat is not None or not from_here(scope):
            return seat, None
        if scope["path"].startswith("/static/"):
            return None, None
        seat = seats.take("", here=True)
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
    address = str((scope.get("client") or ("",))[0])
    return address == "::1" or address.startswith("127.")


def seat_cookie(seat: Seat) -> str:
    """The header that gives a browser its seat. Plain http: it can't be marked Secure."""
    return f"{COOKIE}={seat.token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=57600"


def _cookie(header: str) -> str | None:
    try:
        found = SimpleCookie(header).get(COOKIE)
    except CookieError:
        return None
    return found.value if found else None


class _Limited:
    """A request's body, ended when it grows too large. `over` says that it did."""

    def __init__(self, receive: Receive) -> None:
        self.receive = receive
        self.count = 0
        self.over = False

    async def __call__(self) -> Message:
        message = await self.receive()
        if message["type"] == "http.request":
            self.count += len(message.get("body", b""))
            if self.count > LARGEST_BODY_BYTES:
                self.over = True
                return {"type": "http.request", "body": b"", "more_body": False}
        return message


def _dressed(send: Send, new: Seat | None, limited: _Limited) -> Send:
    begun = False

    async def dressed(message: Message) -> None:
        nonlocal begun
        if limited.over and not begun:
            # The app read a body cut short; whatever it made of that is replaced.
            if message["type"] == "http.response.start":
                await _say(send, 413, {"Content-Type": "application/json"}, _problem(TOO_LARGE))
            return
        if message["type"] == "http.response.start":
            begun = True
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            if "cache-control" not in headers:
                headers["Cache-Control"] = "no-store"
            if new is not None:
                headers.append("Set-Cookie", seat_cookie(new))
        await send(message)

    return dressed


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
    raw = [(k.lower().encode("latin-1"), v.encode("latin-1")) for k, v in headers.items()]
    await send({"type": "http.response.start", "status": status, "headers": raw})
    await send({"type": "http.response.body", "body": body})
