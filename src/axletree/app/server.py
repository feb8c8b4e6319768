"""How do the pages reach the browser? The app's routes, and the sockets it listens on.

The app computes nothing: pages are templates, answers come from the floors below.
"""

from __future__ import annotations

import importlib
import pkgutil
import socket
import threading
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager, suppress
from json import JSONDecodeError
from typing import Any
from urllib.parse import parse_qs

from fastapi import FastAPI, HTTPException, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, StreamingResponse
from starlette.exceptions import HTTPException as StarletteHTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from axletree.app import answers
from axletree.app.answers.common import ask
from axletree.app.guard import HEADERS, Guard, from_here, seat_cookie
from axletree.app.pages import START, STATIC, Page, edition, page_named, pages, render, render_plain
from axletree.app.seats import Seat
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError

# Longest age that browsers keep a static file; its address changes with its content.
KEEP_S = 31_536_000
LIGHTS = ("day", "dusk", "red")


def make_app(desk: Desk, hosts: Iterable[str]) -> FastAPI:
    """The app around one desk; `hosts` are the names (with port) that it may be called by."""

    @asynccontextmanager
    async def lifetime(app: FastAPI) -> AsyncIterator[None]:
        threading.Thread(target=_warm, args=(desk,), daemon=True).start()
        yield
        desk.hub.close()

    app = FastAPI(
        title="Axletree", docs_url=None, redoc_url=None, openapi_url=None, lifespan=lifetime
    )
    app.state.desk = desk
    app.mount("/static/" + edition(), _Static(directory=STATIC), name="static")
    _pages(app, desk)
    _people(app, desk)
    _events(app, desk)
    for module in pkgutil.iter_modules(answers.__path__):
        found = importlib.import_module(f"{answers.__name__}.{module.name}")
        if hasattr(found, "router"):
            app.include_router(found.router)
    _refusals(app)
    app.add_middleware(GZipMiddleware, minimum_size=600)
    app.add_middleware(Guard, desk=desk, hosts=tuple(hosts))
    return app


def _warm(desk: Desk) -> None:
    """Read data and modules before anybody asks, so that the first page needn't wait."""
    for command in ("pole", "north", "level", "follow"):
        words = ["--bubble", "0", "0"] if command == "level" else []
        with suppress(AxletreeError):  # a kit that can't be answered for is told in its page
            ask(desk, command, words)


class _Static(StaticFiles):
    """Files whose address names their edition: kept by the browser without asking again."""

    def file_response(self, *args: Any, **kwargs: Any) -> Response:
        response = super().file_response(*args, **kwargs)
        response.headers["Cache-Control"] = f"private, max-age={KEEP_S}, immutable"
        return response


def _seat(request: Request) -> Seat | None:
    found: Seat | None = request.scope.get("state", {}).get("seat")
    return found


def _light(request: Request) -> str:
    """Which light the page is to open in, so that no white page flashes in the dark."""
    light = request.cookies.get("axletree_light", "day")
    return light if light in LIGHTS else "day"


def _page(request: Request, desk: Desk, page: Page) -> HTMLResponse:
    seat = _seat(request)
    leader = desk.seats.leader
    if seat is not None and leader is not None and seat.here and leader.here and not leader.links:
        # Two browsers at the machine itself: the one that is open leads.
        desk.seats.hand_over(seat)
        leader = seat
    return HTMLResponse(
        render(
            page,
            kit_name=desk.kit.name,
            units=desk.kit.habits.units,
            zone=desk.kit.site.time_zone,
            light=_light(request),
            number=seat.number if seat else 0,
            leads=desk.seats.leads(seat),
            leader=leader.name if leader else "",
            sharing=desk.sharing is not None,
            here=from_here(request.scope),
        )
    )


def _pages(app: FastAPI, desk: Desk) -> None:
    @app.get("/", response_class=HTMLResponse)
    def start(request: Request) -> HTMLResponse:
        return _page(request, desk, START)

    for page in pages():

        def show(request: Request, page: Page = page) -> HTMLResponse:
            return _page(request, desk, page)

        app.add_api_route(f"/{page.name}", show, methods=["GET"], response_model=None)


def _people(app: FastAPI, desk: Desk) -> None:
    """Coming in, and who leads."""

    @app.get("/enter", response_class=HTMLResponse)
    def enter(request: Request, to: str = "/") -> Response:
        if _seat(request) is not None:
            return RedirectResponse(_own_path(to), status_code=303)
        return HTMLResponse(
            render_plain("enter", to=_own_path(to), problem="", light=_light(request))
        )

    @app.post("/enter", response_class=HTMLResponse)
    async def entered(request: Request) -> Response:
        if desk.sharing is None:
            raise HTTPException(404)
        form = parse_qs((await request.body()).decode("utf-8", "replace"))
        code, name, to = (form.get(word, [""])[0] for word in ("code", "name", "to"))
        client = request.client
        problem = "That code is not right, or it was used already: ask for the one of the moment."
        try:
            if desk.sharing.open(code, client.host if client else ""):
                seat = desk.seats.take(name, here=False)
                _tell_lead(desk)
                gone = RedirectResponse(_own_path(to), status_code=303)
                gone.headers["Set-Cookie"] = seat_cookie(seat)
                return gone
        except AxletreeError as error:
            problem = str(error)
        return HTMLResponse(
            render_plain("enter", to=_own_path(to), problem=problem, light=_light(request)), 403
        )

    @app.post("/lead/ask")
    def asked(request: Request) -> dict[str, Any]:
        seat = _seat(request)
        if seat is not None and not desk.seats.leads(seat):
            seat.asks = True
            _tell_lead(desk)
        return {}

    @app.post("/lead/take")
    def take(request: Request) -> dict[str, Any]:
        seat = _seat(request)
        if seat is None or not from_here(request.scope):
            raise HTTPException(403, "Ask for the lead: only at the machine itself is it taken.")
        desk.seats.hand_over(seat)
        _tell_lead(desk)
        return {}

    @app.post("/lead/give/{number}")
    def give(number: int) -> dict[str, Any]:
        seat = desk.seats.numbered(number)
        if seat is None:
            raise HTTPException(404, "Nobody sits there any more.")
        desk.seats.hand_over(seat)
        _tell_lead(desk)
        return {}

    @app.get("/answer/sharing")
    def sharing(request: Request) -> dict[str, Any]:
        """The code of the moment, for the leader to read out."""
        from axletree.app.sharing import qr_svg, spaced

        shared = desk.sharing
        if shared is None or not desk.seats.leads(_seat(request)):
            return {"address": None}
        return {
            "address": shared.address, "code": spaced(shared.code), "qr": qr_svg(shared.address),
        }  # fmt: skip

    @app.put("/settings/{name}")
    async def settings(request: Request, name: str) -> dict[str, Any]:
        values = await request.json()
        if page_named(name) is None or not isinstance(values, dict):
            raise HTTPException(404, "There is no page of that name to set.")
        seat = _seat(request)
        desk.set_page(name, values, by=str(seat.number) if seat else "")
        return {}


