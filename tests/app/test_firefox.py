"""The pages in Firefox: each shows its answer, notes no error and is no wider than the screen."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from desks import LONG, Live

from axletree.app.web.pages import ASIDE, pages
from tell.firefox import Firefox, firefox_path

pytestmark = pytest.mark.browser
AT = "?at=2026-12-05T20:30Z"
WITH_TIME = ("north", "pole", "point", "find", "follow")
NAMES = [page.name for page in (*ASIDE, *pages())] if LONG else ["level"]
# The narrowest phone that pages are made for, and a desk.
WIDTHS = (320, 1440)
ANSWERED = """const a = document.querySelector("#answer");
return document.readyState === "complete" && document.body.dataset.page === arguments[0]
  && (!a || (!a.ariaBusy && !["", "–", "Choose an object"].includes(a.textContent.trim())));"""


def test_every_page_shows_its_answer_in_firefox(live: Live, tmp_path: Path) -> None:
    path = firefox_path()
    if path is None:
        pytest.skip("needs Firefox: apt-get install firefox-esr")
    wrong: list[str] = []
    with Firefox(path, tmp_path / "profile", width=1500, height=900) as firefox:
        for name in NAMES:
            given = AT if name in WITH_TIME else ""
            firefox.open(f"{live.url}/{'' if name == 'start' else name}{given}")
            until = time.monotonic() + 60
            while not firefox.run(ANSWERED, name):
                assert time.monotonic() < until, f"{name} shows no answer"
                time.sleep(0.05)
            for wide in WIDTHS:
                firefox.width(wide)
                until = time.monotonic() + 5
                while firefox.run("return innerWidth") != wide:
                    assert time.monotonic() < until, "the page does not take that width"
                    time.sleep(0.02)
                over = firefox.run("return document.documentElement.scrollWidth - innerWidth")
                if over > 0:
                    wrong.append(f"{name} is {over} pixels wider than {wide}")
            wrong += [f"{name}: {words}" for words in firefox.errors()]
        assert not wrong, "\n".join(wrong)
        # What is noted is seen.
        firefox.run("setTimeout(() => { throw new Error('seen'); }, 0)")
        time.sleep(0.3)
        assert any("seen" in words for words in firefox.errors())
