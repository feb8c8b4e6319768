"""What is chosen stands in the address; a name that nobody knows is shared with no page."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import pytest
from desks import Live, answered, until

pytestmark = pytest.mark.browser
AT = "?at=2026-12-05T20:30Z"


def test_an_unknown_name_stays_where_it_was_typed(visit: Callable[..., Any], live: Live) -> None:
    page = visit("find" + AT)
    answered(page)
    page.fill("#object", "Mirach")
    page.press("#object", "Enter")
    end = time.monotonic() + 20
    while live.desk.settings("point").get("object") != "Mirach":
        assert time.monotonic() < end, "a name that was answered is shared"
        page.wait_for_timeout(50)
    page.fill("#object", "xyz")
    page.press("#object", "Enter")
    until(page, "() => !document.querySelector('#object-problem').hidden")
    assert page.input_value("#object") == "xyz"
    assert page.is_hidden("#names"), "Enter closes the list"
    page.fill("#object", "Mirach")
    page.press("#object", "Enter")
    until(page, "() => document.querySelector('#object-problem').hidden")
    page.fill("#start", "Nowhere")
    page.press("#start", "Enter")
    until(page, "() => !document.querySelector('#start-problem').hidden")
    assert page.input_value("#start") == "Nowhere"
    live.at_rest()
    assert live.desk.settings("point")["object"] == "Mirach"
    assert live.desk.settings("find").get("from", "") == ""


def test_the_object_and_every_choice_stand_in_the_address(visit: Callable[..., Any]) -> None:
    page = visit("follow" + AT + "&object=Vega")
    answered(page)
    eyepiece = page.locator("#eyepieces input").last
    wanted = eyepiece.get_attribute("value")
    eyepiece.check(force=True)
    page.locator('input[name="side"]').last.check(force=True)
    side = page.locator('input[name="side"]').last.get_attribute("value")
    address = page.url
    assert "at=2026-12-05T20" in address
    again = visit(address.split("/", 3)[3])
    answered(again)
    assert again.input_value("#object") == "Vega"
    assert again.locator("#eyepieces input:checked").get_attribute("value") == wanted
    assert again.locator('input[name="side"]:checked').get_attribute("value") == side
    other = visit("point" + AT + "&object=Vega&side=west")
    answered(other)
    assert other.input_value("#object") == "Vega"
    assert other.locator('input[name="which"]:checked').get_attribute("value") == "west"
