"""The pages for the hands, with a kit that somebody begins with, and in the south."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from desks import Live, answered, make_desk, until

from axletree import cli
from axletree.app.state import Desk
from axletree.kit.kit import check_text

pytestmark = pytest.mark.browser
AT = "?at=2026-12-05T20:30Z"
Visit = Callable[..., Any]


def fresh_desk(folder: Path) -> Desk:
    """A desk with what `axletree kit new` writes."""
    file = folder / "my.toml"
    assert cli.main(["kit", "new", str(file), "--place", "Évora"]) == 0
    text = file.read_text(encoding="utf-8")
    kit, problems = check_text(text)
    assert kit is not None, problems
    return Desk(kit, text, kit_file=file, folder=folder)


@pytest.fixture
def served() -> Iterator[Callable[[Desk], Live]]:
    """served(desk) runs an app of its own for a test."""
    running: list[Live] = []

    def serve(desk: Desk) -> Live:
        running.append(Live(desk).start())
        return running[-1]

    yield serve
    for one in running:
        one.stop()


def opened(browser: Any, live: Live, path: str) -> Any:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.goto(f"{live.url}/{path}")
    answered(page)
    return page


def press(page: Any, which: int, key: str, times: int) -> Any:
    """Focus a ruler and press a key; the ruler's handle."""
    slider = page.locator("[role=slider]").nth(which)
    slider.focus()
    for _ in range(times):
        page.keyboard.press(key)
    return slider


def test_bolts_of_a_fresh_kit_say_which_way(
    served: Callable[[Desk], Live], browser: Any, tmp_path: Path
) -> None:
    page = opened(browser, served(fresh_desk(tmp_path)), "pole" + AT)
    press(page, 0, "ArrowRight", 5)
    press(page, 1, "ArrowLeft", 6)
    until(page, "() => document.querySelectorAll('#moves li').length > 1")
    rows = page.locator("#moves li").all_inner_texts()
    for row in rows:
        assert re.search(r"\b(anti)?clockwise\b", row), row
        assert re.search(r"\b(altitude|azimuth) bolt\b", row), row
        assert re.match(r"\d+\.\d\d turns", row), row
    assert "undefined" not in page.inner_text("body")
    page.context.close()


@pytest.mark.parametrize(("kit", "right_of_the_pole"), [("courtyard", "east"), ("paddock", "west")])
def test_the_direction_scale_lies_as_the_hands_do(
    served: Callable[[Desk], Live], browser: Any, tmp_path: Path, kit: str, right_of_the_pole: str
) -> None:
    """Facing north, east is on the right hand; facing south, west is (the compass itself)."""
    page = opened(browser, served(make_desk(kit, folder=tmp_path)), "pole" + AT)
    until(page, "() => document.querySelectorAll('[role=slider]').length === 2")
    slider = press(page, 1, "ArrowRight", 6)
    assert slider.get_attribute("aria-valuetext") == f"30′ {right_of_the_pole}"
    index = slider.locator("g[transform]").last
    place = re.search(r"translate\(([\d.]+)", index.get_attribute("transform"))
    assert place is not None
    assert float(place[1]) > 200, "the index went to the left"
    printed = {
        text.text_content(): float(text.get_attribute("x")) for text in slider.locator("text").all()
    }
    left_of_the_pole = "west" if right_of_the_pole == "east" else "east"
    assert printed[f"2° {left_of_the_pole}"] < printed["pole"] < printed[f"2° {right_of_the_pole}"]
    box = slider.bounding_box()
    page.mouse.click(box["x"] + 0.9 * box["width"], box["y"] + 0.4 * box["height"])
    assert slider.get_attribute("aria-valuetext").endswith(right_of_the_pole)
    until(page, f"() => document.querySelector('#moves').textContent.includes("
                f"'to the {left_of_the_pole}')")  # fmt: skip
    page.context.close()


def choose(page: Any, name: str) -> None:
    """Type an object's name and wait for its answer."""
    with page.expect_response(lambda r: "/answer/follow" in r.url and name in r.url):
        page.fill("#object", name)
        page.press("#object", "Enter")
    answered(page)  # until then the answer of the object before stands there
    until(page, "() => document.querySelector('#answer').textContent.includes('next nudge')")


def test_each_object_has_its_own_countdown(visit: Visit, live: Live) -> None:
    page = visit("follow" + AT)
    until(page, "() => document.querySelector('#answer').textContent.includes('next nudge')")
    choose(page, "Vega")
    page.click("#nudged")
    # A quarter of an hour later the turn is late, for this object.
    page.evaluate("() => { const now = Date.now; Date.now = () => now() + 960000; }")
    until(page, "() => document.querySelector('#answer').textContent.includes('late')")
    choose(page, "Capella")
    # Another page chooses, and this one is opened again: the nudge of before is still another's.
    page.click("#nudged")
    live.desk.set_page("point", {"object": "Aldebaran"})
    later = visit("follow?at=2026-12-05T21:10Z", same=page.context)
    until(later, "() => document.querySelector('#object').value === 'Aldebaran'")
    until(later, "() => document.querySelector('#answer').textContent.includes('next nudge')")
    later.wait_for_timeout(1100)
    assert "late" not in later.inner_text("#answer")
