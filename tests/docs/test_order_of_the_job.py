"""Does every surface tell the hands the same order?

The order is the brief's own, written out here: the axis is put on the pole last, with the load on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, date, datetime
from itertools import pairwise
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from axletree import cli, commands
from axletree.app.server import make_app
from axletree.app.state import Desk
from axletree.app.web.pages import pages
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import demo_kit, demo_text
from axletree.sky.observer import observer_of
from axletree.tell.evening.calendar_file import evening_ics
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening
from axletree.tell.evening.text import evening_text
from axletree.tell.field_sheet.text import field_words
from axletree.tell.handbook.pages import handbook_pages, shelf
from axletree.tell.paper.paper import sheet_of

ROOT = Path(__file__).parents[2]
SET_UP = ["spot", "level", "north", "balance", "pole", "check"]
ORDER = [*SET_UP, "point", "find", "follow"]
HOST = "127.0.0.1:8765"


def stages(names: Iterable[str]) -> list[str]:
    """Those of the names that are stages of the job, each where it stands first."""
    return list(dict.fromkeys(n.lower() for n in names if n.lower() in ORDER))


@pytest.fixture(scope="module", params=["courtyard", "paddock"])
def evening(request: pytest.FixtureRequest) -> Evening:
    kit = demo_kit(request.param)
    made = datetime(2026, 11, 1, tzinfo=UTC)
    return evening_document(
        plan_evening(
            kit,
            observer_of(kit.site),
            EveningRequest(date(2026, 12, 5), made_at=made, effort="quick"),
        )
    )


@pytest.fixture(scope="module")
def client() -> TestClient:
    desk = Desk(demo_kit("courtyard"), demo_text("courtyard"))
    app = make_app(desk, [HOST])
    return TestClient(app, base_url=f"http://{HOST}", client=("127.0.0.1", 50000))


def test_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["--help"]) == 0
    assert stages(re.findall(r"^  (\w+) ", capsys.readouterr().out, re.MULTILINE)) == ORDER
    assert set(commands.COMMANDS) == set(commands._WORDS)


def test_readme() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert stages(re.findall(r"^\| `axletree (\w+)`", text, re.MULTILINE)) == ORDER


def test_handbook() -> None:
    index = (ROOT / "docs" / "index.md").read_text(encoding="utf-8")
    assert stages(re.findall(r"^\| \[(\w+)\]", index, re.MULTILINE)) == ORDER
    book = handbook_pages()
    assert stages(book) == ORDER
    assert stages(re.findall(r'href="(\w+)"', shelf(book, "index", lambda name: name))) == ORDER


def test_app(client: TestClient) -> None:
    assert stages(page.name for page in pages()) == ORDER
    html = client.get("/").text
    for begin, end in (('<nav class="job"', "</nav>"), ('id="index"', "</ol>")):
        part = html.split(begin, 1)[1].split(end, 1)[0]
        assert stages(re.findall(r'href="/(\w+)"', part)) == ORDER
    walked = ["spot"]
    while walked[-1] != ORDER[-1]:
        page = client.get(f"/{walked[-1]}").text
        following = re.search(r'href="/(\w+)" rel="next"', page)
        assert following is not None
        after = client.get(f"/{following[1]}").text
        assert re.search(rf'href="/{walked[-1]}" rel="prev"', after)
        walked.append(following[1])
        assert len(walked) <= len(ORDER)
    assert walked == ORDER


def test_run_sheet_and_what_is_made_of_it(evening: Evening) -> None:
    assert stages(s.name for s in evening.stages) == SET_UP
    text = evening_text(evening).split("THE SKY")[0]
    assert stages(re.findall(r"^\d\d:\d\d  (\w+)", text, re.MULTILINE)) == SET_UP
    assert stages(s["name"] for s in field_words(evening)["stages"]) == SET_UP
    assert stages(s["name"] for s in sheet_of(evening)["stages"]) == SET_UP
    calendar = evening_ics(evening).decode()
    # Of the set-up only when to be there, and what the sky sets the time of.
    assert re.findall(r"SUMMARY:Set up: (\w+)", calendar) == ["arrive", "pole"]


def test_the_times_make_sense(evening: Evening) -> None:
    """One after the other without a gap; those by the stars when the pole star shows, at once or,
    where Moon or planets are shown before, between two stops."""
    main = [s for s in evening.stages if s.name in (*SET_UP, "finder")]
    for before, after in pairwise(main):
        assert before.end == after.begin or (after.name == "pole" and before.end < after.begin)
        assert before.begin < before.end
    shows = evening.darkness.pole_star_visible
    assert shows is not None
    by_name = {s.name: s for s in main}
    # Moments of the set-up are whole seconds, cut; so the star's may lie one later.
    assert (by_name["pole"].begin - shows).total_seconds() >= -1.0
    by_stars = by_name["pole"].begin, by_name["check"].end
    for stop in evening.stops:
        assert stop.end <= by_stars[0] or stop.begin >= by_stars[1], stop.name
    assert evening.stops[0].begin >= by_name["finder"].end
    assert evening.pole.at == by_name["pole"].begin
