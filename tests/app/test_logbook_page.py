"""The logbook's page: what is written lasts, what is hostile stays words, files go both ways."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from desks import ELSEWHERE, HOST, ORIGIN, USED_AT, Live, answered, client_of, make_desk, until
from fastapi.testclient import TestClient
from looks import colours, faults, screenshot, set_light

from axletree.app.answers.night.logbook import planned_names
from axletree.app.mount_notes import notes_of, state_on
from axletree.app.people.sharing import Sharing
from axletree.app.state import Desk
from axletree.axis.model import KnownBy
from axletree.axis.unknowns import ModelPart
from axletree.axis.voids import Moved
from axletree.kit.kit import demo_kit, demo_text
from axletree.logbook.exchange import export_json
from axletree.logbook.lines import read_lines
from axletree.logbook.read import evening_whole, evenings
from axletree.logbook.store import Logbook, LoggedStop, default_logbook

AT = "2026-12-05T21:00:00Z"
SAME = {**ORIGIN, "sec-fetch-site": "same-origin"}
HOSTILE = '<script>document.title="1"</script>'
UID = "0123456789abcdef"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))
    return tmp_path


def filled(path: Path | None = None, count: int = 2) -> None:
    with Logbook(path or default_logbook()) as book:
        for k in range(count):
            at = datetime(2026, 11, 7 + 7 * k, 20, tzinfo=UTC)
            number = book.begin_evening(
                date(2026, 11, 7 + 7 * k), demo_kit(), demo_text(), at,
                json.dumps({"stops": [{"name": "M31"}, {"name": HOSTILE}]}),
            )  # fmt: skip
            book.add_stop(number, LoggedStop(at, "M31", "NGC0224", visitors=12, note="dust lane"))
            book.add_stop(number, LoggedStop(at, HOSTILE, "own:x", done=False))
            book.add_axis_measure(number, at, "drift", 12.0, -5.0, ((4.0, 0.0), (0.0, 9.0)))


def post(client: TestClient, what: str, **given: Any) -> Any:
    return client.post(f"/logbook/{what}", json={"at": AT, **given}, headers=SAME)


def test_looking_begins_nothing(client: TestClient) -> None:
    assert client.get("/answer/logbook").json()["evenings"] == []
    assert client.get("/answer/logbook/search", params={"q": "x"}).json()["found"] == []
    assert client.get("/answer/logbook/evening/1").status_code == 422
    assert not default_logbook().exists()


def test_tonight_at_another_site_has_a_page_of_its_own(client: TestClient) -> None:
    """The same date somewhere else is in the list, and nothing is added to it."""
    with Logbook(default_logbook()) as book:
        kit = demo_kit("paddock")
        other = book.begin_evening(date(2026, 12, 5), kit, "", datetime(2026, 12, 5, 9, tzinfo=UTC))
        book.add_stop(other, LoggedStop(datetime(2026, 12, 5, 10, tzinfo=UTC), "M31", "NGC0224"))
    told = client.get("/answer/logbook", params={"at": AT}).json()
    assert told["tonight"] is None
    assert [e["site"] for e in told["evenings"]] == [kit.site.name]
    shown = client.get("/answer/evening", params={"at": AT}).json()
    assert shown["ticked"] == []
    number = post(client, "note", text="at home", uid=UID).json()["evening"]
    assert number != other
    told = client.get("/answer/logbook", params={"at": AT}).json()
    assert told["tonight"] == number
    assert len(told["evenings"]) == 2
    with Logbook(default_logbook()) as book:
        assert evening_whole(book, other)["note"] == []
        assert evening_whole(book, number)["site"] == demo_kit().site.name


def test_a_note_begins_tonights_page_and_is_kept_once(client: TestClient) -> None:
    for _ in range(2):
        reply = post(client, "note", text=HOSTILE, uid=UID)
        assert reply.status_code == 200
    number = reply.json()["evening"]
    found = client.get(f"/answer/logbook/evening/{number}").json()
    assert found["date"] == "2026-12-05"
    assert [e["text"] for e in found["entries"]] == [HOSTILE]
    assert "kit_toml" not in found
    assert "latitude_deg" not in found
    # One in the morning is still the same evening.
    late = client.post(
        "/logbook/note", headers=SAME,
        json={"at": "2026-12-06T01:00:00Z", "text": "packed", "uid": UID[::-1]},
    )  # fmt: skip
    assert late.json()["evening"] == number


def test_the_sky_as_found_and_refusals_by_their_field(client: TestClient) -> None:
    sky = {"seeing_arcsec": 2.5, "naked_eye_limit_mag": 4.8, "words": "a little dew"}
    assert post(client, "sky", uid=UID, **sky).status_code == 200
    with Logbook(default_logbook()) as book:
        row = evening_whole(book, 1)["conditions"][0]
    assert (row["seeing_arcsec"], row["naked_eye_limit_mag"]) == (2.5, 4.8)
    wrong = post(client, "sky", uid=UID[::-1], seeing_arcsec=-1)
    assert wrong.status_code == 422
    assert wrong.json()["field"] == "seeing_arcsec"
    assert post(client, "sky", uid=UID[::-1]).status_code == 422
    assert post(client, "note", uid=UID[::-1], text="   ").status_code == 422
    assert post(client, "note", uid=UID[::-1], text="x", evening=99).status_code == 422


def test_an_entry_is_taken_out_again(client: TestClient) -> None:
    number = post(client, "note", text="wrong", uid=UID).json()["evening"]
    assert post(client, "take-back", evening=number, uid=UID).json() == {"gone": True}
    assert post(client, "take-back", evening=number, uid=UID).json() == {"gone": False}
    assert client.get(f"/answer/logbook/evening/{number}").json()["entries"] == []


def test_evenings_search_and_the_axis(client: TestClient) -> None:
    filled()
    found = client.get("/answer/logbook").json()
    assert [(e["date"], e["done"], e["skipped"]) for e in found["evenings"]] == [
        ("2026-11-14", 1, 1), ("2026-11-07", 1, 1),
    ]  # fmt: skip
    held = client.get("/answer/logbook/search", params={"q": "DUST m31"}).json()["found"]
    assert [f["date"] for f in held] == ["2026-11-14", "2026-11-07"]
    whole = client.get("/answer/logbook/evening/1").json()
    axis = next(e for e in whole["entries"] if e["kind"] == "axis_measure")
    assert axis["total_arcmin"] == pytest.approx(13.0)
    # Error propagation: variance along the direction of the error, (12^2 4 + 5^2 9) / 13^2.
    assert axis["total_sigma_arcmin"] == pytest.approx(((144 * 4 + 25 * 9) / 169) ** 0.5)
    assert whole["planned"] == ["M31", HOSTILE]
    assert planned_names("{") == planned_names(None) == planned_names('{"stops": 3}') == []


def test_carried_away_and_back_without_loss(client: TestClient, home: Path) -> None:
    filled()
    text = client.get("/answer/logbook/export.json").text
    with Logbook(default_logbook()) as book:
        assert text == export_json(book)
    default_logbook().unlink()
    for evening in json.loads(text)["evenings"]:
        part = {**json.loads(text), "evenings": [evening]}
        assert post(client, "import", export=part).json()["added"] == 4
        assert post(client, "import", export=part).json()["added"] == 0
    with Logbook(default_logbook()) as book:
        assert export_json(book) == text
    stops = client.get("/answer/logbook/stop.csv")
    assert stops.headers["content-disposition"] == 'attachment; filename="axletree-stop.csv"'
    assert stops.text.count("M31") == 2
    assert client.get("/answer/logbook/kit.csv").status_code == 404


@pytest.mark.parametrize(
    "export",
    [
        {},
        {"format": "axletree logbook", "version": 1, "evenings": [{"uid": "x"}]},
        {"format": "axletree logbook", "version": 99, "evenings": []},
        {"format": "axletree logbook", "version": 1, "evenings": [{"uid": "x", "DROP": 1}]},
        {"format": "axletree logbook", "version": 1, "evenings": "all"},
    ],
)
def test_hostile_files_are_refused_and_nothing_is_kept(
    client: TestClient, export: dict[str, Any]
) -> None:
    filled()
    before = client.get("/answer/logbook/export.json").text
    reply = post(client, "import", export=export)
    assert reply.status_code == 422
    assert reply.json()["problem"]
    assert client.get("/answer/logbook/export.json").text == before


def test_size_and_depth_have_an_end(client: TestClient) -> None:
    big = post(client, "import", export={"format": "x" * 700_000})
    assert big.status_code == 413
    deep = client.post(
        "/logbook/import", headers={**SAME, "content-type": "application/json"},
        content='{"at":"' + AT + '","export":' + '{"a":' * 90_000 + "1" + "}" * 90_000 + "}",
    )  # fmt: skip
    assert deep.status_code in (400, 413, 422)


def test_who_looks_on_reads_but_carries_nothing_away(tmp_path: Path) -> None:
    filled()
    sharing = Sharing("http://192.168.7.1:8765/")
    desk = make_desk(folder=tmp_path, sharing=sharing)
    here = client_of(desk)
    here.get("/")
    looker = client_of(desk, ELSEWHERE, HOST)
    looker.post("/enter", data={"code": sharing.code, "name": "Ana"}, headers=SAME)
    assert len(looker.get("/answer/logbook").json()["evenings"]) == 2
    assert looker.get("/answer/logbook/export.json").status_code == 403
    assert looker.get("/answer/logbook/stop.csv").status_code == 403
    assert post(looker, "note", text="x", uid=UID).status_code == 403


def test_what_was_moved_is_noted_once_and_voids_what_it_voids(
    client: TestClient, desk: Desk
) -> None:
    """Against the rule's own table in `axis/voids.py`: one part each, the others stay."""
    at = datetime.fromisoformat(AT)
    measured(client, at - timedelta(hours=1))
    before = by_part(desk, at)
    assert before[ModelPart.AXIS] is before[ModelPart.INDEX_HOUR] is KnownBy.MEASURED
    later = (at + timedelta(minutes=1)).isoformat()
    for k, moved in enumerate(Moved):
        uid = f"{k:016x}"
        for _ in range(2):
            assert post(client, "moved", at=later, uid=uid, moved=moved).status_code == 200
        noted = [r for r in read_lines(notes_of(desk).file) if r.get("key") == uid]
        assert len(noted) == 1
        told = client.get("/answer/logbook/moved", params={"at": later}).json()["moved"]
        assert [(t["moved_code"], t["uid"]) for t in told] == [(moved.value, uid)]
        after = by_part(desk, at + timedelta(minutes=2))
        assert {p for p, by in after.items() if by is not before[p]} == {moved.voids}
        gone = [post(client, "moved/take-back", uid=uid).json()["gone"] for _ in range(2)]
        assert gone == [True, False]
        assert by_part(desk, at + timedelta(minutes=2)) == before
    assert post(client, "moved", uid=UID, moved="roof").status_code == 422


