"""Who comes in, who leads, and who listens: the routes about people.

Coming in takes the code of the moment; what changes is told over the event stream.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Mapping
from contextlib import aclosing
from typing import Annotated, Any
from urllib.parse import parse_qs

from fastapi import FastAPI, Path, Request
from fastapi.responses import HTMLResponse, RedirectResponse, StreamingResponse
from starlette.responses import Response

from axletree.app.people.seats import seat_of
from axletree.app.people.withheld import coarse_event
from axletree.app.state import Desk
from axletree.app.web.guard import from_here, seat_cookie
from axletree.app.web.lights import light_of
from axletree.app.web.pages import edition, page_named, render_plain
from axletree.app.web.refusals import RefusedError
from axletree.kit.errors import AxletreeError

MOST_LINKS = 12
MOST_COUNTED = 2**31


def add_people(app: FastAPI, desk: Desk) -> None:
    """Coming in, and who leads."""

    @app.get("/enter", response_class=HTMLResponse)
    def enter(request: Request, to: str = "/") -> Response:
        if seat_of(request) is not None:
            return RedirectResponse(_own_path(to), status_code=303)
        return HTMLResponse(
            render_plain("enter", to=_own_path(to), problem="", light=light_of(request))
        )

    @app.post("/enter", response_class=HTMLResponse, openapi_extra=_form("code", "name", "to"))
    async def enter_with_code(request: Request) -> Response:
        if desk.sharing is None:
            raise RefusedError(404, "There is nothing here.")
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
            render_plain("enter", to=_own_path(to), problem=problem, light=light_of(request)), 403
        )

    @app.post("/lead/ask")
    def ask_for_lead(request: Request) -> dict[str, Any]:
        seat = seat_of(request)
        if seat is not None and not desk.seats.leads(seat):
            seat.asks = True
            _tell_lead(desk)
        return {}

    @app.post("/lead/take")
    def take(request: Request) -> dict[str, Any]:
        seat = seat_of(request)
        if seat is None or not from_here(request.scope):
            raise RefusedError(403, "Ask for the lead: only at the machine itself is it taken.")
        desk.seats.hand_over(seat)
        _tell_lead(desk)
        return {}

    @app.post("/lead/give/{number}")
    def give(number: Annotated[int, Path(ge=1, le=MOST_COUNTED)]) -> dict[str, Any]:
        seat = desk.seats.numbered(number)
        if seat is None:
            raise RefusedError(404, "Nobody sits there any more.")
        desk.seats.hand_over(seat)
        _tell_lead(desk)
        return {}

    @app.get("/answer/sharing")
    def sharing(request: Request) -> dict[str, Any]:
        """The code of the moment, for the leader to read out."""
        from axletree.app.people.sharing import qr_svg, spaced

        shared = desk.sharing
        if shared is None or not desk.seats.leads(seat_of(request)):
            return {"address": None}
        return {
            "address": shared.address, "code": spaced(shared.code), "qr": qr_svg(shared.address),
        }  # fmt: skip

    @app.put("/settings/{name}")
    def settings(request: Request, name: str, values: dict[str, Any]) -> dict[str, Any]:
        if page_named(name) is None:
            raise RefusedError(404, "There is no page of that name to set.")
        seat = seat_of(request)
        desk.set_page(name, values, by=str(seat.number) if seat else "")
        return {}


def _form(*names: str) -> dict[str, Any]:
    """How the schema tells of a form that is read here: no library is needed for that."""
    fields = {name: {"type": "string", "maxLength": 200} for name in names}
    content = {"application/x-www-form-urlencoded": {
        "schema": {"type": "object", "properties": fields}}}  # fmt: skip
    return {"requestBody": {"content": content}}


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


def add_events(app: FastAPI, desk: Desk) -> None:
    @app.get("/events")
    async def events(request: Request) -> Response:
        seat = seat_of(request)
        if seat is not None and seat.links >= MOST_LINKS:
            raise RefusedError(429, f"{MOST_LINKS} pages are open already: close some.")

        def seen(word: str, data: Mapping[str, Any]) -> Mapping[str, Any]:
            return data if desk.seats.leads(seat) else coarse_event(word, data)

        def hello() -> dict[str, Any]:
            if seat is not None:
                seat.links += 1
                if seat.links == 1:
                    _tell_lead(desk)
            return {
                "you": seat.number if seat else 0,
                **desk.kit_now(),
                "edition": edition(),
                "settings": desk.all_settings(),
                **_people_now(desk),
            }

        def gone() -> None:
            if seat is not None:
                seat.links = max(0, seat.links - 1)
                if seat.links == 0 and not desk.hub.closed:
                    _tell_lead(desk)

        async def stream() -> AsyncIterator[str]:
            if seat is not None and seat.links >= MOST_LINKS:
                return  # several came in the same moment
            async with aclosing(desk.hub.listen(hello, gone, seen)) as events:
                async for text in events:
                    yield text

        return StreamingResponse(stream(), media_type="text/event-stream")
