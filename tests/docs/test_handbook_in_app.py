"""The handbook inside the app: every page without a network, in the app's own light."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from axletree.app.server import make_app
from axletree.app.state import Desk
from axletree.tell.handbook.pages import ORDER

HOST = "127.0.0.1:8765"


@pytest.fixture
def client(tmp_path: Path) -> TestClient:
    import sys

    sys.path.insert(0, str(Path(__file__).parents[1] / "app"))
    from desks import make_desk

    desk: Desk = make_desk(folder=tmp_path)
    app = make_app(desk, [HOST])
    return TestClient(app, base_url=f"http://{HOST}", client=("127.0.0.1", 50000))


def test_every_page_opens_and_its_pictures_too(client: TestClient) -> None:
    for name in ORDER:
        shown = client.get(f"/handbook/{name}")
        assert shown.status_code == 200
        assert "default-src" in shown.headers["content-security-policy"]
        assert "<script" not in shown.text
        assert shown.text.count('aria-current="page"') == 1
        for lead in re.findall(r'(?:href|src)="(/[^"#]*)', shown.text):
            assert client.get(lead).status_code == 200, lead
    first = client.get("/handbook")
    assert first.text == client.get("/handbook/index").text


def test_every_page_of_the_app_has_its_chapter(client: TestClient) -> None:
    from axletree.app.web.pages import ASIDE, PAGES

    for page in (*ASIDE, *PAGES):
        assert client.get(f"/handbook/{page.name}").status_code == 200, page.name


def test_it_opens_in_the_light_of_the_cookie(client: TestClient) -> None:
    client.cookies.set("axletree_light", "red")
    assert 'data-light="red"' in client.get("/handbook/pole").text
    client.cookies.set("axletree_light", '"><b>')
    # No light of ours: the last that was chosen stays.
    assert 'data-light="red"' in client.get("/handbook/pole").text


@pytest.mark.parametrize(
    "path", ["nosuch", "../server", "%2e%2e/pyproject", "pictures/nosuch.svg", "pictures/..%2fa"]
)
def test_nothing_else_is_handed_out(client: TestClient, path: str) -> None:
    assert client.get(f"/handbook/{path}").status_code in (404, 405)


def test_pictures_are_drawings(client: TestClient) -> None:
    found = client.get("/handbook/pictures/pole.svg")
    assert found.headers["content-type"].startswith("image/svg+xml")
    assert found.text.startswith("<svg")
