"""What a visitor sees fits, too: the door, and the pages whose lead somebody else has.

With a leader of a long name and a typeface wider than ours, at two widths; AXLETREE_LONG=1 looks
at every page at four, in the south as well.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any

import pytest
from desks import ELSEWHERE, Live, answered, client_of, until

from axletree.app.people.sharing import Sharing
from axletree.app.state import Desk
from axletree.app.web.pages import pages
from axletree.kit.kit import check_text, demo_text
from notation import wrong_in
from words_fit import SCREENS, misfits_on_all_screens, serve_wider, settled

pytestmark = pytest.mark.browser
LONG = bool(os.environ.get("AXLETREE_LONG"))
MOMENTS = {"courtyard": "2026-12-05T20:30Z", "paddock": "2026-12-05T11:30Z"}
KITS = tuple(MOMENTS) if LONG else ("courtyard",)
# Those with most to set, which a visitor only sees; what is asked for of each.
ASKED = {"point": "&object=Saturn", "find": "&object=Saturn", "follow": "&object=Saturn"}
WIDTHS = (1440, 820, 390, 320) if LONG else (820, 320)
NAMES = tuple(p.name for p in pages()) if LONG else ("pole", "find", "evening")
LOOKING_ON = "() => document.querySelector('#notice').textContent.includes('leads')"


@pytest.fixture(params=KITS)
def led(
    request: pytest.FixtureRequest, tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[str, Live]]:
    """A desk that is shared, with a logbook of its own, and led by somebody at the laptop."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    kit, problems = check_text(demo_text(request.param))
    assert kit is not None, problems
    sharing = Sharing("http://192.168.107.103:8765/")
    live = Live(Desk(kit, demo_text(request.param), folder=tmp_path, sharing=sharing)).start()
    live.desk.seats.take("Bartholomew of Kaus Australis", here=True).links = 1
    yield request.param, live
    live.stop()


def test_words_of_a_visitors_pages_fit(browser: Any, led: tuple[str, Live]) -> None:
    kit, live = led
    screens = tuple(screen for screen in SCREENS if screen[0] in WIDTHS)
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    try:
        serve_wider(context)
        page = context.new_page()
        # To the server a browser here is one at the laptop, who needs no code.
        asked = client_of(live.desk, ELSEWHERE, "192.168.7.1:8765").get("/enter?to=/pole")
        context.route("**/enter**", lambda route: route.fulfill(body=asked.text))
        page.goto(f"{live.url}/enter?to=/pole")
        assert "Which code was read to you?" in page.inner_text("main")
        settled(page, 10)
        found = [f"the door, {line}" for line in misfits_on_all_screens(page, screens)]
        for name in NAMES:
            page.set_viewport_size({"width": 1440, "height": 900})
            page.goto(f"{live.url}/{name}?at={MOMENTS[kit]}{ASKED.get(name, '')}")
            answered(page)
            until(page, LOOKING_ON)
            until(page, "() => document.fonts.status === 'loaded'")
            settled(page, 10)
            assert "Bartholomew" in page.inner_text("#notice")
            found += [f"{name}, {line}" for line in misfits_on_all_screens(page, screens)]
            found += wrong_in(name, page.inner_text("main"))
    finally:
        context.close()
    assert found == [], "\n".join(found)
