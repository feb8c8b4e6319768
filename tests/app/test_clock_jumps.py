"""Clocks that jump while the app runs lose nothing."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast
from zoneinfo import ZoneInfo

import pytest
from desks import ORIGIN, answered, client_of, make_desk, until

from axletree.app.night.course import Course
from axletree.app.night.rest import Rest, _standing
from axletree.evening.stops.stop import Stop

DAY = "2026-12-05"
SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}
# A device's clock an hour back; the time of the page itself (W3C, High Resolution Time) goes on.
PUT_BACK = """() => {
  const Right = Date;
  window.Date = class extends Right {
    constructor(...given) { given.length ? super(...given) : super(Right.now() - 3600000); }
    static now() { return Right.now() - 3600000; }
  };
}"""


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


@pytest.mark.browser
def test_the_live_link_over_a_clock_put_back_and_another_zone(visit: Callable[..., Any]) -> None:
    """Two open pages, both devices' clocks put back by an hour between two changes of the leader,
    then a device that takes on another zone: each change is seen, and what was counted goes on."""
    address = f"follow?object=Capella&at={DAY}T20:00:00Z"
    leader, looker = visit(address), visit(address)
    for page in (leader, looker):
        answered(page)
    leader.click("#nudged")

    def left_s() -> float:
        words = leader.inner_text("#answer")
        found = re.search(r"(\d+):(\d\d)", words)
        assert found, words
        return 60.0 * float(found[1]) + float(found[2])

    def taken(side: str) -> None:
        leader.check(f"input[name=side][value={side}]")
        until(looker, f"() => document.querySelector('input[name=side][value={side}]').checked")

    taken("west")
    before = left_s(), time.monotonic()
    for page in (leader, looker):
        page.evaluate(PUT_BACK)
        until(page, "() => document.querySelector('#notice').innerText.includes("
              "'put back by 1 h 00 min: what was counted goes on')")  # fmt: skip
    assert left_s() == pytest.approx(before[0] - (time.monotonic() - before[1]), abs=6.0)
    taken("east")
    session = looker.context.new_cdp_session(looker)
    session.send("Emulation.setTimezoneOverride", {"timezoneId": "Pacific/Auckland"})
    taken("west")
    taken("east")
    assert "Pacific/Auckland" in looker.evaluate("Intl.DateTimeFormat().resolvedOptions().timeZone")
