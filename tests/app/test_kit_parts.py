"""Site and tube that lie in files beside the kit: chosen on its page, used by every page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from desks import ELSEWHERE, HOST, ORIGIN, USED_AT, Live, answered, client_of, make_desk, until
from fastapi.testclient import TestClient
from looks import colours, faults, screenshot, set_light

from axletree.app.people.sharing import Sharing
from axletree.app.state import Desk
from axletree.kit.kit import demo_text
from axletree.kit.reading.lines import parted

AT = "2026-12-05T20:30:00Z"
SITE = parted(demo_text(), ("site",), "")[1]
# An invented spot far off.
BARN = (
    SITE.replace("School courtyard near Évora", "Barn").replace("38.5712", "48.2082")
    .replace("Europe/Lisbon", "Europe/Vienna").replace("-7.9135", "16.3738")
)  # fmt: skip
REFRACTOR = """[tube]
kind = "refractor"
aperture_mm = 80
focal_length_mm = 480
"""


def lay_beside(folder: Path) -> None:
    (folder / "barn.site.toml").write_text(BARN, encoding="utf-8")
    (folder / "short.tube.toml").write_text(REFRACTOR, encoding="utf-8")


def choose(client: TestClient, revision: int, part: str, name: str) -> Any:
    body = {"part": part, "name": name, "revision": revision}
    return client.post("/kit/part", json=body, headers=ORIGIN)


def test_every_answer_is_of_the_chosen_site_and_tube(
    client: TestClient, desk: Desk, tmp_path: Path
) -> None:
    assert client.get("/answer/kit").json()["parts"] == []
    lay_beside(tmp_path)
    site, tube = client.get("/answer/kit").json()["parts"]
    assert site == {"part": "site", "names": ["barn"], "chosen": "", "in_kit": True}
    assert (tube["part"], tube["names"], tube["chosen"]) == ("tube", ["short"], "")
    before = told(client)
    assert choose(client, 1, "site", "barn").json() == {"revision": 2}
    assert choose(client, 2, "tube", "short").json() == {"revision": 3}
    # The same kit in one file, read by an app of its own, tells just the same.
    alone = tmp_path / "alone"
    alone.mkdir()
    whole = make_desk(folder=alone)
    assert whole.keep_kit(desk.text, 1) == []
    other = client_of(whole)
    other.get("/")
    assert told(client) == told(other)
    for mine, was in zip(told(client), before, strict=True):
        assert mine != was
    assert choose(client, 3, "site", "").status_code == 200
    assert choose(client, 4, "tube", "").status_code == 200
    assert told(client) == before


def told(client: TestClient) -> list[Any]:
    asked = [
        ("pole", {}), ("point", {"object": "M31"}), ("follow", {"object": "M31"}), ("balance", {}),
        ("evening", {}),
    ]  # fmt: skip
    found = [client.get(f"/answer/{name}", params={"at": AT, **more}) for name, more in asked]
    assert [reply.status_code for reply in found] == [200] * len(asked)
    return [reply.json() for reply in found]


@pytest.mark.parametrize("name", ["barm", "../barn", "/etc/hostname", "barn.site.toml", ".", "\0"])
def test_no_other_file_is_read(client: TestClient, desk: Desk, tmp_path: Path, name: str) -> None:
    lay_beside(tmp_path)
    before = desk.kit
    reply = choose(client, 1, "site", name)
    assert reply.status_code == 422
    assert reply.json()["problem"] == "no such site; beside the kit there are: barn"
    assert desk.kit is before


def test_a_file_that_is_not_right_changes_nothing(
    client: TestClient, desk: Desk, tmp_path: Path
) -> None:
    (tmp_path / "wrong.site.toml").write_text("[site]\nlatitude_deg = 95\n", encoding="utf-8")
    before = desk.kit
    reply = choose(client, 1, "site", "wrong")
    assert "wrong.site.toml: line 1, site.longitude_deg" in reply.json()["problem"]
    assert desk.kit is before
    lay_beside(tmp_path)
    assert choose(client, 7, "site", "barn").status_code == 422
    assert desk.kit is before


def test_who_looks_on_neither_sees_the_names_nor_chooses(tmp_path: Path) -> None:
    lay_beside(tmp_path)
    sharing = Sharing("http://192.168.7.1:8765/")
    desk = make_desk(folder=tmp_path, sharing=sharing)
    client_of(desk).get("/")
    looker = client_of(desk, ELSEWHERE, HOST)
    looker.post("/enter", data={"code": sharing.code, "name": "Ana"}, headers=ORIGIN)
    assert looker.get("/answer/kit").json()["parts"] == []
    assert choose(looker, 1, "site", "barn").status_code == 403


@pytest.mark.browser
@pytest.mark.parametrize("size", USED_AT)
def test_the_choice_on_the_page_holds_for_all_open_pages(
    visit: Callable[..., Any], live: Live, browser: Any, size: str
) -> None:
    folder = live.desk.folder
    assert folder is not None
    lay_beside(folder)
    try:
        other = visit(f"pole?at={AT}", size=size)
        answered(other)
        before = other.evaluate("document.querySelector('#main').textContent")
        page = visit("kit", size=size, same=other.context)
        until(page, "() => document.querySelectorAll('#parts .choices').length === 2")
        page.locator("#parts label", has_text="barn").click()
        until(page, "() => document.querySelector('#notice').textContent.includes('barn')")
        assert live.desk.kit.site.name == "Barn"
        until(page, "() => document.querySelector('[name=chosen-site][value=barn]').checked")
        page.locator("#parts label", has_text="short").click()
        until(page, "() => document.querySelector('#text').value.includes('aperture_mm = 80')")
        assert live.desk.kit.tube.aperture_mm == 80
        assert faults(page) == []
        screenshot(page, f"kit-parts-{size}-day")
        set_light(page, "red")
        assert colours(browser, screenshot(page, f"kit-parts-{size}-red"))["other"] == 0
        # The page of the pole, open elsewhere, is that of the other site by now.
        now = "() => document.querySelector('#main').textContent"
        until(other, f"() => ({now})() !== {before!r}")
        # With something typed and not kept, nothing is chosen.
        page.locator("#text").fill(live.desk.text.replace('"Barn"', '"Old barn"'))
        until(page, "() => document.querySelector('[name=chosen-site]').disabled")
        page.click("#discard")
        until(page, "() => !document.querySelector('[name=chosen-site]').disabled")
        page.locator("#parts label >> nth=0").click()
        until(page, "() => document.querySelector('#notice').textContent.includes('own')")
        assert live.desk.kit.site.name != "Barn"
    finally:
        for file in (*folder.glob("*.site.toml"), *folder.glob("*.tube.toml")):
            file.unlink()
        if live.desk.own_files is not None:
            live.desk.choose_parts(dict.fromkeys(live.desk.own_files.parts, ""),
                                   live.desk.revision)  # fmt: skip
