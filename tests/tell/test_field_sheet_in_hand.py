"""The phone's sheet in use: what to do now, another order, the clock, ticks and notes."""

from __future__ import annotations

import json
import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from browsers import ALIVE, opened
from nights import HOSTILE, in_stop, kit_of, planned_by
from playwright.sync_api import Browser

from axletree.logbook.exchange import import_json
from axletree.logbook.read import evening_whole, evenings
from axletree.logbook.store import Logbook
from axletree.tell.evening.data import evening_document

pytestmark = pytest.mark.browser
NO_STORE = """Object.defineProperty(window, "localStorage",
  { get() { throw new DOMException("no", "SecurityError"); } });"""


def test_what_to_do_now_and_next_with_countdowns(browser: Browser, files: dict[str, Path]) -> None:
    evening = evening_document(planned_by("north").evening)
    level = next(s for s in evening.stages if s.name == "level")
    with opened(browser, files["north"], level.begin + timedelta(seconds=30)) as sheet:
        assert sheet.page.inner_text("h1") == "level"
        assert level.answer in sheet.words()
        left = (level.end - level.begin).total_seconds() - 30
        shown = sheet.page.inner_text(".part-count b")
        assert abs(_seconds(shown) - left) <= 2
        sheet.page.clock.run_for(5000)
        assert _seconds(sheet.page.inner_text(".part-count b")) <= _seconds(shown) - 4
        assert "Next north" in sheet.words()
    third, fourth = evening.stops[2:4]
    with opened(browser, files["north"], third.begin + timedelta(seconds=100)) as sheet:
        words = sheet.words()
        assert sheet.page.inner_text("h1") == third.name
        assert abs(_seconds(sheet.page.inner_text(".part-count b")) - (third.queue_s - 100)) <= 2
        for wanted in (third.chosen.side, third.view.eyepiece, third.chosen.ends_by,
                       f"Next {fourth.name}", "Nudge every"):  # fmt: skip
            assert wanted in words, wanted
        # Ticked, the next one is in hand, and the countdown is to its beginning.
        sheet.page.click('[data-act="shown"]')
        assert sheet.page.inner_text("h1") == fourth.name
        assert "until it begins" in sheet.words()
        assert sheet.axletree("a => a.field.state.entries.length") == 1
    with opened(browser, files["north"], evening.stops[-1].end + timedelta(minutes=5)) as sheet:
        assert "No stop is left" in sheet.words()


def _seconds(text: str) -> int:
    total = 0
    for part in text.lstrip("+").split(":"):
        total = total * 60 + int(part)
    return total


def test_caps_on_while_the_sun_is_up(browser: Browser, files: dict[str, Path]) -> None:
    evening = evening_document(planned_by("north").evening)
    assert evening.darkness.sunset is not None
    with opened(browser, files["north"], evening.darkness.sunset - timedelta(minutes=5)) as sheet:
        sheet.page.click('[data-act="all"]')
        assert "caps on" in sheet.words()
        assert "until it begins" in sheet.words()


def test_another_day_and_a_clock_that_is_off_are_said(
    browser: Browser, files: dict[str, Path]
) -> None:
    begin = in_stop(planned_by("north"), 1)
    with opened(browser, files["north"], begin + timedelta(days=3)) as sheet:
        notice = sheet.page.inner_text("#notice")
        assert "This sheet is for the night of Saturday, 5 December 2026" in notice.replace(
            "Saturday 5", "Saturday, 5"
        )
        assert "Tuesday" in notice
        sheet.page.click("#notice button")
        assert "Not the real time" in sheet.page.inner_text("#notice")
        assert planned_by("north").evening.stops[0].name in sheet.words()
        sheet.page.click("#notice button")
        assert "This sheet is for" in sheet.page.inner_text("#notice")
    with opened(browser, files["north"], begin) as sheet:
        assert sheet.page.is_hidden("#notice")
        own = sheet.page.inner_text("#clock")
        zone = begin.astimezone(kit_of("courtyard").site.zone)
        assert own[:5] == f"{zone:%H:%M}", "the site's time, not the phone's zone"
        sheet.leaf("sheet")
        for words in ("+1 min", "+1 min", "+10 s"):
            sheet.page.click(f'button:text-is("{words}")')
        assert "2 min 10 s slow" in sheet.page.inner_text("#notice")
        assert abs(sheet.axletree("a => a.field.now()") - begin.timestamp() - 130) < 30
        sheet.page.fill("#good", f"{zone:%H}:59:59")
        sheet.page.click('button:text-is("Set")')
        assert sheet.page.inner_text("#clock")[3:] in ("59:59", "00:00", "00:01")
        sheet.page.fill("#good", "25:00")
        sheet.page.click('button:text-is("Set")')
        assert "Write it as" in sheet.words()
        sheet.page.click("text=Back to the phone's own")
        assert sheet.page.is_hidden("#notice")


