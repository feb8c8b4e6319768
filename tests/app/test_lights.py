"""In which light does a page open, before anybody presses a button?

Sunset at Évora on 5 December 2026 is near 17:06 UTC (the product's own twilight table, held
against an independent library in tests/outside); the moments here lie two hours from it.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from desks import ELSEWHERE, client_of, make_desk, until
from fastapi.testclient import TestClient

from axletree.app.people.sharing import Sharing
from axletree.app.state import Desk
from axletree.app.web import lights
from axletree.app.web.guard import COOKIE
from axletree.app.web.lights import LIGHT_COOKIE

LAN = "192.168.7.1:8765"
AFTERNOON = datetime(2026, 12, 5, 15, 0, tzinfo=UTC)
EVENING = datetime(2026, 12, 5, 19, 0, tzinfo=UTC)
AT = "?at=2026-12-05T20:30Z"


@pytest.fixture
def shared() -> Desk:
    return make_desk(sharing=Sharing(f"http://{LAN}/"))


@pytest.fixture
def visitor(shared: Desk) -> TestClient:
    return client_of(shared, ELSEWHERE, LAN)


def clock(monkeypatch: pytest.MonkeyPatch, moment: datetime) -> None:
    monkeypatch.setattr(lights, "now", lambda: moment)


def light(client: TestClient, path: str) -> str:
    html = client.get(path).text
    return html.split('data-light="', 1)[1].split('"', 1)[0]


@pytest.mark.parametrize(("moment", "expected"), [(AFTERNOON, "day"), (EVENING, "dusk")])
def test_before_anybody_chose_the_sun_decides(
    shared: Desk, visitor: TestClient, monkeypatch: pytest.MonkeyPatch,
    moment: datetime, expected: str,
) -> None:  # fmt: skip
    clock(monkeypatch, moment)
    assert light(visitor, "/enter") == expected
    leader = client_of(shared)
    for path in ("/", "/pole", "/handbook/pole", "/nothing"):
        assert light(leader, path) == expected, path


@pytest.mark.parametrize("chosen", lights.LIGHTS)
def test_visitors_open_in_the_leaders_light(
    shared: Desk, visitor: TestClient, monkeypatch: pytest.MonkeyPatch, chosen: str
) -> None:
    clock(monkeypatch, EVENING)
    leader = client_of(shared)
    leader.get("/")
    leader.cookies.set(LIGHT_COOKIE, chosen)
    leader.get("/answer/here")  # what the page asks when a light is pressed
    assert light(visitor, "/enter") == chosen
    visitor.cookies.set(COOKIE, shared.seats.take("Ana", here=False).token)
    assert light(visitor, "/") == chosen
    own = "red" if chosen != "red" else "dusk"
    visitor.cookies.set(LIGHT_COOKIE, own)
    assert light(visitor, "/") == own
    assert light(leader, "/") == chosen


@pytest.mark.browser
def test_the_light_that_is_pressed_is_the_visitors_too(
    visit: Callable[..., Any], live: Any
) -> None:
    page = visit("pole" + AT)
    until(page, "() => document.body.dataset.leads === 'yes'")
    page.click('[data-choose-light="red"]')
    for _ in range(100):
        leader = live.desk.seats.leader
        if leader is not None and leader.light == "red":
            return
        page.wait_for_timeout(40)
    raise AssertionError("the app never heard of the leader's light")
