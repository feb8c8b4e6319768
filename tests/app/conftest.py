"""A desk, a client that behaves like a browser, and a running server for all."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from axletree.app.state import Desk

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent))

from desks import SIZES, Live, client_of, make_desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return make_desk(folder=tmp_path)


@pytest.fixture
def client(desk: Desk) -> TestClient:
    """Somebody at the machine itself, who has opened the first page and so leads."""
    browser = client_of(desk)
    browser.get("/")
    return browser


@pytest.fixture(scope="session")
def live(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    running = Live(make_desk(folder=tmp_path_factory.mktemp("kit"))).start()
    yield running
    running.stop()


@pytest.fixture
def visit(browser: Any, live: Live) -> Iterator[Callable[..., Any]]:
    """visit(path, size=..., light=..., **context) opens a page; it fails on any request that goes
    to another host, on errors of the page, and on refusals by the content policy."""
    contexts: list[Any] = []
    troubles: list[str] = []
    # Whoever led before is gone: the next visitor leads.
    live.desk.seats.__init__()  # type: ignore[misc]
    live.desk._settings.clear()

    def open_page(
        path: str = "", *, size: str = "phone", light: str = "day", same: Any = None, **more: Any
    ) -> Any:
        if same is None:
            width, height = SIZES[size]
            more.setdefault("service_workers", "block")  # what it holds is tested by itself
            same = browser.new_context(
                viewport={"width": width, "height": height}, has_touch=size == "phone", **more
            )
            contexts.append(same)
        same.add_cookies([{"name": "axletree_light", "value": light, "url": live.url}])
        page = same.new_page()
        page.on("request", lambda r: _own(r.url, live.url, troubles))
        page.on("pageerror", lambda error: troubles.append(f"{path}: {error}"))
        page.on("console", lambda m: _said(m.type, m.text, troubles))
        page.goto(f"{live.url}/{path}")
        return page

    open_page.troubles = troubles  # type: ignore[attr-defined]
    yield open_page
    for context in contexts:
        context.close()
    live.at_rest()
    assert not troubles, troubles


def _own(url: str, base: str, troubles: list[str]) -> None:
    if not url.startswith((base + "/", "data:", "about:")):
        troubles.append(f"a request to another host: {url}")


def _said(kind: str, text: str, troubles: list[str]) -> None:
    """Errors on the console, but for answers that refuse and links that are cut on purpose."""
    usual = text.startswith("Failed to load resource") or "net::ERR_" in text
    if kind == "error" and not usual:
        troubles.append(text)
