"""How do the pages reach the browser? The app's routes, and the sockets it listens on.

The app computes nothing: pages are templates, answers come from the floors below.
"""

from __future__ import annotations

import asyncio
import importlib
import logging
import pkgutil
import socket
import sys
import threading
from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager, suppress
from datetime import UTC, datetime
from inspect import iscoroutinefunction
from json import JSONDecodeError
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse
from fastapi.routing import APIRoute
from starlette.exceptions import HTTPException as StarletteHTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from axletree.app import answers
from axletree.app.answers.house.people import add_events, add_people
from axletree.app.memory import go_on_giving_back, settle, share_memory
from axletree.app.people.printable import printable
from axletree.app.people.seats import seat_of
from axletree.app.people.turns import metered
from axletree.app.state import Desk
from axletree.app.web.guard import HEADERS, LONGEST_HEAD_BYTES, Guard, from_here
from axletree.app.web.joined import JoinedModules
from axletree.app.web.lights import light_of
from axletree.app.web.pages import (
    ASIDE,
    BOARD,
    START,
    STATIC,
    TYPEFACE,
    Page,
    edition,
    pages,
    render,
    render_plain,
)
from axletree.app.web.refusals import RefusedError
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    import uvicorn

# Longest age that browsers keep a static file; its address changes with its content.
KEEP_S = 31_536_000
LONGEST_REFUSAL = 300
# The one static file that may hold pages (W3C, Service Workers, 3.4.1: header for a wider scope).
WORKER = "worker.js"
SWITCH_S = 0.0005


def make_app(desk: Desk, hosts: Iterable[str]) -> FastAPI:
    """The app around one desk; `hosts` are the names (with port) that it may be called by."""

    @asynccontextmanager
    async def lifetime(app: FastAPI) -> AsyncIterator[None]:
        threading.Thread(target=_warm, args=(desk,), daemon=True).start()
        giving = asyncio.create_task(go_on_giving_back())
        yield
        giving.cancel()
        desk.hub.close()

    app = FastAPI(
        title="Axletree", docs_url=None, redoc_url=None, openapi_url=None, lifespan=lifetime
    )
    app.state.desk = desk
    static = "/static/" + edition()
    app.mount(static + "/typeface", _Static(directory=TYPEFACE), name="typeface")
    names = frozenset(page.name for page in (*ASIDE, *pages()))
    app.mount(static + "/joined", JoinedModules(STATIC, names, KEEP_S), name="joined")
    app.mount(static, _Static(directory=STATIC), name="static")
    _pages(app, desk)
    add_people(app, desk)
    add_events(app, desk)
    for module in pkgutil.walk_packages(answers.__path__, f"{answers.__name__}."):
        found = importlib.import_module(module.name)
        if hasattr(found, "router"):
            app.include_router(_metered(found.router))
    _refusals(app)
    app.add_middleware(GZipMiddleware, minimum_size=600, compresslevel=6)
    app.add_middleware(Guard, desk=desk, allowed_hosts=tuple(hosts))
    return app


def _metered(router: APIRouter) -> APIRouter:
    """The same routes, the processor time of their answers counted."""
    for route in router.routes:
        if isinstance(route, APIRoute) and not iscoroutinefunction(route.endpoint):
            # One or the other is called, by the version of the library.
            route.endpoint = route.dependant.call = metered(route.endpoint)
    return router


def _warm(desk: Desk) -> None:
    """Read data and modules before anybody asks, so that the first page needn't wait."""
    from axletree.app.answers.night.evening import evening_date
    from axletree.app.night.course import prepare_night
    from axletree.evening.sheet.plan import first_order
    from axletree.stages.set_up.level import BubbleReading, LevelRequest, level
    from axletree.stages.set_up.north import NorthRequest, north
    from axletree.stages.set_up.pole import pole
    from axletree.stages.set_up.pole_request import PoleRequest
    from axletree.stages.target.follow import FollowRequest, follow

    with suppress(AxletreeError):  # a kit that can't be answered for is told in its page
        now = datetime.now(UTC)
        pole(desk.kit, PoleRequest(now, kit_folder=desk.folder))
        north(desk.kit, NorthRequest(now, kit_folder=desk.folder))
        level(desk.kit, LevelRequest(bubble=BubbleReading(0.0, 0.0)))
        follow(desk.kit, FollowRequest())
        # Modules, lists of the sky and the rig's clearances serve every night.
        first_order(prepare_night(desk, evening_date(now, desk), now))
    settle()


class _Static(StaticFiles):
    """Files whose address names their edition: kept by the browser without asking again."""

    def file_response(self, *args: Any, **kwargs: Any) -> Response:
        response = super().file_response(*args, **kwargs)
        response.headers["Cache-Control"] = f"private, max-age={KEEP_S}, immutable"
        if Path(args[0]).name == WORKER:
            response.headers["Service-Worker-Allowed"] = "/"
        return response


