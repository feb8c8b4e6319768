"""The phone's sheet opened from a file with the network off, in Chromium and in Firefox.

Nothing else may run or be fetched; three lights, of which red is red alone; words for those who
run no scripts, flat views where nothing draws in space, hostile names shown as they are.
"""

from __future__ import annotations

import json
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest
from browsers import brightest, opened
from firefox import Firefox, firefox_path
from nights import HOSTILE, in_stop, kit_of, planned_by
from playwright.sync_api import Browser

pytestmark = pytest.mark.browser
VECTORS = json.loads((Path(__file__).parent / "vectors" / "clock.json").read_text("utf-8"))
LEAVES = ("now", "order", "pole", "notes", "sheet")
NO_WEBGL = """HTMLCanvasElement.prototype.getContext = new Proxy(
  HTMLCanvasElement.prototype.getContext,
  { apply: (f, self, given) => given[0].startsWith("webgl") ? null : f.apply(self, given) });"""


def test_it_opens_from_a_file_and_nothing_else_may_run_or_be_fetched(
    browser: Browser, files: dict[str, Path]
) -> None:
    with opened(browser, files["north"], in_stop(planned_by("north"), 3)) as sheet:
        assert planned_by("north").evening.stops[2].name in sheet.words()
        assert not sheet.page.is_visible("#still")
        ran = sheet.page.evaluate(
            """async () => {
              const tried = {};
              for (const how of ["inline", "data"]) {
                const script = document.createElement("script");
                try {
                  if (how === "inline") script.textContent = "window.intruder = 1";
                  else script.src = "data:text/javascript,window.intruder=1";
                } catch { tried[how] = "refused"; continue; }
                document.body.append(script);
              }
              try { document.body.insertAdjacentHTML("beforeend", "<b>x</b>"); }
              catch { tried.markup = "refused"; }
              try { await fetch("data:text/plain,x"); } catch { tried.fetch = "refused"; }
              const style = document.createElement("style");
              style.textContent = "body { display: none }";
              document.head.append(style);
              await new Promise((done) => setTimeout(done, 300));
              const { display } = getComputedStyle(document.body);
              return { intruder: window.intruder ?? null, display, ...tried };
            }"""
        )  # fmt: skip
        assert ran["intruder"] is None
        assert ran["display"] == "block"
        assert (ran["markup"], ran["fetch"]) == ("refused", "refused")
        assert len(sheet.problems) >= 2, "the policy should have said so"
        sheet.problems.clear()


def test_without_scripts_the_words_are_all_there(browser: Browser, files: dict[str, Path]) -> None:
    with opened(browser, files["north"], None, java_script_enabled=False) as sheet:
        text = sheet.page.inner_text("body")
        assert all(stop.name in text for stop in planned_by("north").evening.stops)
        assert "The parts of this sheet that move do not run here" in text


def test_hostile_names_are_shown_as_they_are(browser: Browser, files: dict[str, Path]) -> None:
    with opened(browser, files["hostile"], in_stop(planned_by("north"), 1)) as sheet:
        assert sheet.page.inner_text("h1") == f"{HOSTILE} 1"
        for leaf in LEAVES:
            sheet.leaf(leaf)
            assert sheet.page.locator("img").count() == 0
        sheet.leaf("order")
        assert HOSTILE in sheet.words()
        assert sheet.page.title() == f"2026-12-05, {HOSTILE}"
        # What is written from right to left stays inside its own name.
        assert sheet.page.locator(".what > bdi").count() >= 10


def test_a_night_without_stars_opens_and_says_so(browser: Browser, files: dict[str, Path]) -> None:
    with opened(browser, files["bright"], datetime(2026, 6, 21, 22, tzinfo=UTC)) as sheet:
        assert "the Sun does not sink" in sheet.words()
        for leaf in LEAVES:
            sheet.leaf(leaf)
        sheet.leaf("pole")
        assert "on the dial" in sheet.words()
        assert sheet.page.locator(".acts button:visible").count() == 0


@pytest.mark.parametrize("light", ["day", "dusk", "red"])
def test_each_light_on_each_leaf(browser: Browser, files: dict[str, Path], light: str) -> None:
    with opened(browser, files["north"], in_stop(planned_by("north"), 2)) as sheet:
        sheet.page.click(f'[data-choose-light="{light}"]')
        for leaf in LEAVES:
            sheet.leaf(leaf)
            wide = sheet.page.evaluate("document.documentElement.scrollWidth")
            assert wide <= 390, f"{leaf} runs over the edge"
            small = sheet.page.evaluate(
                """() => [...document.querySelectorAll("button, input")]
                     .filter((b) => b.offsetParent)
                     .map((b) => [b.textContent, b.getBoundingClientRect().height])
                     .filter((b) => b[1] < 43)"""
            )
            assert small == []
            if light == "red":
                if leaf == "now":
                    sheet.page.evaluate("window.scrollTo(0, 620)")  # the rig in depth
                assert brightest(browser, sheet.page.screenshot())[1:] == [0, 0], leaf


