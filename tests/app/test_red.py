"""Does red leave nothing else, even without the layer that lets only red through?"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from desks import answered
from looks import colours, screenshot

from words_fit import settled

pytestmark = pytest.mark.browser
AT = "?at=2026-12-05T20:30Z"


# Opened by red light; what every page is when it was put into it, `test_looks.py` sees.
@pytest.mark.parametrize("name", ["calendar", "evening", "find", "kit", "point", "spot", "teach"])
def test_red_is_red_without_its_layer(visit: Callable[..., Any], browser: Any, name: str) -> None:
    """Red rules other colours out twice; here the first rule stands alone, on the whole page."""
    page = visit(name + AT, light="red")
    answered(page)
    settled(page, 8)
    page.evaluate("document.querySelector('.redlight').style.display = 'none'")
    picture = page.screenshot(full_page=True)
    seen = colours(browser, picture)
    assert seen["other"] == 0, f"{seen['other']} pixels with green or blue"


def test_the_file_button_is_as_dark_as_its_page(visit: Callable[..., Any], browser: Any) -> None:
    """The button that opens a file is the browser's own unless it is drawn: mostly paper in red,
    and no green or blue even where nothing is laid over it."""
    page = visit("kit", light="red", size="desk")
    answered(page)
    page.locator("#open").scroll_into_view_if_needed()
    screenshot(page, "kit-file-red")
    page.evaluate("document.querySelector('.redlight').style.display = 'none'")
    box = page.locator("#open").bounding_box()
    whole = {"x": box["x"], "y": box["y"], "width": 140, "height": box["height"]}
    for state in ("open to the leader", "shut"):
        page.evaluate(f"document.querySelector('#open').disabled = {str(state == 'shut').lower()}")
        seen = colours(browser, page.screenshot(clip=whole))
        assert seen["other"] == 0, state
        assert 20 < seen["red"] < 0.4 * seen["all"], (state, seen)
