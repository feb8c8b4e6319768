"""The calendar's page: the command's own figures, a year by keys and by thumb, a night to plan."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from desks import USED_AT, Live, answered, client_of, make_desk, until
from fastapi.testclient import TestClient
from looks import colours, faults, screenshot, set_light

AT = "2026-12-05T15:00:00Z"
WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@pytest.fixture(autouse=True)
def own_logbook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))


@pytest.fixture(scope="module")
def year() -> TestClient:
    client = client_of(make_desk())
    client.get("/")
    return client


def look(client: TestClient, **more: Any) -> dict[str, Any]:
    reply = client.get("/answer/calendar", params={"at": AT, **more})
    assert reply.status_code == 200, reply.text
    found: dict[str, Any] = reply.json()
    return found


def test_the_page_and_the_command_agree(year: TestClient) -> None:
    from axletree.stages.night.calendar import CalendarRequest, calendar
    from axletree.tell.calendar.data import calendar_data

    found = look(year)
    desk = make_desk()
    asked = CalendarRequest(first=date(2026, 12, 5), kit_folder=desk.folder)
    told = calendar_data(calendar(desk.kit, asked))
    assert found["from"] == "2026-12-05"
    assert found["to"] == "2027-12-04"
    assert [n[:2] for n in found["nights"]] == [[n["date"], n["score"]] for n in told["nights"]]
    assert found["best_nights"] == told["best_nights"]
    night = year.get(
        "/answer/calendar/night", params={"first": "2026-12-05", "day": found["best_nights"][0]}
    ).json()["night"]
    assert night == next(n for n in told["nights"] if n["date"] == night["date"])
    assert len(year.get("/answer/calendar", params={"at": AT}).content) < 60_000


@pytest.mark.parametrize("on", ["sat", "fri,sun"])
def test_only_on_some_days_of_the_week(year: TestClient, on: str) -> None:
    found = look(year, on=on)
    assert found["best_nights"]
    for day in found["best_nights"]:
        assert WEEK[date.fromisoformat(day).weekday()] in on


@pytest.mark.parametrize(
    "given", [{"first": "2060-01-01"}, {"first": "soon"}, {"on": "caturday"}, {"on": "x" * 90}]
)
def test_what_makes_no_sense_is_refused_in_a_sentence(
    year: TestClient, given: dict[str, str]
) -> None:
    reply = year.get("/answer/calendar", params={"at": AT, **given})
    assert reply.status_code == 422
    assert reply.json()["problem"]


def test_the_last_year_that_is_known_is_cut_short(year: TestClient) -> None:
    assert look(year, first="2049-12-01")["to"] == "2049-12-31"


@pytest.mark.browser
@pytest.mark.parametrize("size", USED_AT)
def test_a_night_is_found_and_planned(
    visit: Callable[..., Any], browser: Any, live: Live, size: str
) -> None:
    page = visit(f"calendar?at={AT}", size=size)
    answered(page)
    until(page, "() => document.querySelector('[role=slider]')", 30)
    best = page.evaluate("document.querySelector('#answer').textContent")
    page.locator("[role=slider]").focus()
    page.keyboard.press("ArrowRight")
    until(page, f"() => document.querySelector('#answer').textContent !== {best!r}")
    words = page.evaluate("document.querySelector('[role=slider]').getAttribute('aria-valuetext')")
    assert "of 100" in words
    page.keyboard.press("Home")
    until(page, "() => document.querySelector('#answer').textContent === 'Saturday 5 December'")
    box = page.locator("#drawing svg").bounding_box()
    assert box is not None
    touched = page.touchscreen.tap if size == "phone" else page.mouse.click
    page.locator("#drawing svg").scroll_into_view_if_needed()
    box = page.locator("#drawing svg").bounding_box()
    touched(box["x"] + box["width"] / 3, box["y"] + 60)
    until(page, "() => document.querySelector('#answer').textContent !== 'Saturday 5 December'")
    page.check('input[name="on"][value="sat"]')
    until(page, "() => [...document.querySelectorAll('#best .stop')].length && "
                "[...document.querySelectorAll('#best .stop')].every((b) => "
                "b.textContent.includes('Saturday'))")  # fmt: skip
    if size == "phone":
        band_and_names(page)
    assert faults(page) == []
    set_light(page, "red")
    assert colours(browser, screenshot(page, f"calendar-chosen-{size}-red"))["other"] == 0
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    if size == "desk":
        return
    page.click("#best .stop")
    chosen = page.evaluate("document.querySelector('#plan').href").split("day=")[1]
    page.click("#plan")
    until(page, "() => document.querySelectorAll('.timeline .grip').length > 5", 30)
    assert page.input_value("#day") == chosen


def band_and_names(page: Any) -> None:
    """The Moon's hours lie side by side without a gap, stronger at full Moon than at new (December
    2026: new on the 9th, full on the 24th, from memory of the Astronomical Almanac); what the sky
    has stands by name beside the diamonds."""
    bars = page.evaluate(
        "[...document.querySelectorAll('#drawing svg line[opacity]')].map(b =>"
        " [+b.getAttribute('x1'), +b.getAttribute('stroke-width'), +b.getAttribute('opacity')])"
    )[:20]  # those of December
    nights = sorted({(x, wide, dark) for x, wide, dark in bars})
    assert len(nights) > 10
    for (x, wide, _), (after, _, _) in pairwise(nights):
        assert x + wide >= after
    strength = [dark for _, _, dark in nights]
    assert max(strength) > 0.7
    assert min(strength) < 0.3
    labels = page.locator("#drawing svg text").all_text_contents()
    assert {"deep sky", "planets", "Moon up"} <= set(labels)
    assert "eclipse of the Sun" in labels  # 2 August 2027, partial at Evora
    assert sum(name in ("Jupiter opposite", "Mars opposite", "Perseids") for name in labels) == 3