def test_a_mount_left_standing_keeps_its_axis_the_next_evening(
    client: TestClient, desk: Desk
) -> None:
    at = datetime.fromisoformat(AT)
    measured(client, at)
    tomorrow = at + timedelta(days=1)
    assert by_part(desk, tomorrow)[ModelPart.AXIS] is KnownBy.SET
    post(client, "moved", at=(tomorrow - timedelta(hours=1)).isoformat(), uid=UID, moved="stands")
    assert by_part(desk, tomorrow)[ModelPart.AXIS] is KnownBy.MEASURED


# Stars as centred with made-up noise of the circles, on both sides.
READINGS = """S0,0.30081,4.7259,east,0.30200,5.7100
S1,3.49502,39.7236,east,3.50100,40.7000
S2,4.99710,19.7698,east,5.00000,20.9800
S3,-3.10000,55.2000,east,-3.10500,56.3500
S0,-0.29911,4.7494,west,11.70100,3.9900
S1,-3.48477,39.9611,west,8.50000,38.9800
S2,-4.99515,20.0597,west,7.00200,19.0100"""
COLUMNS = (
    "star", "hour_angle_h", "declination_deg", "tube_side", "hour_circle_h",
    "declination_circle_deg",
)  # fmt: skip


def measured(client: TestClient, at: datetime) -> None:
    rows = [dict(zip(COLUMNS, row.split(","), strict=True)) for row in READINGS.splitlines()]
    body = {"at": at.isoformat(), "method": "readings", "id": "abcdef", "rows": rows}
    reply = client.put("/check/sheet", json=body, headers=SAME)
    assert reply.status_code == 200, reply.text


