"""Comets and satellites from files beside the kit, as the app's pages ask for them (made up)."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from axletree.app.server import make_app
from axletree.app.state import Desk
from axletree.kit.kit import check_text, demo_text
from orbit_lines import Made, comet_line
from satellite_lines import MadeSatellite, satellite_lines

HOST = "127.0.0.1:8765"
AT = "2026-12-05T19:00:00"
BRIGHT = Made(0.9, 1.0002, 40.0, 75.0, 100.0, 2461400.5, 2461360.5, 6.5, 4.0)


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    (tmp_path / "comets.txt").write_text(comet_line(BRIGHT) + "\n", encoding="utf-8")
    rows = [
        line
        for k in range(30)
        for line in satellite_lines(
            MadeSatellite(2461379.5, 40.0 + k, 12.0 * k, 40.0 * k % 360.0, 15.0, number=99001 + k)
        )
    ]
    (tmp_path / "sats.txt").write_text("\n".join(rows) + "\n", encoding="utf-8")
    named = '[habits]\nelements_files = ["comets.txt"]\nsatellite_files = ["sats.txt"]'
    text = demo_text().replace("[habits]", named, 1)
    kit, _ = check_text(text)
    assert kit is not None
    file = tmp_path / "axletree.toml"
    file.write_text(text, encoding="utf-8")
    desk = Desk(kit, text, kit_file=file, folder=tmp_path)
    with TestClient(
        make_app(desk, [HOST]), base_url=f"http://{HOST}", client=("127.0.0.1", 50000)
    ) as opened:
        yield opened


def test_pages_of_one_object_take_a_comet(client: TestClient) -> None:
    asked = {"object": "C/2026 Z9", "at": AT}
    for page in ("point", "find", "follow"):
        told = client.get(f"/answer/{page}", params=asked)
        assert told.status_code == 200, told.text
        assert told.json()["object"] == "C/2026 Z9 (Madeup)"


def test_the_evening_s_page_tells_comet_and_crossings(client: TestClient) -> None:
    told = client.get("/answer/evening", params={"day": "2026-12-05", "at": AT}).json()
    # With a stop or left out with its reason: thought of in any case.
    thought_of = [*told["stops"], *told["given_up"], *told["spares"], *told["lost"]]
    assert "C/2026 Z9 (Madeup)" in {one["name"] for one in thought_of}
    crossings = told["satellites"]["crossings"]
    assert crossings
    assert all(one["words"] and len(one["moments"]) == 3 for one in crossings)


@pytest.mark.parametrize("key", ["elements_files", "satellite_files"])
def test_a_page_names_no_file_that_lies_elsewhere(key: str, client: TestClient) -> None:
    """As with the list of one's own: beside the kit, by its bare name."""
    from axletree.app.answers.kit.kit import _foreign_files

    kit, _ = check_text(demo_text())
    assert kit is not None

    def named(*names: str) -> object:
        return kit.model_copy(update={"habits": kit.habits.model_copy(update={key: names})})

    desk = Desk(kit, demo_text())
    assert _foreign_files(desk, named("mine.txt"), here=True) == []
    assert len(_foreign_files(desk, named("mine.txt"), here=False)) == 1
    assert len(_foreign_files(desk, named("mine.txt", "../x", "/etc/hosts"), here=True)) == 2
