"""Who looks on lands on what is being shown, and the leader sees who asks to lead."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from desks import ELSEWHERE, ORIGIN, Live, answered, client_of, make_desk, until

from axletree.app.people.sharing import Sharing
from axletree.app.web.guard import COOKIE

LAN = "192.168.7.1:8765"
DAY = "2026-12-05"
EVENING = {"at": f"{DAY}T18:40:00Z"}


@pytest.fixture
def people(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Any, Any, Any]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    desk = make_desk(folder=tmp_path, sharing=Sharing(f"http://{LAN}/"))
    leader, looker = client_of(desk), client_of(desk, ELSEWHERE, LAN)
    leader.get("/")
    looker.cookies.set(COOKIE, desk.seats.take("Ana", here=False).token)
    return desk, leader, looker


def test_a_looker_lands_on_what_is_shown(people: tuple[Any, Any, Any]) -> None:
    desk, leader, looker = people
    assert 'data-page="board"' in looker.get("/").text
    assert 'data-page="start"' in leader.get("/").text
    found = looker.get("/answer/shown", params={**EVENING, "before": 3}).json()
    whole = leader.get("/answer/evening", params=EVENING).json()
    assert [s["name"] for s in found["stops"]] == [s["name"] for s in whole["stops"][:4]]
    assert found["turn"]["in_s"] > 0
    assert found["turn"]["sigma_s"] > 0
    assert any(s["light_years"] or s["light_s"] for s in found["stops"])
    # So long after the hours nobody is looking any more, ticked or not.
    over = datetime.fromisoformat(whole["over_from"])
    assert over - datetime.fromisoformat(whole["session"]["end"]) == timedelta(minutes=30)
    for minutes, stops in ((-1, len(found["stops"])), (1, 0)):
        at = (over + timedelta(minutes=minutes)).isoformat()
        late = looker.get("/answer/shown", params={"at": at, "before": 3}).json()
        assert len(late["stops"]) == stops
    desk.seats.leader.light = "red"
    assert looker.get("/answer/shown", params=EVENING).json()["light"] == "red"


def test_what_was_ticked_is_shown_already(people: tuple[Any, Any, Any]) -> None:
    _, leader, looker = people
    first = leader.get("/answer/evening", params=EVENING).json()["stops"][0]
    tick = {"day": DAY, **EVENING, "key": first["catalogue_id"], "uid": "a" * 16, "state": "done"}
    assert leader.post("/evening/tick", json=tick, headers=ORIGIN).status_code == 200
    found = looker.get("/answer/shown", params=EVENING).json()
    assert found["shown"] == [first["name"]]
    assert first["name"] not in [s["name"] for s in found["stops"]]


@pytest.mark.browser
def test_the_leader_sees_who_asks_and_hands_over(visit: Any, browser: Any, live: Live) -> None:
    leading = visit("kit")
    answered(leading)
    context = browser.new_context(viewport={"width": 390, "height": 844})
    try:
        page = context.new_page()
        page.goto(live.url + "/")
        until(page, "() => document.querySelector('#people button')")
        page.click("#all")
        page.click("text=Ask for the lead")
        until(leading, "() => document.querySelector('#notice').textContent.includes('to lead')")
        leading.click("#notice button")
        until(page, "() => document.body.dataset.leads === 'yes'")
    finally:
        context.close()