def by_part(desk: Desk, at: datetime) -> dict[ModelPart, KnownBy]:
    state = state_on(desk, at)
    assert state is not None
    return {one.part: one.by for one in state.pointing.known}


# -- in the browser ---------------------------------------------------------------------------


@pytest.mark.browser
def test_a_note_is_kept_without_a_link_and_arrives_once(visit: Callable[..., Any]) -> None:
    page = visit(f"logbook?at={AT}")
    answered(page)
    page.click("text=Write it down >> nth=0")
    until(page, "() => !document.querySelector('#note-problem').hidden")
    page.fill("#note-text", "half a sentence")
    page.reload()
    answered(page)
    assert page.input_value("#note-text") == "half a sentence"
    page.context.set_offline(True)
    page.fill("#note-text", HOSTILE)
    page.click("text=Write it down >> nth=0")
    until(page, "() => document.querySelector('#notice').textContent.includes('Kept: 1')")
    assert page.input_value("#note-text") == ""
    page.context.set_offline(False)
    until(page, "() => document.querySelector('#answer').textContent === '1 evening'")
    page.click("#evenings .stop")
    until(page, "() => document.querySelectorAll('.timeline li').length === 1")
    assert HOSTILE in page.evaluate("document.querySelector('.timeline li').textContent")
    assert page.evaluate("document.title") != "1"
    page.click("#sky-open")
    page.fill("#seeing_arcsec", "two")
    page.click("#sky .act")
    until(page, "() => !document.querySelector('#seeing_arcsec-problem').hidden")
    page.fill("#seeing_arcsec", "2,5")
    page.click("#sky .act")
    until(page, "() => document.querySelectorAll('.timeline li').length === 2")
    with Logbook(default_logbook()) as book:
        whole = evening_whole(book, 1)
    assert len(whole["note"]) == 1
    assert whole["conditions"][0]["seeing_arcsec"] == 2.5