def _page(request: Request, desk: Desk, page: Page) -> HTMLResponse:
    seat = seat_of(request)
    leader = desk.seats.leader
    if seat is not None and leader is not None and seat.here and leader.here and not leader.links:
        # Two browsers at the machine itself: the one that is open leads.
        desk.seats.hand_over(seat)
        leader = seat
    return HTMLResponse(
        render(
            page,
            kit_name=desk.kit.name if desk.seats.leads(seat) else desk.for_onlookers().kit.name,
            units=desk.kit.habits.units,
            zone=desk.kit.site.time_zone,
            light=light_of(request),
            number=seat.number if seat else 0,
            leads=desk.seats.leads(seat),
            leader=leader.name if leader else "",
            sharing=desk.sharing is not None,
            here=from_here(request.scope),
            demo=desk.demo,
        )
    )


def _pages(app: FastAPI, desk: Desk) -> None:
    @app.get("/", response_class=HTMLResponse)
    def start(request: Request) -> HTMLResponse:
        # Who looks on lands on what is being shown.
        leads = desk.seats.leads(seat_of(request)) or desk.seats.leader is None
        return _page(request, desk, START if leads else BOARD)

    def shows(page: Page) -> Callable[[Request], HTMLResponse]:
        def show(request: Request) -> HTMLResponse:
            return _page(request, desk, page)

        return show

    for page in (*ASIDE[1:], *pages()):
        app.add_api_route(
            f"/{page.name}", shows(page), methods=["GET"], response_class=HTMLResponse
        )


def _refusals(app: FastAPI) -> None:
    """Every failure in one plain sentence."""

    def say(request: Request, status: int, words: str, field: str = "") -> Response:
        words = printable(words, LONGEST_REFUSAL)  # it may quote what was sent
        if request.method == "GET" and not request.url.path.startswith("/answer"):
            page = render_plain("missing", words=words, light=light_of(request))
            return HTMLResponse(page, status)
        content = {"problem": words, **({"field": field} if field else {})}
        return JSONResponse(content, status)

    @app.exception_handler(AxletreeError)
    async def refused(request: Request, error: AxletreeError) -> Response:
        return say(request, 422, str(error))

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
        return say(request, error.status_code, usual.get(error.status_code, "That did not work."))

    @app.exception_handler(RefusedError)
    async def not_answered(request: Request, error: RefusedError) -> Response:
        return say(request, error.status, error.words)

    @app.exception_handler(JSONDecodeError)
    @app.exception_handler(UnicodeDecodeError)
    async def unreadable(request: Request, error: ValueError) -> Response:
        return say(request, 422, "That could not be read: nothing was changed.")

    @app.exception_handler(Exception)
    async def broken(request: Request, error: Exception) -> Response:
        words = "Something broke here; the terminal that runs the app says what."
        response = say(request, 500, words)
        # This answer is made outside the guard.
        response.headers.update({**HEADERS, "Cache-Control": "no-store"})
        return response


def own_hosts(port: int, address: str | None = None) -> list[str]:
    """The names, with their port, that the app answers to."""
    names = ["127.0.0.1", "localhost", "[::1]", *([address] if address else [])]
    return [f"{name}:{port}" for name in names] + (names if port == 80 else [])


def listen(address: str, port: int) -> socket.socket:
    """A listening socket on one address, refused in one line when the port is taken."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    # The protocol has to be named: asyncio sends small pieces at once (TCP_NODELAY) only on
    # sockets that say it, and a browser waits 40 ms for the second piece otherwise.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
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
    from axletree.app.web.door import open_files

    # A night being planned holds the interpreter for 5 ms at a time unless told otherwise, and
    # every short answer would wait for that several times.
    sys.setswitchinterval(SWITCH_S)
    share_memory()
    open_files()
    server_of(app).run(sockets=sockets)


def server_of(app: Any) -> uvicorn.Server:
    """The web server, not yet running.

    It says nothing in the terminal but what broke: warnings are about what strangers send, and
    would push the code out of sight.
    """
    import uvicorn

    from axletree.app.web.door import Door

    config = uvicorn.Config(
        app, http=Door, ws="none", log_level="error", access_log=False, server_header=False,
        proxy_headers=False, timeout_graceful_shutdown=1, timeout_keep_alive=30,
        h11_max_incomplete_event_size=LONGEST_HEAD_BYTES, lifespan="on",
    )  # fmt: skip
    logging.getLogger("uvicorn.error").addFilter(_broke)
    return uvicorn.Server(config)


def _broke(record: logging.LogRecord) -> bool:
    """Whether a report is of what broke: what the app's own end cuts off didn't."""
    if record.exc_info is None:
        return (record.module, record.funcName) != ("server", "shutdown")
    return not isinstance(record.exc_info[1], asyncio.CancelledError)
