"""The page that checks the axis: rows one by one, refusals beside their field, the link lost."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from desks import ELSEWHERE, HOST, ORIGIN, Live, answered, client_of, until
from fastapi.testclient import TestClient
from looks import colours, faults, screenshot, set_light

from axletree.app.people.sharing import Sharing
from axletree.app.state import Desk

AT = "2026-12-05T20:30:00Z"
SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}
# Diphda stands on the meridian of Évora at 20:00, Aldebaran in the east, Altair low in the west.
SOUTH = {"star": "Diphda", "started": "20:00", "watched_s": "300", "drift_arcsec": "13.1"}
EAST = {"star": "Aldebaran", "started": "20:10", "watched_s": "300", "drift_arcsec": "13.1"}


@pytest.fixture(autouse=True)
def own_logbook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))


def put(client: TestClient, rows: list[dict[str, str]], **more: Any) -> Any:
    given = {"at": AT, "method": "drift", "id": "abcdef01", "rows": rows, **more}
    return client.put("/check/sheet", json=given, headers=SAME)


def look(client: TestClient) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/answer/check", params={"at": AT}).json()
    return found


def test_before_anything_is_measured_a_star_is_named(client: TestClient) -> None:
    found = look(client)
    assert found["measured"] is False
    assert found["next_drift"]["star"]
    assert found["good_enough_arcmin"] > 0
    by_day = client.get("/answer/check", params={"at": "2026-12-05T12:00Z"}).json()
    assert by_day["next_drift"] is None
    assert by_day["stars"] == []


@pytest.mark.parametrize(
    ("towards", "word"), [("south", "east"), ("north", "west")], ids=["south", "north"]
)
def test_drift_of_a_star_on_the_meridian(client: TestClient, towards: str, word: str) -> None:
    """Common practice, no source: on the meridian a drift south means an axis too far east.

    Size: an axis off by one arcminute lets a star drift at most 2 pi / 1436.07 min of it, that is
    0.2625 arcseconds a minute (Hook 1989, J. Br. Astron. Assoc. 99, 19); 13.1 in 5 min is 10'.
    """
    assert put(client, [{**SOUTH, "towards": towards}]).status_code == 200
    found = look(client)
    assert found["rank"] == 1
    assert found["line_deg"] is not None
    assert abs(found["east_arcmin"]) == pytest.approx(10.0, abs=0.5)
    assert (found["east_arcmin"] > 0) == (word == "east")
    assert f"too far {word}" in found["words"]["error"]


def test_a_second_star_tells_the_rest_and_bolts_to_turn(client: TestClient) -> None:
    """Common practice, no source: a star in the east that drifts north means an axis too high."""
    south = {**SOUTH, "drift_arcsec": "104.8", "towards": "south"}
    assert put(client, [south]).status_code == 200
    both = [south, {**EAST, "drift_arcsec": "104.8", "towards": "north"}]
    assert put(client, both).status_code == 200
    found = look(client)
    assert found["rank"] == 2
    assert found["high_arcmin"] > 40
    assert found["east_arcmin"] > 40
    assert len(found["measurements"]) == 1, "a sheet that grew is still one measurement"
    assert found["ellipse_95"]["long_arcmin"] > found["ellipse_95"]["short_arcmin"] > 0
    assert found["bolts"]["altitude_turns"] != 0
    assert found["bolts_to_turn"] is True
    assert found["words"]["turn"][0].startswith("Turn the altitude bolt")
    assert "rig balanced" in found["words"]["caution"], "the caution goes with it"


def test_circle_readings_from_the_page(client: TestClient) -> None:
    rows = [
        {"star": "Altair", "read_at": "20:01", "tube_side": "east", "hour_circle_h": "5:05",
         "declination_circle_deg": "8.9"},
        {"star": "Diphda", "read_at": "20:04", "tube_side": "east", "hour_circle_h": "-0:14",
         "declination_circle_deg": "-17,8"},
        {"star": "Aldebaran", "read_at": "20:09", "tube_side": "west", "hour_circle_h": "-4:01",
         "declination_circle_deg": "16.6"},
    ]  # fmt: skip
    first = put(client, rows[:1], method="readings")
    assert first.json() == {"waits_for_rows": 2}, "rows come one by one: the first is kept"
    assert look(client)["measured"] is False
    assert put(client, [{**rows[0], "tube_side": "up"}], method="readings").status_code == 422
    reply = put(client, rows, method="readings")
    assert reply.status_code == 200, reply.text
    assert look(client)["measurements"][0]["method"] == "readings"


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"watched_s": "long"}, "watched_s"),
        ({"star": "Nostar"}, "star"),
        ({"towards": "up"}, "towards"),
        ({"started": "25:99"}, "started"),
        ({"drift_arcsec": "1e9"}, "drift_arcsec"),
    ],
)
def test_a_refused_row_is_named_by_its_field(
    client: TestClient, change: dict[str, str], field: str
) -> None:
    good = {**EAST, "towards": "north"}
    reply = put(client, [good, {**SOUTH, "towards": "south", **change}])
    assert reply.status_code == 422
    assert reply.json()["field"] == field
    assert reply.json()["row"] == 1
    assert "line" not in reply.json()["problem"]
    assert look(client)["measured"] is False, "a refused sheet measures nothing"


def test_three_that_disagree_are_told_as_a_doubt_before_any_turn(client: TestClient) -> None:
    rows = [
        {**SOUTH, "drift_arcsec": "104.8", "towards": "south"},
        {**EAST, "drift_arcsec": "104.8", "towards": "north"},
        {"star": "Mirfak", "started": "20:20", "watched_s": "600", "drift_arcsec": "70",
         "towards": "north"},
    ]  # fmt: skip
    assert put(client, rows).status_code == 200
    found = look(client)
    assert [d["kind"] for d in found["doubts"]][:1] == ["disagreeing"]
    words = found["words"]
    assert len(words["looks_wrong"]) == len(found["doubts"])
    assert words["before_turning"]
    moves = found["bolts"]
    assert len(words["turn"]) == bool(moves["altitude_steps"]) + bool(moves["azimuth_steps"])


def test_a_sheet_without_rows_takes_its_measurement_back(client: TestClient) -> None:
    put(client, [{**SOUTH, "towards": "south"}])
    assert look(client)["measured"]
    assert put(client, []).status_code == 200
    assert not look(client)["measured"]


def test_turned_bolts_end_what_was_measured_and_count_once(client: TestClient, desk: Desk) -> None:
    put(client, [{**SOUTH, "towards": "south"}])
    for _ in range(2):
        reply = client.post("/check/turned", json={"at": AT, "altitude_turns": 0.5}, headers=SAME)
        assert reply.status_code == 200
    found = client.get("/answer/check", params={"at": "2026-12-05T20:40:00Z"}).json()
    assert found["measured"] is False
    assert found["before_turn"] == 1
    assert desk.kit_file is not None
    notes = (desk.kit_file.parent / "axletree-axis.jsonl").read_text()
    assert notes.count("bolts turned") == 1
    assert desk.settings("check") == {}


@pytest.mark.parametrize(
    "given",
    [
        {"rows": [{"star": "Vega"}] * 41},
        {"rows": [{"star": "V" * 61}]},
        {"rows": [{"colour": "red"}]},
        {"id": "../etc"},
        {"method": "frames"},
        {"at": "yesterday"},
        {"at": "0001-01-01T00:00:00+14:00"},
    ],
)
def test_hostile_sheets_are_refused_in_a_sentence(
    client: TestClient, given: dict[str, Any]
) -> None:
    reply = put(client, given.get("rows", [SOUTH]), **{k: v for k, v in given.items()
                                                      if k != "rows"})  # fmt: skip
    assert reply.status_code == 422
    assert reply.json()["problem"]


@pytest.mark.parametrize("name", ["#Diphda", "Diph\nda;;;x", '";"', "<b>Diphda</b>"])
def test_a_name_cannot_slip_out_of_its_cell(client: TestClient, name: str) -> None:
    reply = put(client, [{**SOUTH, "star": name, "towards": "south"}])
    if reply.status_code == 200:
        assert name == "#Diphda"
    else:
        assert reply.json()["field"] == "star"


def test_who_looks_on_measures_nothing(tmp_path: Path) -> None:
    from desks import make_desk

    sharing = Sharing("http://192.168.7.1:8765/")
    desk = make_desk(folder=tmp_path, sharing=sharing)
    here = client_of(desk)
    here.get("/")
    looker = client_of(desk, ELSEWHERE, HOST)
    looker.post("/enter", data={"code": sharing.code, "name": "Ana"}, headers=SAME)
    reply = put(looker, [{**SOUTH, "towards": "south"}])
    assert reply.status_code == 403
    assert look(looker)["measured"] is False


# -- in the browser ---------------------------------------------------------------------------


@pytest.fixture
def fresh(live: Live) -> Iterator[None]:
    assert live.desk.kit_file is not None
    notes = live.desk.kit_file.parent / "axletree-axis.jsonl"
    notes.unlink(missing_ok=True)
    yield
    notes.unlink(missing_ok=True)


def enter(page: Any, star: str, seconds: str, arcsec: str, towards: str) -> None:
    page.fill("#e-star", star)
    page.fill("#e-started", "20:00")
    page.fill("#e-watched_s", seconds)
    page.fill("#e-drift_arcsec", arcsec)
    page.check(f'input[name="e-towards"][value="{towards}"]')
    page.click("#add")


@pytest.mark.browser
def test_stars_are_entered_and_the_ellipse_shrinks(
    visit: Callable[..., Any], browser: Any, fresh: None
) -> None:
    page = visit(f"check?at={AT}")
    answered(page)
    page.fill("#e-star", "Diphda")
    page.click("#add")
    until(page, "() => !document.querySelector('#e-watched_s-problem').hidden")
    assert page.evaluate("document.activeElement.id") == "e-watched_s"
    enter(page, "Diphda", "300", "abc", "south")
    until(page, "() => document.querySelector('#e-drift_arcsec-problem')?.hidden === false")
    assert page.get_attribute("#e-drift_arcsec", "aria-invalid") == "true"
    page.reload()
    answered(page)
    assert page.input_value("#e-star") == "Diphda", "what was typed outlives a reload"
    enter(page, "Diphda", "300", "13.1", "south")
    until(page, "() => document.querySelector('#answer').textContent.includes('One more star')")
    enter(page, "Aldebaran", "120", "6", "north")
    until(page, "() => document.querySelector('#answer').textContent.includes('off the pole')")
    first = page.evaluate("document.querySelector('#answer').textContent")
    enter(page, "Mirfak", "900", "60", "north")
    until(page, "() => document.querySelectorAll('#rows li').length === 3")
    until(page, f"() => document.querySelector('#answer').textContent !== {first!r}")
    until(page, "() => document.querySelector('#drawing').textContent.includes('before')")
    page.wait_for_timeout(1000)
    assert faults(page) == []
    set_light(page, "red")
    assert colours(browser, screenshot(page, "check-measured-red"))["other"] == 0
    page.click("#turned")
    until(page, "() => document.querySelectorAll('#rows li').length === 0")


@pytest.mark.browser
def test_a_row_entered_without_a_link_is_measured_when_it_returns(
    visit: Callable[..., Any], live: Live, fresh: None
) -> None:
    page = visit(f"check?at={AT}")
    answered(page)
    page.context.set_offline(True)
    enter(page, "Diphda", "300", "13.1", "south")
    until(page, "() => document.querySelector('#rows').textContent.includes('Kept here')")
    page.context.set_offline(False)
    until(page, "() => document.querySelector('#answer').textContent.includes('One more star')")
    assert page.evaluate("document.querySelectorAll('#rows li').length") == 1
    assert live.desk.settings("check")["drift"]["rows"][0]["star"] == "Diphda"