@pytest.mark.browser
@pytest.mark.parametrize("size", USED_AT)
def test_an_evening_is_opened_searched_and_mended(
    visit: Callable[..., Any], browser: Any, size: str
) -> None:
    filled()
    page = visit(f"logbook?at={AT}", size=size)
    until(page, "() => document.querySelector('#answer').textContent === '2 evenings'")
    page.fill("#q", "dust")
    until(page, "() => document.querySelectorAll('#found .stop').length === 2")
    page.click("#found .stop >> nth=1")
    until(page, "() => document.querySelectorAll('.timeline li').length === 3")
    assert "12.0" not in page.evaluate("document.querySelector('#because').textContent")
    assert "13.0′" in page.evaluate("document.querySelector('#because').textContent")
    assert faults(page) == []
    set_light(page, "red")
    assert colours(browser, screenshot(page, f"logbook-evening-{size}-red"))["other"] == 0
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    page.click(".timeline .stop >> nth=0")
    page.click("text=take it out")
    until(page, "() => document.querySelectorAll('.timeline li').length === 2")


@pytest.mark.browser
def test_files_go_out_and_come_in(visit: Callable[..., Any], live: Live, home: Path) -> None:
    filled(home / "other.sqlite", 3)
    with Logbook(home / "other.sqlite") as book:
        good = home / "phone.json"
        good.write_text(export_json(book), encoding="utf-8")
    (home / "letter.json").write_text('{"dear": "diary"}', encoding="utf-8")
    page = visit(f"logbook?at={AT}", size="desk")
    answered(page)
    page.set_input_files("#bring", home / "letter.json")
    until(page, "() => document.querySelector('#bring-problem').textContent.includes('not a file')")
    page.set_input_files("#bring", good)
    until(page, "() => document.querySelector('#bring-said').textContent.includes('12 new')")
    until(page, "() => document.querySelector('#answer').textContent === '3 evenings'")
    with page.expect_download() as waiting:
        page.click("text=everything, as one file")
    assert json.loads(Path(waiting.value.path()).read_text())["format"] == "axletree logbook"
    with Logbook(default_logbook()) as book:
        assert len(evenings(book)) == 3


@pytest.mark.browser
def test_a_press_notes_what_was_moved_with_the_time_it_is(
    visit: Callable[..., Any], live: Live
) -> None:
    page = visit(f"logbook?at={AT}")
    answered(page)
    until(page, "() => !document.querySelector('#moved-open').hidden")
    page.click("#moved-open")
    assert page.locator("#movable button").count() == len(Moved) + 1
    page.click("[data-moved=tripod]")
    until(page, "() => document.querySelectorAll('#moved-tonight li').length === 1")
    assert "21:00: the tripod moved" in said(page)
    assert [one.moved for one in notes_of(live.desk).moves()] == [Moved.TRIPOD]
    assert faults(page) == []
    # Without a link it is kept, and arrives once.
    page.context.set_offline(True)
    page.click("[data-moved=hour_circle]")
    until(page, "() => document.querySelector('#said').textContent.startsWith('Kept here')")
    page.context.set_offline(False)
    until(page, "() => document.querySelectorAll('#moved-tonight li').length === 2")
    for _ in range(2):
        page.click("#moved-tonight button >> nth=0")
        page.wait_for_timeout(300)
    until(page, "() => document.querySelectorAll('#moved-tonight li').length === 0")
    assert notes_of(live.desk).moves() == []


def said(page: Any) -> str:
    return str(page.evaluate("document.querySelector('#moved-tonight').textContent"))
