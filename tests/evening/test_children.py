"""The children's evening ends earlier: what asks for patience comes after it.

That galaxies, faint glows and close pairs ask for patience is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from functools import cache

import pytest

from axletree.evening.order.candidates import Opening
from axletree.evening.people.children import CHILDREN_POINTS, needs_patience
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.stops.placing import for_children
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.paper.pocket import pocket_of
from axletree.tell.paper.text import sheet_of

MADE = datetime(2026, 3, 1, 12, tzinfo=UTC)
LEAVE = time(21, 0)


def kit_until(until: time | None) -> Kit:
    kit = demo_kit("courtyard")
    habits = kit.habits.model_copy(update={"children_until": until})
    return kit.model_copy(update={"habits": habits})


@cache
def planned(until: time | None, day: date) -> Planned:
    kit = kit_until(until)
    return plan_whole(kit, observer_of(kit.site), EveningRequest(day, made_at=MADE))


@pytest.fixture(scope="module")
def evening() -> Planned:
    return planned(LEAVE, date(2026, 10, 10))


def test_nothing_that_asks_for_patience_comes_before_the_children_leave(evening: Planned) -> None:
    part = evening.evening.children
    assert part is not None
    assert f"{part.until:%H:%M}" == "21:00"
    before = [stop for stop in evening.evening.stops if stop.end <= part.until]
    assert len(before) == part.stops >= 3
    assert not any(needs_patience(stop.candidate) for stop in before)
    task = evening.task
    assert task is not None
    patient = [c for c in task.chosen.candidates if needs_patience(c) and not c.must]
    assert len(patient) >= 2
    for candidate in patient:
        target = next(t for t in task.targets if t.key == candidate.thing.catalogue_id)
        assert all(task.at(o.start_s) >= part.until for o in target.openings)


def test_a_splendid_thing_is_worth_more_before_and_a_promise_stays_open(evening: Planned) -> None:
    task = evening.task
    assert task is not None
    habits, session = kit_until(LEAVE).habits, evening.session
    assert session is not None
    whole = [Opening("east", 0.0, 9000.0)]
    splendid = next(c for c in task.chosen.candidates if c.thing.name == "Saturn")
    early = for_children(whole, splendid, habits, session)[1]
    assert early.value_change == CHILDREN_POINTS
    assert task.at(early.end_s).strftime("%H:%M") == "21:00"
    galaxy = next(c for c in task.chosen.candidates if needs_patience(c))
    assert for_children(whole, replace(galaxy, must=True), habits, session) == whole
    assert for_children(whole, galaxy, kit_until(None).habits, session) == whole


def test_every_sheet_says_it(evening: Planned) -> None:
    document = evening_document(evening.evening)
    assert document.children is not None
    words = document.children.words
    assert "21:00" in words
    text = evening_text(document)
    head = f"21:00  {words.split(',')[0]}"
    assert head in text
    last = document.stops[document.children.stops - 1]
    following = document.stops[document.children.stops]
    assert text.index(f"{last.number}. ") < text.index(head) < text.index(f"{following.number}. ")
    assert words in sheet_of(document)["note"]
    assert pocket_of(document)["children"] == words


def test_an_end_before_the_first_stop_is_said_plainly() -> None:
    document = evening_document(planned(LEAVE, date(2026, 6, 12)).evening)
    assert document.children is not None
    assert document.children.stops == 0
    assert "before anything could be shown" in document.children.words


def test_more_visitors_never_mean_less_time_for_each() -> None:
    from axletree.evening.hosting.pace import TALK_MIN, show_seconds

    kit = demo_kit("courtyard")
    each = []
    for visitors in (1, 3, 8, 20, 60):
        habits = kit.habits.model_copy(update={"visitors": visitors})
        whole = show_seconds(kit.model_copy(update={"habits": habits}))
        each.append((whole - TALK_MIN * 60.0) / visitors)
    assert min(each) >= kit.habits.seconds_per_visitor - 1e-9
