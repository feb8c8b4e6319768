"""A newcomer's first minute: what this is, whose kit lies here, and a kit of one's own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from desks import ORIGIN, USED_AT, Live, client_of, until
from fastapi.testclient import TestClient
from looks import faults

from axletree.app.state import Desk
from axletree.kit.kit import check_text, demo_text


def demo_desk(folder: Path) -> Desk:
    """A demo kit on the desk of a folder that is empty, as `axletree serve` lays it there."""
    kit, _ = check_text(demo_text("courtyard"))
    assert kit is not None
    return Desk(kit, demo_text("courtyard"), kit_file=folder / "axletree.toml")


def test_the_first_page_says_what_this_is_in_two_sentences(tmp_path: Path) -> None:
    text = client_of(demo_desk(tmp_path)).get("/").text
    said = re.search(r'<p class="what">(.*?)</p>', text)
    assert said
    words = re.sub("<[^>]+>", "", said[1])
    assert len(re.findall(r"[.!?](?: |$)", words)) == 2
    assert "demo kit, School courtyard" in words
    assert re.findall(r'<a class="(?:act|plainly)" href="([^"]+)"', text) == ["/begin", "/evening"]


def test_with_a_kit_of_ones_own_there_is_no_demo(client: TestClient) -> None:
    text = client.get("/").text
    assert "demo" not in text
    assert 'href="/evening">The evening with' in text


def test_a_place_is_found_by_name_and_by_figures(client: TestClient) -> None:
    found = client.get("/answer/kit/places", params={"q": "Vienna"}).json()["places"]
    # GeoNames 2761369: 48.20849, 16.37208.
    assert (found[0]["country"], found[0]["place"][:9]) == ("Austria", "geo:48.20")
    assert {p["region"] for p in found[1:]} >= {"Virginia"}
    point = client.get("/answer/kit/places", params={"q": "38°34′N 7°54′W"}).json()["point"]
    assert point["latitude_deg"] == pytest.approx(38 + 34 / 60)
    assert point["longitude_deg"] == pytest.approx(-7.9)
    assert client.get("/answer/kit/places", params={"q": "nowhere at all"}).status_code == 422


def test_mounts_grow_from_drawing_to_drawing(client: TestClient) -> None:
    rows = client.get("/answer/kit/mounts").json()["mounts"]
    assert [r["size"] for r in rows] == ["small", "middle", "large"]
    for key in ("head_kg", "tripod_kg", "payload_kg"):
        assert rows[0][key] < rows[1][key] < rows[2][key]
    assert all(r["drawing"].startswith("<svg") for r in rows)


def test_all_five_answers_stand_in_the_new_kit(client: TestClient) -> None:
    asked = {
        "place": "geo:-44.0,170.5", "size": "large", "motion": "motor", "kind": "catadioptric",
        "aperture_mm": 203, "focal_length_mm": 2032, "eyepieces_mm": [40, 18, 9], "barlow": 2,
        "audience": "public", "visitors": 60, "observer": "newcomer",
    }  # fmt: skip
    found = client.post("/answer/kit/new", json=asked, headers=ORIGIN).json()
    kit, problems = check_text(found["text"])
    assert kit is not None, problems
    assert (kit.site.latitude_deg, kit.mount.size, kit.mount.motor is None) == (-44, "large", False)
    assert [e.focal_length_mm for e in kit.eyepieces] == [40, 18, 9]
    assert [b.factor for b in kit.barlows] == [2]
    habits = kit.habits
    assert (habits.audience, habits.visitors, habits.observer) == ("public", 60, "newcomer")
    assert found["drawing"].startswith("<svg")
    assert found["guessed"] > 20
    none = client.post("/answer/kit/new", json={**asked, "eyepieces_mm": []}, headers=ORIGIN)
    assert none.status_code == 422


def test_each_part_of_the_rig_has_its_place_in_the_drawing(client: TestClient) -> None:
    found = client.get("/answer/kit").json()
    points, (x, y, wide, high) = found["plate"]["points"], found["plate"]["box"]
    assert set(points) < {g["path"] for g in found["groups"]}
    assert len(points) == 16
    for name, (px, py) in points.items():
        assert x <= px <= x + wide, name
        assert y <= py <= y + high, name
    # Weights down: what one looks through stands above the head, the tripod below it.
    head = points["mount.head"][1]
    assert points["eyepiece"][1] < head
    assert points["tube.finder"][1] < head
    assert points["mount.weight"][1] > head - 60
    assert points["mount.tripod"][1] > points["mount.bolts"][1] > head


@pytest.mark.browser
@pytest.mark.parametrize("size", USED_AT)
def test_a_part_is_opened_by_a_tap_on_the_rig(visit: Any, size: str) -> None:
    page = visit("kit", size=size)
    until(page, "() => document.querySelectorAll('#leaders circle').length === 16")
    small = page.evaluate(
        "[...document.querySelectorAll('.plate button')].map(b => b.getBoundingClientRect())"
        ".filter(r => r.height < 44 || r.width < 44).length"
    )
    assert small == 0
    ends = page.evaluate(
        "[...document.querySelectorAll('#leaders circle')].map(c => { const r = "
        "c.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })"
    )
    page.mouse.click(*ends[0])  # the first part of the list: the tube
    until(page, "() => document.querySelector('#title').textContent === 'The tube'")
    assert page.url.endswith("?part=tube")
    page.reload()
    until(page, "() => document.querySelector('#title').textContent === 'The tube'")


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Live]:
    running = Live(demo_desk(tmp_path)).start()
    yield running
    running.stop()


@pytest.mark.browser
def test_from_an_empty_folder_to_a_kit_of_ones_own(browser: Any, empty: Live) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    try:
        page.goto(empty.url)
        page.tap("text=Make your kit in five answers")
        page.wait_for_url("**/begin*")
        until(page, "() => document.querySelectorAll('#looks svg').length === 3")
        page.fill("#place", "Quito")
        for name, values in {
            "place": {}, "mount": {}, "tube": {"aperture": "114", "focal": "900"},
            "eyepieces": {"eyepieces": "25, 10"}, "who": {"visitors": "3"},
        }.items():  # fmt: skip
            until(page, f"() => !document.querySelector('#form-{name}').hidden")
            for key, value in values.items():
                page.fill(f"#{key}", value)
            button = page.locator(f"#form-{name} > button")
            assert button.bounding_box()["y"] < 844 - 56, "under the thumb's bar, without scrolling"
            assert faults(page) == []
            button.tap()
        page.tap("#make:enabled")
        until(page, "() => !document.querySelector('#made').hidden")
        assert faults(page) == []
        wire = page.evaluate(
            "performance.getEntries().filter(e => !e.name.endsWith('.woff2'))"
            ".reduce((s, e) => s + (e.transferSize ?? 0), 0)"
        )
        assert 3000 < wire < 100_000
    finally:
        context.close()
    kit = empty.desk.kit
    assert not empty.desk.demo
    assert empty.desk.kit_file is not None
    assert "focal_length_mm = 900" in empty.desk.kit_file.read_text()
    assert abs(kit.site.latitude_deg) < 1, "Quito lies within a quarter of a degree of the equator"
