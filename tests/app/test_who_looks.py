"""Who only looks takes nothing away, not even by making the app forget."""

from __future__ import annotations

from pathlib import Path

import pytest
from desks import ELSEWHERE, ORIGIN, client_of, make_desk

from axletree.app.night import runs as nights
from axletree.app.people.sharing import Sharing
from axletree.app.web.guard import COOKIE

LAN = "192.168.7.1:8765"


def test_other_nights_do_not_push_out_the_one_under_way(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr(nights, "MOST_RUNS", 2)
    desk = make_desk(folder=tmp_path, sharing=Sharing(f"http://{LAN}/"))
    leader, looker = client_of(desk), client_of(desk, ELSEWHERE, LAN)
    leader.get("/")
    looker.cookies.set(COOKIE, desk.seats.take("Ana", here=False).token)
    night = {"day": "2026-12-05", "at": "2026-12-05T20:30:00+01:00"}
    closed = {**night, "directions": ["north"], "part": "low", "minutes": 30}
    assert leader.post("/evening/clouds", json=closed, headers=ORIGIN).status_code == 200
    for day in ("2026-12-06", "2026-12-07"):
        assert looker.get("/answer/evening", params={"day": day}).status_code == 200
    evening = leader.get("/answer/evening", params=night).json()
    assert evening["undo"] == "planned around clouds"
    assert evening["closed"]
    runs = desk.cached("evening runs", dict)
    assert len(runs) <= 2
