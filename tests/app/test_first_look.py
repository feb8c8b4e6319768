"""A night whose plan isn't made yet: its times and a first order at once, and nothing to press."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from desks import ELSEWHERE, HOST, ORIGIN, client_of, make_desk, until

from axletree.app.night import first_look
from axletree.app.people.sharing import Sharing

DAY = "2026-12-05"
SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}
AT = "2026-12-05T15:00:00Z"


@pytest.fixture(autouse=True)
def own_logbook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))


def utc(iso: str) -> str:
    """As a plain time of day is written by either."""
    return iso.replace("Z", "+00:00")


def test_a_first_order_comes_from_what_the_plan_is_made_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Times and objects are the plan's own: it is prepared once, and is then what is told."""
    prepared = []
    prepare = first_look.prepare_night
    monkeypatch.setattr(
        first_look, "prepare_night", lambda *given: prepared.append(prepare(*given)) or prepared[0]
    )
    monkeypatch.setattr(first_look, "plan_night", lambda *given: pytest.fail("prepared anew"))
    desk = make_desk(folder=tmp_path, sharing=Sharing(f"http://{HOST}/"))
    leader = client_of(desk)
    leader.get("/")
    asked = {"day": DAY, "at": AT}
    found = leader.get("/answer/evening/first", params=asked).json()
    assert found["first"]
    assert leader.get("/answer/evening/first", params=asked).json() == found
    whole = leader.get("/answer/evening", params=asked).json()
    assert len(prepared) == 1
    assert "first" not in whole
    times = [(s["name"], s["begin"], s["end"]) for s in found["stages"]]
    assert times
    assert times == [(s["name"], utc(s["begin"]), utc(s["end"])) for s in whole["stages"]]
    known = {s["catalogue_id"] for s in whole["stops"]} | {s["key"] for s in whole["spares"]}
    assert found["stops"]
    assert {s["key"] for s in found["stops"]} <= known
    promised = {s["catalogue_id"] for s in whole["stops"] if s["promised"]}
    assert {s["key"] for s in found["stops"] if s["promised"]} == promised
    begins = [s["begin"] for s in found["stops"]]
    assert begins == sorted(begins)
    assert all(":00+" in b for b in begins)
    # Nobody turns a mount by it.
    assert set(found["stops"][0]) == {
        "key", "name", "also_called", "kind", "promised", "begin", "end",
    }  # fmt: skip
    # Once the plan is made it is told at once.
    assert leader.get("/answer/evening/first", params=asked).json() == whole
    # Who only looks gets no first look: times that were planned for the very place.
    looker = client_of(desk, ELSEWHERE, HOST)
    assert desk.sharing is not None
    looker.post("/enter", data={"code": desk.sharing.code, "name": "Rui"}, headers=SAME)
    seen = looker.get("/answer/evening/first", params=asked)
    assert "first" not in seen.json(), seen.text[:200]


@pytest.mark.browser
def test_the_page_shows_the_first_order_and_nothing_live_until_the_plan_is_made(
    visit: Callable[..., Any],
) -> None:
    page = visit()
    front = page.url
    held: list[Any] = []
    page.route(lambda url: "/answer/evening?" in url, lambda route: held.append(route))
    page.goto(f"{front}evening?day=2026-12-11&at=2026-12-11T15:00:00Z")
    rows = "document.querySelectorAll('#drawing li').length"
    until(page, rows)
    assert "first order" in page.inner_text("#order-words")
    live = "[...document.querySelectorAll('.sheet button:not(:disabled)')]"
    pressed = page.evaluate(f"{live}.filter((b) => b.offsetParent).map((b) => b.id)")
    assert set(pressed) <= {"night-before", "night-after", "tonight"}, pressed
    until(page, "document.querySelectorAll('.busy').length")
    for route in held:
        route.continue_()
    page.unroute_all()
    until(page, "!document.querySelector('#hours').disabled")
    assert "first order" not in page.inner_text("#order-words")
    until(page, "document.querySelectorAll('#drawing .grip').length")