def _own_path(to: str) -> str:
    """A path of this app, never another site's address."""
    name = to.strip("/")
    return f"/{name}" if page_named(name) else "/"


def _people_now(desk: Desk) -> dict[str, Any]:
    leader = desk.seats.leader
    return {
        "leader": leader.name if leader else "",
        "leader_number": leader.number if leader else 0,
        "people": [
            {"number": s.number, "name": s.name, "asks": s.asks} for s in desk.seats.present()
        ],
    }


def _tell_lead(desk: Desk) -> None:
    desk.hub.tell("lead", _people_now(desk))


def _events(app: FastAPI, desk: Desk) -> None:
    @app.get("/events")
    async def events(request: Request) -> StreamingResponse:
        seat = _seat(request)

        def hello() -> dict[str, Any]:
            if seat is not None:
                seat.links += 1
                if seat.links == 1:
                    _tell_lead(desk)
            return {
                "you": seat.number if seat else 0,
                "revision": desk.revision,
                "edition": edition(),
                "settings": desk.all_settings(),
                **_people_now(desk),
            }

        def gone() -> None:
            if seat is not None:
                seat.links = max(0, seat.links - 1)
                if seat.links == 0 and not desk.hub.closed:
                    _tell_lead(desk)

        return StreamingResponse(desk.hub.listen(hello, gone), media_type="text/event-stream")


def _refusals(app: FastAPI) -> None:
    """Every failure in one plain sentence."""

    def say(request: Request, status: int, words: str, field: str = "") -> Response:
        if request.method == "GET" and not request.url.path.startswith("/answer"):
            page = render_plain("missing", words=words, light=_light(request))
            return HTMLResponse(page, status)
        content = {"problem": words, **({"field": field} if field else {})}
        return JSONResponse(content, status)

    @app.exception_handler(AxletreeError)
    async def refused(request: Request, error: AxletreeError) -> Response:
        return say(request, 422, " ".join(str(error).split()))

    @app.exception_handler(RequestValidationError)
    async def misread(request: Request, error: RequestValidationError) -> Response:
        first = error.errors()[0]
        field = str(first["loc"][-1]) if first.get("loc") else ""
        if first["type"].startswith(("json", "model_attributes", "dict")):
            return say(request, 422, "That was not what this page sends: nothing was changed.")
        message = str(first["msg"])
        words = f"{field.replace('_', ' ')}: {message[:1].lower()}{message[1:]}"
        return say(request, 422, words, field)

    @app.exception_handler(StarletteHTTPException)
    async def missing(request: Request, error: StarletteHTTPException) -> Response:
        usual = {404: "There is nothing here.", 405: "That can't be done here."}
        detail = str(error.detail)
        words = detail if detail.endswith(".") else usual.get(error.status_code, detail + ".")
        return say(request, error.status_code, words)

    @app.exception_handler(JSONDecodeError)
    @app.exception_handler(UnicodeDecodeError)
    async def unreadable(request: Request, error: ValueError) -> Response:
        return say(request, 422, "That could not be read: nothing was changed.")

    @app.exception_handler(Exception)
    async def broken(request: Request, error: Exception) -> Response:
        words = "Something broke here; the terminal that runs the app says what."
        response = say(request, 500, words)
        response.headers.update(HEADERS)  # this answer is made outside the guard
        return response


def own_hosts(port: int, address: str | None = None) -> list[str]:
    """The names, with their port, that the app answers to."""
    names = ["127.0.0.1", "localhost", "[::1]", *([address] if address else [])]
    return [f"{name}:{port}" for name in names] + (names if port == 80 else [])


def listen(address: str, port: int) -> socket.socket:
    """A listening socket on one address, refused in one line when the port is taken."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((address, port))
    except OSError as error:
        listening.close()
        raise AxletreeError(
            f"port {port} on {address} can't be used ({error.strerror}); try --port {port + 1}"
        ) from None
    listening.listen(64)
    return listening


def run(app: FastAPI, sockets: list[socket.socket]) -> None:
    """Serve until stopped from the keyboard."""
    import uvicorn

    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, proxy_headers=False,
        timeout_graceful_shutdown=1, timeout_keep_alive=30, lifespan="on",
    )  # fmt: skip
    uvicorn.Server(config).run(sockets=sockets)