def test_figures_are_large_and_what_is_pressed_lies_under_the_thumb(
    browser: Browser, files: dict[str, Path]
) -> None:
    with opened(browser, files["north"], in_stop(planned_by("north"), 2)) as sheet:
        sizes = sheet.page.evaluate(
            """() => [...document.querySelectorAll(".part-count b, .big dd")]
                 .map((b) => parseFloat(getComputedStyle(b).fontSize))"""
        )
        # Figures of 5 mm and more are read at arm's length (common practice, no source); a CSS
        # pixel of a phone measures about 0.16 mm.
        assert min(sizes) * 0.16 > 5.0
        tops = sheet.page.evaluate(
            """() => [...document.querySelectorAll(".acts button, .leaves button")]
                 .map((b) => b.getBoundingClientRect().top)"""
        )
        assert len(tops) >= 8
        assert min(tops) > 844 * 0.75


def test_without_webgl_the_rig_is_drawn_flat(browser: Browser, files: dict[str, Path]) -> None:
    at = in_stop(planned_by("north"), 2)
    with opened(browser, files["north"], at, before=NO_WEBGL) as sheet:
        assert sheet.page.locator(".rig svg").count() == 2
        assert sheet.page.locator(".rig canvas").count() == 0
        assert sheet.page.locator(".rig svg path").count() > 20
    with opened(browser, files["north"], at) as sheet:
        if sheet.axletree("a => a.field.rig.inDepth()"):
            assert sheet.page.locator(".rig canvas").count() == 1
            sheet.page.click("text=Show it from the side")
        assert sheet.page.locator(".rig svg").count() == 2


def test_nothing_bars_those_who_read_with_ears_or_keys(
    browser: Browser, files: dict[str, Path]
) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    with opened(browser, files["north"], in_stop(planned_by("north"), 2)) as sheet:
        sheet.page.click('[data-choose-light="day"]')
        for leaf in ("now", "order", "notes"):
            sheet.leaf(leaf)
            found = axe.run(sheet.page).response["violations"]
            assert [(v["id"], v["nodes"][0]["html"][:120]) for v in found] == []


def test_it_runs_from_a_file_in_firefox_too(
    browser: Browser, files: dict[str, Path], tmp_path: Path
) -> None:
    path = firefox_path()
    if path is None:
        pytest.skip("needs Firefox: apt-get install firefox-esr")
    with Firefox(path, tmp_path / "profile") as firefox:
        firefox.open(files["south"].as_uri())
        until = time.monotonic() + 10
        while firefox.run("return document.body.className") != "alive":
            assert time.monotonic() < until
            time.sleep(0.05)
        day = planned_by("south").evening.stops[0]
        firefox.run("window.axletree.field.lookAt(arguments[0])",
                    _day_seconds(in_stop(planned_by("south"), 1), "paddock"))  # fmt: skip
        assert firefox.run("return document.querySelector('h1').innerText") == day.name
        for row in VECTORS["azimuth_altitude"]:
            given = [row[k] for k in ("hour_angle_h", "declination_deg", "latitude_deg")]
            got = firefox.run("return window.axletree.azimuthAltitude(...arguments[0])", given)
            assert got == pytest.approx([row["azimuth_deg"], row["altitude_deg"]], abs=1e-4)
        firefox.run("document.querySelector('[data-act=\"shown\"]').click()")
        assert firefox.run("return window.axletree.field.state.entries.length") == 1
        for leaf in LEAVES:
            firefox.run("document.querySelector(`[data-leaf=${arguments[0]}]`).click()", leaf)
            most = brightest(browser, firefox.picture())
            assert most[0] > 200, "something is to be seen"
            assert most[1:] == [0, 0], f"{leaf} is not red alone"
        # Only data: addresses were ever asked for, and a script from outside is refused.
        assert all(
            name.startswith("data:")
            for name in firefox.run(
                "return performance.getEntriesByType('resource').map((e) => e.name)"
            )
        )
        refused = firefox.run(
            """const s = document.createElement("script");
            try { s.src = "data:text/javascript,window.intruder=1"; } catch (e) { return true; }
            document.body.append(s); return false;"""
        )
        assert refused or firefox.run("return window.intruder ?? null") is None


def _day_seconds(moment: datetime, name: str) -> int:
    local = moment.astimezone(kit_of(name).site.zone)
    return local.hour * 3600 + local.minute * 60 + local.second
