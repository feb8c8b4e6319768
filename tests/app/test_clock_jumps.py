"""Clocks that jump while the app runs lose nothing."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast
from zoneinfo import ZoneInfo

import pytest
from desks import ORIGIN, client_of, make_desk

from axletree.app.night.course import Course
from axletree.app.night.rest import Rest, _standing
from axletree.evening.stops.stop import Stop

DAY = "2026-12-05"
SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}


def test_a_clock_put_back_keeps_ticks_and_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))
    client = client_of(make_desk(folder=tmp_path))
    client.get("/")

    def post(what: str, at: datetime, **more: Any) -> dict[str, Any]:
        body = {"day": DAY, "at": at.isoformat(), **more}
        reply = client.post(f"/evening/{what}", json=body, headers=SAME)
        assert reply.status_code == 200, reply.text
        found: dict[str, Any] = reply.json()
        return found

    asked = {"day": DAY, "at": f"{DAY}T15:00:00Z"}
    stops = client.get("/answer/evening", params=asked).json()["stops"]
    order = [s["catalogue_id"] for s in stops]
    ends = [datetime.fromisoformat(s["end"]) for s in stops]
    post("tick", ends[0], key=order[0], uid="a" * 16, state="done")
    back = ends[1] - timedelta(hours=1)
    told = post("tick", back, key=order[1], uid="b" * 16, state="done")
    assert {t["key"] for t in told["ticked"]} == set(order[:2])
    assert [s["catalogue_id"] for s in told["stops"]] == order[2:]
    assert not told["lost"]
    assert all(datetime.fromisoformat(s["begin"]) >= back for s in told["stops"])
    # The clock is put right again: the rest still stands, and the last step is the last one made.
    assert {t["key"] for t in post("back", ends[1])["ticked"]} == {order[0]}
    again = post("tick", ends[1], key=order[1], uid="c" * 16, state="done")
    assert [s["catalogue_id"] for s in again["stops"]] == order[2:]


def test_a_longer_stay_is_as_long_in_the_hour_that_comes_twice() -> None:
    """European Union, directive 2000/84/EC: on 25 October 2026 clocks go from 3:00 to 2:00, at
    01:00 UTC. A stop that ended at 2:55 by the summer's clock is over at 2:05 by the winter's."""
    zone = ZoneInfo("Europe/Berlin")
    begin = datetime(2026, 10, 25, 2, 40, tzinfo=zone)
    end = datetime(2026, 10, 25, 2, 55, tzinfo=zone)
    now = datetime(2026, 10, 25, 2, 5, tzinfo=zone, fold=1)
    assert now.timestamp() - end.timestamp() == 600.0
    side = SimpleNamespace(side="east")
    stop = SimpleNamespace(catalogue_id="a", begin=begin, end=end, chosen=side)
    course = Course(cast("Any", None), stops=(cast("Stop", stop),))
    stays = _standing(course, now, Rest(longer_min=10.0))
    assert stays is not None
    assert stays.until is not None
    assert stays.until.timestamp() - now.timestamp() == 600.0
    assert _standing(course, now, Rest()) is None
