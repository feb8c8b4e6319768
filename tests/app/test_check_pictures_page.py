"""Pictures sent by the page of the axis: who may, how large, what is refused, what comes of them.

The pictures are simulated by `pole/sky_camera.py`, whose places come from ERFA directly.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from desks import ELSEWHERE, HOST, ORIGIN, answered, client_of, make_desk, until
from fastapi.testclient import TestClient
from looks import colours, faults, screenshot, set_light
from PIL import Image

from axletree.app import held_pictures
from axletree.app.people.sharing import Sharing

sys.path.insert(0, str(Path(__file__).parents[1] / "pole"))
import sky_camera as cam

SAME = {**ORIGIN, "sec-fetch-site": "same-origin", "content-type": "image/jpeg"}
AT = "2026-10-10T21:05:00Z"
SITE = cam.Site(38.5712, -7.9093, 292.0, 979.0, 12.0)  # of the demo kit
AXIS = cam.axis_direction(SITE, 30.0, 22.0)
CAMERA = cam.Camera(focal_mm=24.0, f_number=2.8, pixel_um=5.0, width_px=1200, height_px=800)
EXPOSED = cam.Exposure(middle=datetime(2026, 10, 10, 21, 0, tzinfo=UTC), seconds=3.0)
FOCAL_35 = 24.0 * 43.2666 / np.hypot(6.0, 4.0)  # as much on 36 x 24 mm
BOLTS = cam.turn(np.array([1.0, 0.0, 0.0]), np.radians(-0.4))
TAKEN = [(EXPOSED.middle + timedelta(seconds=40 * k - 1.5)).isoformat() for k in range(3)]


@pytest.fixture(autouse=True)
def own_logbook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))


@pytest.fixture(scope="module")
def pictures() -> list[bytes]:
    """Three with the hour axis turned between them, one more after bolts were turned."""
    first = AXIS + np.array([0.03, 0.0, 0.05])
    run = cam.run_of(SITE, CAMERA, cam.Sky(), first, 33.0, EXPOSED, (0.0, -45.0, -90.0), AXIS)
    later = replace(EXPOSED, middle=EXPOSED.middle + timedelta(minutes=5), seed=77)
    moved = cam.photograph(SITE, CAMERA, cam.Sky(), run[2].attitude @ BOLTS.T, later)
    return [one.jpeg for one in (*run, moved)]


def send(client: TestClient, data: bytes, key: str = "picture01", **more: Any) -> Any:
    given = {"name": "A.jpg", "taken": TAKEN[0], "focal_35_mm": FOCAL_35, "exposure_s": 3.0, **more}
    return client.put(f"/check/pictures/{key}", params=given, content=data, headers=SAME)


def asked(client: TestClient, what: str, keys: list[str], **more: Any) -> Any:
    given = {"at": AT, "keys": keys, **more}
    return client.post(f"/check/pictures/{what}", json=given, headers=ORIGIN)


def png(width: int, height: int) -> bytes:
    out = io.BytesIO()
    Image.new("L", (width, height), 9).save(out, "PNG")
    return out.getvalue()


def test_a_run_tells_the_axis_and_a_turn_of_the_bolts(
    client: TestClient, pictures: list[bytes]
) -> None:
    keys = [f"picture0{k}" for k in range(4)]
    for key, name, data, taken in zip(keys, "ABC", pictures, TAKEN, strict=False):
        reply = send(client, data, key, name=f"{name}.jpg", taken=taken)
        assert reply.status_code == 200, reply.text
    found = asked(client, "measure", keys[:3])
    assert found.status_code == 200, found.text
    said = found.json()
    # The simulator's axis stands 30' above and 22' east of the refracted pole.
    assert said["high_arcmin"] == pytest.approx(30.0, abs=1.0)
    assert said["east_arcmin"] == pytest.approx(22.0, abs=1.0)
    assert said["overlay"]["drawing"].startswith("<svg")
    assert "<image" not in said["overlay"]["drawing"]
    assert said["overlay"]["name"] == "C.jpg"
    assert client.get("/answer/check", params={"at": AT}).json()["measured"]
    later = (EXPOSED.middle + timedelta(minutes=5, seconds=-1.5)).isoformat()
    assert send(client, pictures[3], keys[3], name="D.jpg", taken=later).status_code == 200
    now = asked(client, "follow", [keys[3]])
    assert now.status_code == 200, now.text
    # Facing north the axis was brought down by 0.4 degrees: 24' of the 30' above are gone.
    assert now.json()["total_arcmin"] == pytest.approx(np.hypot(6.0, 22.0), abs=1.5)
    assert now.json()["drawing"].startswith("<svg")
    assert client.post("/check/pictures/forget", headers=ORIGIN).status_code == 200
    assert "went astray" in asked(client, "measure", keys[:3]).json()["problem"]


def test_what_is_sent_is_looked_at_before_it_is_kept(client: TestClient) -> None:
    cases = {
        b"GIF89a" + bytes(200): "no JPEG or PNG",
        b"": "",
        png(60, 60): "too few for stars",
        png(5000, 200): "at most 3600 pixels long",
        png(400, 300)[:300]: "cut off or damaged",
    }
    for data, words in cases.items():
        reply = send(client, data)
        assert reply.status_code == 422, words
        assert words in reply.json()["problem"]
    bomb = bytearray(png(400, 300))
    # Width and height of a PNG stand at byte 16 (W3C PNG, section 11.2.2): 25000 x 20000 = 500 MP.
    bomb[16:24] = (25_000).to_bytes(4, "big") + (20_000).to_bytes(4, "big")
    reply = send(client, bytes(bomb))
    assert reply.status_code == 422
    assert len(reply.json()["problem"]) < 200
    assert send(client, png(400, 300), taken="yesterday").status_code == 422
    assert send(client, png(400, 300), focal_35_mm=-1).status_code == 422
    assert send(client, png(400, 300), key="../kit").status_code in (404, 405, 422)
    assert send(client, png(400, 300), width_px=10).status_code == 422
    # A place would be one more word in the address: there is none to take it.
    assert asked(client, "measure", ["picture01"]).status_code == 422


def test_a_missing_zone_is_asked_for(client: TestClient, pictures: list[bytes]) -> None:
    for k in range(2):
        bare = TAKEN[k].split("+")[0]
        assert send(client, pictures[k], f"picture0{k}", taken=bare).status_code == 200
    keys = ["picture00", "picture01"]
    assert "in which zone" in asked(client, "measure", keys).json()["problem"]
    wrong = asked(client, "measure", keys, zone="Lisboa/Europe")
    assert "is not a zone" in wrong.json()["problem"]
    right = asked(client, "measure", keys, zone="UTC")
    assert right.json()["high_arcmin"] == pytest.approx(30.0, abs=2.0)
    assert send(client, pictures[0], "picture00", taken="").status_code == 200
    assert "no time in it" in asked(client, "measure", keys).json()["problem"]


def test_its_own_limit_holds_and_no_other_route_takes_so_much(client: TestClient) -> None:
    too_much = send(client, bytes(2_000_001))
    assert too_much.status_code == 413
    assert "2000 kB" in too_much.json()["problem"]
    # Between the two limits: read here, refused as no picture; refused unread elsewhere.
    assert send(client, bytes(1_000_000)).status_code == 422
    other = client.put("/check/sheet", content=bytes(1_000_000), headers=SAME)
    assert other.status_code == 413


def test_only_who_leads_from_our_own_page(tmp_path: Path) -> None:
    desk = make_desk(folder=tmp_path, sharing=Sharing("ABCDEF", "http://x", "192.168.7.1"))
    leader = client_of(desk)
    assert leader.get("/check").status_code == 200
    stranger = client_of(desk, ELSEWHERE)
    assert send(stranger, png(400, 300)).status_code == 403
    looker = client_of(desk, ELSEWHERE)
    looker.cookies.set("axletree_seat", desk.seats.take("Ana", here=False).token)
    reply = send(looker, png(400, 300))
    assert reply.status_code == 403
    assert "You are looking" in reply.json()["problem"]
    assert asked(looker, "measure", ["picture01"]).status_code == 403
    foreign = {**SAME, "origin": "http://elsewhere.example", "sec-fetch-site": "cross-site"}
    sent = leader.put("/check/pictures/picture01", content=png(400, 300), headers=foreign)
    assert sent.status_code == 403
    assert desk.pictures.of(["picture01"]) == []
    assert HOST in str(leader.base_url)


def test_so_many_are_held_and_one_run_at_a_time(client: TestClient) -> None:
    for k in range(held_pictures.MOST_HELD):
        assert send(client, png(400, 300), f"picture{k:02d}").status_code == 200
    assert held_pictures.TOO_MANY in send(client, png(400, 300), "picture99").json()["problem"]
    assert send(client, png(400, 300), "picture00").status_code == 200  # in place of its own
    desk = client.app.state.desk  # type: ignore[attr-defined]
    with desk.pictures:
        busy = asked(client, "measure", ["picture00", "picture01"])
    assert busy.json()["problem"] == held_pictures.BUSY
    assert asked(client, "measure", ["picture00", "picture01"]).status_code == 422  # no stars


def test_the_budget_is_its_own(client: TestClient, pictures: list[bytes]) -> None:
    desk = client.app.state.desk  # type: ignore[attr-defined]
    before = desk.pictures.turns.left_s
    assert send(client, pictures[0]).status_code == 200
    assert desk.pictures.turns.left_s < before
    desk.pictures.turns.left_s = -held_pictures.COMES_BACK * 11.0
    assert send(client, pictures[0]).status_code == 429
    assert client.get("/answer/check", params={"at": AT}).status_code == 200


def test_on_the_page_with_a_large_picture(
    visit: Callable[..., Any], browser: Any, tmp_path: Path, pictures: list[bytes]
) -> None:
    """The browser reads EXIF (CIPA DC-008), reduces, sends, and draws over its own picture."""
    files = []
    for name, data in zip("ABC", pictures, strict=False):
        (tmp_path / f"{name}.jpg").write_bytes(data)
        files.append(str(tmp_path / f"{name}.jpg"))
    sent: list[str] = []
    page = visit(f"check?at={AT}")
    page.on("request", lambda r: "/check/pictures/" in r.url and sent.append(r.url))
    answered(page)
    page.click("#pictures-open")
    page.set_input_files("#pictures-files", files)
    until(page, "() => document.querySelectorAll('#pictures-held li').length === 3")
    assert len([url for url in sent if "taken=2026-10-10T" in url]) == 3
    assert not any("gps" in url.lower() for url in sent)
    assert page.is_hidden("#pictures-zone-ask")  # these pictures name their zone
    page.click("#pictures-measure")
    until(page, "() => document.querySelector('.pictured svg, #pictures-problem:not([hidden])')")
    assert page.is_hidden("#pictures-problem"), page.inner_text("#pictures-problem")
    until(page, "() => /37/.test(document.querySelector('#answer').textContent)")
    box = page.locator(".pictured").bounding_box()
    over = page.locator(".pictured svg").bounding_box()
    assert box["width"] == pytest.approx(over["width"], abs=1.0)
    assert box["height"] == pytest.approx(over["height"], abs=2.0)
    assert not faults(page)
    page.locator(".pictured").scroll_into_view_if_needed()
    screenshot(page, "check-pictures-phone")
    set_light(page, "red")
    page.locator(".pictured").scroll_into_view_if_needed()
    assert colours(browser, screenshot(page, "check-pictures-red"))["other"] == 0
    (tmp_path / "D.jpg").write_bytes(pictures[3])
    page.set_input_files("#pictures-follow", str(tmp_path / "D.jpg"))
    until(page, "() => document.querySelector('#pictures-now-drawing svg')")
    assert page.is_hidden("#pictures-problem")
    page.set_input_files("#pictures-files", {
        "name": "raw.dng", "mimeType": "image/x-adobe-dng", "buffer": b"II*\0" + bytes(400),
    })  # fmt: skip
    until(page, "() => document.querySelector('#pictures-problem:not([hidden])')")
    assert "can't open it" in page.inner_text("#pictures-problem")
