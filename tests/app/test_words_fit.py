"""No page cuts a word, breaks it, sets it over another, or makes it too small to read.

At four widths from one load, in both hemispheres, with our typeface and with a wide one in its
place; names are long but real. AXLETREE_LONG=1 looks at each kit in each typeface.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any

import pytest
from desks import Live, answered, until

from axletree.app.state import Desk
from axletree.app.web.pages import pages
from axletree.kit.kit import check_text, demo_text
from words_fit import misfits, misfits_on_all_screens, serve_wider

pytestmark = pytest.mark.browser
LONG = bool(os.environ.get("AXLETREE_LONG"))
NAMES = ["start", *(p.name for p in pages())]
# 20:30 and 21:30 in the dark of each; hours of two digits everywhere.
MOMENTS = {"courtyard": "?at=2026-12-05T20:30Z", "paddock": "?at=2026-12-05T11:30Z"}
WITH_TIME = ("north", "pole", "point", "find", "follow")
# Stars and objects with long names, one of them beside the pole.
OBJECTS = {"courtyard": "Andromeda Galaxy", "paddock": "σ Octantis"}
LONGER = {
    "School courtyard near Évora": "Courtyard of the municipal school at Vila Nova de São Bento",
    '"School courtyard"': '"Grandmother\'s telescope on the borrowed mount"',
    "150 mm f/5 Newtonian": "second-hand 150 mm f/5 Newtonian, new mirror",
    "Farm paddock near Lake Tekapo": "Farm paddock on the long road from Lake Tekapo to Takapō",
}
CASES = [("courtyard", "wide"), ("paddock", "ours")]
if LONG:
    CASES += [("courtyard", "ours"), ("paddock", "wide")]


@pytest.fixture(scope="module")
def desks(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Live]]:
    """A running server for each kit, with long names in it."""
    running = {}
    for name in MOMENTS:
        text = demo_text(name)
        for short, words in LONGER.items():
            text = text.replace(short, words)
        kit, problems = check_text(text)
        assert kit is not None, problems
        assert len(kit.site.name) > 50
        folder = tmp_path_factory.mktemp(name)
        file = folder / "axletree.toml"
        file.write_text(text, encoding="utf-8")
        running[name] = Live(Desk(kit, text, kit_file=file, folder=folder)).start()
    yield running
    for live in running.values():
        live.stop()


@pytest.mark.parametrize(("kit", "typeface"), CASES)
@pytest.mark.parametrize("name", NAMES)
def test_words_of_a_page_fit(
    browser: Any, desks: dict[str, Live], name: str, kit: str, typeface: str
) -> None:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    try:
        if typeface == "wide":
            serve_wider(context)
        page = context.new_page()
        moment = MOMENTS[kit] if name in WITH_TIME else ""
        page.goto(f"{desks[kit].url}/{'' if name == 'start' else name}{moment}")
        answered(page)
        if name in ("point", "find", "follow"):
            page.fill("#object", OBJECTS[kit])
            page.press("#object", "Enter")
            page.wait_for_timeout(600)
            answered(page)
        until(page, "() => document.fonts.status === 'loaded'")
        page.wait_for_timeout(300)
        assert len(page.inner_text("main")) > 100
        found = misfits_on_all_screens(page)
        if page.query_selector("#all") and page.is_visible("#all"):
            page.click("#all")
            found += [f"the list of the job: {line}" for line in misfits(page)]
    finally:
        context.close()
    assert found == []


BAD = """<style>body { margin: 0; font: 20px/1.3 serif; overflow-wrap: anywhere }</style>
<p style="width: 5em; overflow: hidden; white-space: nowrap">words that are cut</p>
<p style="width: 60px">unbreakablewords</p>
<p style="width: 70px">this goes down word after word</p>
<p style="font-size: 9px">small type</p>
<p style="margin: -24px 0 0">words that stand over others</p>
<svg width="100" height="40" viewBox="0 0 200 80"><text x="150" y="40" font-size="30">far out</text>
<text x="5" y="60" font-size="16">tiny</text></svg>"""


def test_each_kind_of_misfit_is_seen(browser: Any) -> None:
    context = browser.new_context(viewport={"width": 600, "height": 800})
    page = context.new_page()
    page.set_content(BAD)
    found = "\n".join(misfits(page))
    page.set_content("<p>Words that have all the room they need.</p>")
    fine = misfits(page)
    context.close()
    for kind in (
        "by p.: 'words that are cut'", "broken: 'unbreakablewords'", "one word wide: 'this goes",
        "9.0 px: 'small type'", "px: 'small type' and 'words that stand over others'",
        "by svg.: 'far out'", "8.0 px: 'tiny'",
    ):  # fmt: skip
        assert kind in found, (kind, found)
    assert fine == []
