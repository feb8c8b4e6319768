"""Long waits between stops: filled where something fits, else told with their reason; a good end.

A wait of ten minutes is long, and a minute of waiting costs a minute of moving: common practice, no
source. The orders below are small enough to be reckoned by hand.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from itertools import pairwise

import pytest

from axletree.evening.order.candidates import Opening, Order, OrderedStop, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.sequence.best import order_stops
from axletree.evening.sequence.for_people import (
    LONG_WAIT_S,
    wait_seconds,
    with_less_waiting,
    with_splendid_end,
)
from axletree.evening.sheet.plan import EveningRequest, Planned, plan_whole
from axletree.evening.stops.outcome import order_quality
from axletree.evening.stops.placing import stops_from
from axletree.evening.stops.stop import Meanwhile, WaitFor
from axletree.kit.kit import demo_kit
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.kit.questions_text import words_for
from axletree.tell.shared.words import own_clock
from axletree.tell.stop.text import order_words

MIN = 60.0
HANDLING = Handling()
MADE = datetime(2026, 3, 1, 12, tzinfo=UTC)


def target(key: str, value: float, *openings: Opening, must: bool = False) -> Target:
    return Target(key, value, 10 * MIN, openings, 5.0, 10.0, must=must)


def opening(side: str, begin_min: float, end_min: float, change: float = 0.0) -> Opening:
    return Opening("east" if side == "east" else "west", begin_min * MIN, end_min * MIN, change)


# "moment" is worth six points more from minute 60 on. The other side costs four points a change.
TARGETS = (
    target("first", 50.0, opening("west", 0, 200)),
    target("moment", 60.0, opening("west", 0, 200), opening("west", 60, 80, 6.0)),
    target("other side", 20.0, opening("east", 0, 200)),
)


def keys(order: Order) -> list[str]:
    return [stop.key for stop in order.stops]


def longest(order: Order, span: OrderSpan) -> float:
    return max(wait_seconds(stop, span) for stop in order.stops)


@pytest.mark.parametrize("most", [None, 3])
def test_a_long_wait_is_filled_by_a_later_stop(most: int | None) -> None:
    span = OrderSpan(0.0, 200 * MIN, most=most)
    best = order_stops(TARGETS, span, HANDLING)
    assert longest(best, span) >= LONG_WAIT_S
    calm = with_less_waiting(best, TARGETS, span, HANDLING)
    assert set(keys(calm)) == set(keys(best))
    assert longest(calm, span) < longest(best, span)
    assert not calm.proven_best
    assert calm.points <= best.points


def test_a_wait_is_filled_by_another_object_but_never_beyond_the_stops_wanted() -> None:
    span = OrderSpan(0.0, 90 * MIN, most=2)
    poor = (*TARGETS[:2], target("poor", 30.0, opening("west", 0, 200)))
    best = order_stops(poor, span, HANDLING)
    calm = with_less_waiting(best, poor, span, HANDLING)
    assert len(calm.stops) <= 2
    assert longest(calm, span) < LONG_WAIT_S
    named = {*keys(calm), *(left.key for left in calm.left_out)}
    assert named == {"first", "moment", "poor"}


def test_what_must_be_seen_is_waited_for() -> None:
    span = OrderSpan(0.0, 200 * MIN)
    two = (TARGETS[0], target("must", 5.0, opening("west", 100, 120), must=True))
    calm = with_less_waiting(order_stops(two, span, HANDLING), two, span, HANDLING)
    assert keys(calm) == ["first", "must"]
    assert longest(calm, span) > 60 * MIN


def test_a_break_is_no_wait() -> None:
    span = OrderSpan(0.0, 7200.0, breaks=((1200.0, 2400.0),))
    stop = OrderedStop("x", "east", 1200.0, 2460.0, 3000.0, 120.0, 7200.0)
    assert wait_seconds(stop, span) == pytest.approx(60.0)


@pytest.fixture(scope="module")
def march() -> Planned:
    """The school courtyard waited from 19:36 to 19:57 for Io, without a word."""
    kit = demo_kit("courtyard")
    return plan_whole(kit, observer_of(kit.site), EveningRequest(date(2026, 3, 10), made_at=MADE))


def test_the_school_in_march_waits_for_nothing(march: Planned) -> None:
    stops = march.evening.stops
    assert len(stops) == 8
    assert march.session is not None
    between = march.session.set_between
    assert between is not None
    for before, after in pairwise(stops):
        free_s = (after.begin - before.end).total_seconds()
        if before.end <= between[0] and after.begin >= between[1]:
            free_s -= (between[1] - between[0]).total_seconds()
        assert free_s < 12 * MIN
    assert all(stop.wait is None for stop in stops)


def test_a_wait_that_stays_is_told_with_its_reason(march: Planned) -> None:
    task, evening = march.task, march.evening
    assert task is not None
    assert len(evening.stops) > 1
    by_key = {t.key: t for t in task.targets}
    made = []
    jupiter = next(stop for stop in evening.stops if stop.name == "Jupiter")
    other = next(stop for stop in evening.stops if stop.name == "M44")
    for stop, begin_s in ((other, 0.0), (jupiter, 4200.0)):
        own = by_key[stop.catalogue_id]
        arrive = begin_s if begin_s == 0.0 else own.show_s + 300.0
        made.append(
            OrderedStop(own.key, stop.chosen.side, arrive, begin_s, begin_s + own.show_s,
                        300.0, 9000.0)
        )  # fmt: skip
    kit = evening.kit
    told = stops_from(kit, observer_of(kit.site), march.ground.table, task, made)
    wait = told[1].wait
    assert wait is not None
    assert wait.meanwhile is Meanwhile.STAY
    assert wait.stay_with == told[0].name
    # Setting the axis on its star, which comes between, is no wait.
    assert march.session is not None
    assert march.session.set_between is not None
    assert wait.begin == march.session.set_between[1]
    # Jupiter: Io leaves its disc at 20:10, within a stop from 20:05 on.
    assert wait.waits_for is WaitFor.MOMENT
    text = evening_text(evening_document(replace(evening, stops=told)))
    assert f"Stay with {told[0].name}" in text.replace("\n       ", " ")
    short = [made[0], replace(made[1], room_end_s=0.0)]
    short[0] = replace(made[0], room_end_s=made[0].end_s)
    alone = stops_from(kit, observer_of(kit.site), march.ground.table, task, short)[1].wait
    assert alone is not None
    assert alone.meanwhile is Meanwhile.BARE_EYE


def test_a_splendid_stop_comes_last_where_that_is_cheap() -> None:
    """Two stops, an hour of room each: the order by points ends with the dull one."""
    span = OrderSpan(0.0, 60 * MIN)
    fine = replace(target("fine", 60.0, opening("west", 0, 60)), splendid=True)
    dull = target("dull", 40.0, opening("west", 0, 60))
    two = (replace(fine, urgency_points_per_h=2.0), dull)
    best = order_stops(two, span, HANDLING)
    assert keys(best) == ["fine", "dull"]
    assert keys(with_splendid_end(best, two, span, HANDLING)) == ["dull", "fine"]
    sets_soon = (replace(fine, openings=(opening("west", 0, 15),)), dull)
    best = order_stops(sets_soon, span, HANDLING)
    assert keys(with_splendid_end(best, sets_soon, span, HANDLING)) == ["fine", "dull"]
    dear = (replace(fine, openings=(opening("west", 0, 15), opening("east", 20, 60, -30.0))), dull)
    best = order_stops(dear, span, HANDLING)
    assert with_splendid_end(best, dear, span, HANDLING) == best


def test_the_evening_says_why_nothing_follows(march: Planned) -> None:
    task, evening = march.task, march.evening
    assert task is not None
    order = order_stops(task.targets[:3], task.span, task.handling)
    idle = order_quality(task, order).idle
    assert idle is not None
    assert not idle.enough
    assert idle.begin == task.at(order.stops[-1].end_s)
    words = order_words(order_quality(task, order))
    assert f"From {own_clock(idle.begin)} on nothing" in words
    full = replace(task, span=replace(task.span, most=3))
    assert f"'{words_for('habits.most_stops')}'" in order_words(order_quality(full, order))
    assert evening.order.idle is None or evening.order.idle.begin == evening.stops[-1].end
