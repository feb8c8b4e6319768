"""An axis noted as off, then voided: the page's evening has its room as the command has it.

Held against the command, which plans anew from the same notes; that its room is that of a leaning
axis is held against a spherical triangle in tests/evening and tests/outside.
"""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from desks import ORIGIN, client_of, make_desk
from fastapi.testclient import TestClient

from axletree.app.mount_notes import notes_of
from axletree.app.state import Desk
from axletree.axis.voids import Moved
from axletree.cli import main
from axletree.logbook.lines import append_line
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.record import measure_record, of_rig
from axletree.sky.observer import observer_of
from axletree.tell.evening.go_on.changes_text import AXIS_ANEW

# An evening that is over, so that the command, which has only its clock, knows all of its notes.
DAY = "2025-12-05"
SET_UP, LATER = "2025-12-05T16:40:00+00:00", "2025-12-05T17:00:00+00:00"
SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)


def note_axis(desk: Desk, high_arcmin: float, east_arcmin: float, at: str = SET_UP) -> None:
    notes = notes_of(desk)
    estimate = AxisEstimate(high_arcmin, east_arcmin, np.eye(2) / 9.0)
    when, observer = datetime.fromisoformat(at), observer_of(desk.kit.site)
    record = measure_record("drift", when, "a list", f"k{at}", estimate, observer, "refracted")
    append_line(notes.file, of_rig(record, notes.rig))


def seen(client: TestClient, at: str = LATER) -> dict[str, Any]:
    reply = client.get("/answer/evening", params={"day": DAY, "at": at})
    assert reply.status_code == 200, reply.text
    found: dict[str, Any] = reply.json()
    return found


def room(told: dict[str, Any]) -> list[tuple[Any, ...]]:
    """Each stop's object, side, begin, and how far and how long it has room."""
    stops = [
        (s["catalogue_id"], s["chosen"]["side"], s["begin"], s["chosen"]["room_s"])
        for s in told["stops"]
    ]
    assert len(stops) > 5
    return stops


def commanded(capsys: pytest.CaptureFixture[str], desk: Desk) -> dict[str, Any]:
    capsys.readouterr()
    kit = str(desk.kit_file)
    assert main(["evening", "--kit", kit, "--date", DAY, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_the_room_of_a_noted_axis_is_the_commands(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    desk = make_desk(folder=tmp_path)
    client = client_of(desk)
    client.get("/")
    pole = room(seen(client))
    note_axis(desk, 150.0, -170.0)
    told, by_command = seen(client), commanded(capsys, desk)
    assert room(told) == room(by_command)
    assert [s["finding"]["steps"] for s in told["stops"]] == [
        s["finding"]["steps"] for s in by_command["stops"]
    ]
    assert room(told) != pole
    assert told["words"].startswith(AXIS_ANEW)
    # A bolt voids it: nothing is known but that the axis was set.
    notes_of(desk).note_moved(Moved.BOLT, datetime.fromisoformat(LATER))
    told = seen(client)
    assert room(told) == pole
    assert told["words"].startswith(AXIS_ANEW)
    # Taken back, and then left out as the page's switch asks.
    notes_of(desk).take_back_latest()
    assert room(seen(client)) == room(by_command)
    desk.set_page("evening", {"as_kit": True})
    assert room(seen(client)) == pole


def test_a_step_taken_before_keeps_its_order_under_the_noted_axis(tmp_path: Path) -> None:
    desk = make_desk(folder=tmp_path)
    client = client_of(desk)
    client.get("/")
    planned = [s["catalogue_id"] for s in seen(client)["stops"]]
    rest = [key for key in planned if key != "saturn"]  # which shows whatever the axis does
    assert len(rest) == len(planned) - 1

    def post(what: str, **more: Any) -> dict[str, Any]:
        body = {"day": DAY, "at": LATER, **more}
        reply = client.post(f"/evening/{what}", json=body, headers=SAME)
        assert reply.status_code == 200, reply.text
        found: dict[str, Any] = reply.json()
        return found

    before = post("order", keys=rest)
    note_axis(desk, 150.0, -170.0)
    after = seen(client)
    assert after["own_order"]
    assert after["undo"] == before["undo"]
    kept = [s["catalogue_id"] for s in after["stops"]]
    gone = [g["name"] for g in after["lost"]]
    assert len(kept) + len(gone) == len(rest)
    assert len(kept) > 5
    assert kept == [key for key in rest if key in kept]
    assert [row[3] for row in room(after)] != [row[3] for row in room(before)]
    assert AXIS_ANEW in after["words"]
    # It was no step: one step back is the plan, under the same axis.
    back = post("back")
    assert back["undo"] == ""
    assert "saturn" in [s["catalogue_id"] for s in back["stops"]]
    assert back["state"]["evening"] == DAY


def test_whatever_is_noted_on_another_page_reaches_the_evening(tmp_path: Path) -> None:
    desk = make_desk(folder=tmp_path)
    client = client_of(desk)
    client.get("/")
    before = desk.settings("evening").get("changes", 0)
    moved = {"at": LATER, "moved": "bolt", "uid": "c" * 16}
    assert client.post("/logbook/moved", json=moved, headers=SAME).status_code == 200
    gone = {"at": LATER, "uid": "c" * 16}
    assert client.post("/logbook/moved/take-back", json=gone, headers=SAME).status_code == 200
    turn = {"at": LATER, "altitude_turns": 0.25, "azimuth_turns": 0.0}
    assert client.post("/check/turned", json=turn, headers=SAME).status_code == 200
    assert desk.settings("evening")["changes"] == before + 3


def test_a_demo_kit_on_the_desk_has_the_room_of_its_pole(tmp_path: Path) -> None:
    desk = make_desk()
    client = client_of(desk)
    client.get("/")
    before = room(seen(client))
    note_axis(desk, 150.0, -170.0)
    assert room(seen(client)) == before
    assert AXIS_ANEW not in seen(client)["words"]
