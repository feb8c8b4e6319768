"""Every page at both sizes in all three lights: axe, red pixels, pictures to look at.

axe-core checks the machine-testable criteria of WCAG 2.2 (W3C Recommendation), among them a
contrast of 4.5:1 for text. The pictures lie in out/screens.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from desks import LIGHTS, LONG, SIZES, answered, until
from looks import colours, faults, screenshot, set_light

from axletree.app.web.pages import pages
from words_fit import settled

pytestmark = pytest.mark.browser
AT = "?at=2026-12-05T20:30Z"
NAMES = ["start", "begin", "board", *(p.name for p in pages())]


def settle(page: Any, name: str) -> None:
    answered(page)
    if name in ("point", "teach"):
        until(page, "() => document.querySelectorAll('canvas').length > 0")
    settled(page, 8)


@pytest.mark.parametrize("name", NAMES)
def test_page(visit: Callable[..., Any], browser: Any, name: str) -> None:
    address = "" if name == "start" else name + (AT if name in WITH_TIME else "")
    page = visit(address)
    settle(page, name)
    fits(page, name)
    for light in LIGHTS:
        set_light(page, light)
        picture = screenshot(page, f"{name}-phone-{light}")
        wrong = faults(page, contrast_only=light != "day")
        assert wrong == [], f"{name} phone {light}"
        if light == "red":
            seen = colours(browser, picture)
            assert seen["other"] == 0, f"{seen['other']} pixels with green or blue"
            assert seen["red"] > 500, "nothing to be seen"
    if LONG or NAMES.index(name) % 3 == 0:
        red_without_its_layer(page, browser)
    # What a thumb has to hit is no smaller than 24 by 24 (WCAG 2.2, 2.5.8), ours 44 high.
    small = page.evaluate(SMALL)
    assert small == [], small
    # On the desk nothing is asked of the colours, which are those of the phone. The same page is
    # made wide; a long run opens another.
    if LONG:
        page = visit(address, size="desk")
        settle(page, name)
    else:
        width, height = SIZES["desk"]
        page.set_viewport_size({"width": width, "height": height})
        settled(page, 8)
    fits(page, name)
    for light in LIGHTS if LONG else ("day",):
        set_light(page, light)
        screenshot(page, f"{name}-desk-{light}")
        if light == "day":
            assert faults(page) == [], f"{name} desk"


def fits(page: Any, name: str) -> None:
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0, f"{name} is {wide} pixels wider than the screen"


def red_without_its_layer(page: Any, browser: Any) -> None:
    """Red rules other colours out twice; here the first rule stands alone, on the whole page."""
    page.evaluate("document.querySelector('.redlight').style.display = 'none'")
    seen = colours(browser, page.screenshot(full_page=True))
    assert seen["other"] == 0, f"{seen['other']} pixels with green or blue without the layer"
    page.evaluate("document.querySelector('.redlight').style.display = ''")


WITH_TIME = ("north", "pole", "point", "find", "follow")
SMALL = """() => [...document.querySelectorAll('main button, footer *, .lights button')]
  .filter((b) => b.matches('a, button') && b.offsetParent)
  .filter((b) => b.getBoundingClientRect().height < 44)
  .map((b) => b.textContent.trim() + ' ' + b.getBoundingClientRect().height)"""


def test_the_check_for_red_sees_other_colours(visit: Callable[..., Any], browser: Any) -> None:
    page = visit("level", light="dusk")
    answered(page)
    assert colours(browser, page.screenshot())["other"] > 1000


def test_the_layer_lets_only_red_through(visit: Callable[..., Any], browser: Any) -> None:
    """Even what a page should never draw."""
    page = visit("level", light="red")
    answered(page)
    page.evaluate("document.querySelector('#answer').style.background = '#3cf'")
    page.evaluate("document.querySelector('#answer').style.color = '#fff'")
    seen = colours(browser, page.screenshot())
    assert seen["other"] == 0
    assert seen["red"] > 500


def test_axe_sees_a_fault(visit: Callable[..., Any]) -> None:
    page = visit("level")
    answered(page)
    page.evaluate("document.querySelector('#because').style.color = '#e5e0d5'")
    assert any(f.startswith("color-contrast:") for f in faults(page))
    page.evaluate("document.querySelector('#all').setAttribute('aria-expanded', 'perhaps')")
    assert any(f.startswith("aria-valid-attr-value:") for f in faults(page))


def test_red_stays_red_in_every_state(visit: Callable[..., Any], browser: Any) -> None:
    """Focus, text being typed, an error, a list that is open, running work, checked boxes."""
    page = visit("point" + AT, light="red")
    settle(page, "point")
    page.fill("#object", "alb")
    until(page, "() => document.querySelectorAll('#names li').length > 0")
    assert colours(browser, screenshot(page, "point-names-red"))["other"] == 0
    page.fill("#object", "xyzzy")
    page.press("#object", "Enter")
    until(page, "() => !document.querySelector('#object-problem').hidden")
    page.press("#object", "Control+a")
    assert colours(browser, screenshot(page, "point-problem-red"))["other"] == 0
    kit = visit("kit", light="red", same=page.context)
    answered(kit)
    kit.click("[data-part=tube]")
    kit.fill("[id='f-tube.length_mm']", "-1")
    until(kit, "() => document.querySelector('#answer').textContent.includes('mend')")
    assert colours(browser, screenshot(kit, "kit-problem-red"))["other"] == 0
    level = visit("level", light="red", same=page.context)
    answered(level)
    level.check("#shorten")
    level.click("#all")
    assert colours(browser, screenshot(level, "list-red"))["other"] == 0