def test_a_change_of_order_says_what_it_costs_or_why_not(
    browser: Browser, files: dict[str, Path]
) -> None:
    planned = planned_by("north")
    # The one whose room ends first by the clock, and has no other side.
    only = [s for s in planned.evening.stops if s.other is None and s.chosen.room_ends]
    early = min(only, key=lambda s: s.chosen.room_ends)
    late = planned.evening.stops[-1]
    with opened(browser, files["north"], early.begin - timedelta(minutes=3)) as sheet:
        sheet.leaf("order")
        row = sheet.page.locator("li", has=sheet.page.locator(f'bdi:text-is("{late.name}")'))
        row.locator("button.rowhead").click()
        row.locator("button", has_text="take it now").click()
        # Either it is not open yet (then it waits, and others lose) or it goes ahead.
        if sheet.page.locator(".question").count():
            words = sheet.page.inner_text(".question")
            assert "room" in words or "must begin by" in words
            sheet.page.click('.question button:text-is("Leave it")')
            assert sheet.page.locator(".question").count() == 0
            assert sheet.axletree("a => a.field.state.byClock")
    with opened(browser, files["north"], early.end + timedelta(hours=3)) as sheet:
        # By now the room of the shortest-lived stop is over: it is refused, with the time.
        refused = sheet.axletree(
            "(a, k) => a.run.reorder(a.field.state, a.field.now(), k, 0).refused",
            early.catalogue_id,
        )
        assert refused is not None
        assert refused["latest"] < in_stop(planned, 1).timestamp() + 3 * 3600
        sheet.leaf("order")
        text = sheet.words()
        assert "Passed or left out" in text
        assert "no room any more tonight" in text


def test_taking_another_stop_moves_the_rest_and_undo_takes_it_back(
    browser: Browser, files: dict[str, Path]
) -> None:
    stops = planned_by("south").evening.stops
    with opened(browser, files["south"], in_stop(planned_by("south"), 3)) as sheet:
        wanted = sheet.axletree(
            """(a, keys) => keys.find((k) => {
                 const r = a.run.reorder(a.field.state, a.field.now(), k, 0);
                 return !r.refused && !r.costs.length; })""",
            [s.catalogue_id for s in stops[4:]],
        )
        assert wanted, "nothing could be taken out of turn"
        name = next(s.name for s in stops if s.catalogue_id == wanted)
        sheet.leaf("order")
        row = sheet.page.locator("li", has=sheet.page.locator(f'bdi:text-is("{name}")'))
        row.locator("button.rowhead").click()
        row.locator("button", has_text="take it now").click()
        sheet.leaf("now")
        assert name in sheet.page.inner_text("h1")
        assert "was not computed in this order" in sheet.words()
        rows = sheet.axletree("a => a.run.at(a.field.state, a.field.now()).rows.map((r) => r.key)")
        assert rows[0] == wanted
        assert sorted(rows) == sorted(s.catalogue_id for s in stops[2:])
        sheet.leaf("notes")
        sheet.page.click("text=Take back the last step")
        sheet.leaf("now")
        assert stops[2].name in sheet.page.inner_text("h1")


def test_ticks_and_notes_outlive_a_reload_and_go_home_to_the_logbook(
    browser: Browser, files: dict[str, Path], tmp_path: Path
) -> None:
    stops = planned_by("north").evening.stops
    with opened(browser, files["north"], in_stop(planned_by("north"), 1)) as sheet:
        for _ in range(3):
            sheet.page.click('[data-act="one"]')
        sheet.page.click('[data-act="shown"]')
        sheet.page.click('[data-act="skip"]')
        sheet.leaf("notes")
        sheet.page.click('button:text-is("thin cloud")')
        sheet.page.fill("#note", HOSTILE)
        sheet.page.click('button:text-is("Keep")')
        before = sheet.axletree("a => a.field.state.entries")
        sheet.page.reload()
        sheet.soon(ALIVE)
        assert sheet.axletree("a => a.field.state.entries") == before
        assert len(before) == 4
        sheet.leaf("notes")
        assert HOSTILE in sheet.words()
        assert "Kept on this phone" in sheet.words()
        with sheet.page.expect_download() as download:
            sheet.page.click('button:text-is("Write the file")')
        written = tmp_path / download.value.suggested_filename
        shutil.copy(download.value.path(), written)
        sheet.page.click('button:text-is("Show it as text")')
        assert json.loads(sheet.page.input_value("#text")) == json.loads(written.read_text("utf-8"))
    assert written.name == "axletree-2026-12-05.json"
    with Logbook(tmp_path / "book.sqlite") as book:
        assert import_json(book, written.read_text("utf-8")) == 5
        assert import_json(book, written.read_text("utf-8")) == 0
        whole = evening_whole(book, evenings(book)[0].id)
    assert whole["site"] == planned_by("north").evening.kit.site.name
    assert [(s["object"], s["catalogue_id"], s["state"], s["visitors"]) for s in whole["stop"]] == [
        (stops[0].name, stops[0].catalogue_id, "done", 3),
        (stops[1].name, stops[1].catalogue_id, "skipped", None),
    ]
    assert [n["text"] for n in whole["note"]] == ["thin cloud", HOSTILE]
    at = datetime.fromisoformat(whole["stop"][0]["at"])
    assert at.utcoffset() == timedelta(0)
    assert abs((at - in_stop(planned_by("north"), 1)).total_seconds()) < 60
    assert json.loads(whole["run_sheet"])["format"] == "axletree evening"
    uids = [row["uid"] for row in (*whole["stop"], *whole["note"])]
    assert len(set(uids)) == 4
    assert all(len(uid) == 16 for uid in uids)


def test_where_nothing_may_be_kept_it_works_and_says_so(
    browser: Browser, files: dict[str, Path]
) -> None:
    with opened(browser, files["north"], in_stop(planned_by("north"), 1), before=NO_STORE) as sheet:
        assert "keeps nothing" in sheet.page.inner_text("#notice")
        sheet.page.click('[data-act="shown"]')
        assert sheet.axletree("a => a.field.state.entries.length") == 1
        sheet.leaf("notes")
        assert "Export them before you close it" in sheet.words()
