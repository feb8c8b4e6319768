"""Where does a page's answer come from? The handbook, readable without a network.

The pages need no script: they open in the browser's light (see `lights`).
"""

from __future__ import annotations

from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from markupsafe import Markup
from starlette.responses import Response

from axletree.app.web.lights import light_of
from axletree.app.web.pages import render_plain
from axletree.app.web.refusals import RefusedError
from axletree.kit.errors import AxletreeError
from axletree.tell.handbook.pages import HandbookPage, handbook_pages, handbook_picture, shelf

router = APIRouter(prefix="/handbook")
# Pages of the app whose chapter has another name, so that each can lead to /handbook/ITS-NAME.
CHAPTERS = {
    "start": "index",
    "begin": "commands",
    "board": "hosting",
    "kit": "commands",
    "logbook": "log",
}


def address(name: str) -> str:
    """The path of one of the handbook's pages."""
    return f"/handbook/{name}"


@cache
def _pages() -> dict[str, HandbookPage]:
    return handbook_pages(address)


@router.get("", response_class=HTMLResponse)
@router.get("/", response_class=HTMLResponse)
def first(request: Request) -> HTMLResponse:
    """The handbook's first page."""
    return one(request, "index")


@router.get("/{name}", response_class=HTMLResponse)
def one(request: Request, name: str) -> HTMLResponse:
    """One page."""
    pages = _pages()
    name = CHAPTERS.get(name, name)
    if name not in pages:
        raise RefusedError(404, "The handbook has no such page.")
    return HTMLResponse(
        render_plain(
            "handbook",
            title=pages[name].title,
            # The pages are the package's own, and no markup of anybody's passes through them.
            html=Markup(pages[name].html.replace('src="pictures/', 'src="/handbook/pictures/')),
            shelf=Markup(shelf(pages, name, address)),
            light=light_of(request),
        )
    )


@router.get("/pictures/{file}")
def picture(file: str) -> Response:
    """One of its drawings."""
    try:
        svg = handbook_picture(file.removesuffix(".svg"))
    except AxletreeError:
        raise RefusedError(404, "The handbook has no such picture.") from None
    return Response(
        svg, media_type="image/svg+xml", headers={"Cache-Control": "private, max-age=3600"}
    )
