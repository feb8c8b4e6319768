"""An answer that many pages ask for at once is made once, and again only after a change."""

from __future__ import annotations

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from axletree.app.night.told import Told

EVENING = ("evening", False)


def test_eight_pages_that_ask_at_once_have_one_answer_made():
    told, steps, made = Told(), ("planned",), []

    def make() -> str:
        time.sleep(0.05)
        made.append(threading.get_ident())
        return f"made {len(made)}"

    with ThreadPoolExecutor(8) as pages:
        answers = list(pages.map(lambda _: told.text(EVENING, steps, [], make), range(8)))
    assert answers == ["made 1"] * 8
    assert len(made) == 1


def test_another_step_other_ticks_and_another_name_are_told_anew():
    told, steps = Told(), ("planned",)
    assert told.text(EVENING, steps, ["Vega"], lambda: "first") == "first"
    assert told.text(EVENING, steps, ["Vega"], lambda: "unasked") == "first"
    assert told.text(("evening", True), steps, ["Vega"], lambda: "coarse") == "coarse"
    assert told.text(EVENING, steps, ["Vega", "M45"], lambda: "ticked") == "ticked"
    assert told.text(EVENING, ("planned", "again"), ["Vega", "M45"], lambda: "again") == "again"


def test_who_waits_for_an_answer_that_fails_asks_itself():
    told, steps = Told(), ("planned",)
    with pytest.raises(ZeroDivisionError):
        told.text(EVENING, steps, (), lambda: str(1 // 0))
    assert told.text(EVENING, steps, (), lambda: "now") == "now"
