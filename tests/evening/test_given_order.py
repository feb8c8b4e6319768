"""The person's own order: held against trying every choice of tube sides and openings."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from axletree.evening.order.candidates import Opening, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import MILLI, TICK_S, problem_of
from axletree.evening.sequence.given import in_given_order
from axletree.evening.sequence.replan import Now, replan

HANDLING = Handling()
SESSION = OrderSpan(0.0, 3 * 3600.0)


def targets(seed: int, count: int = 5) -> list[Target]:
    random = np.random.default_rng(seed)
    made = []
    for k in range(count):
        openings = []
        for side in ("east", "west"):
            start = float(random.uniform(0, 6000))
            openings.append(Opening(side, start, start + float(random.uniform(900, 6000)),
                                    float(random.choice([0.0, -6.0]))))  # fmt: skip
        made.append(
            Target(
                key=f"object {k}", value=float(random.uniform(20, 90)), show_s=600.0,
                openings=tuple(openings), right_ascension_h=float(random.uniform(0, 24)),
                declination_deg=float(random.uniform(-20, 80)),
                urgency_points_per_h=float(random.choice([0.0, 2.0])),
            )
        )  # fmt: skip
    return made


def best_by_trying(listed: list[Target]) -> tuple[int, int] | None:
    """(points, idle ticks) of the best choice of options that shows all, by trying each."""
    problem = problem_of(listed, SESSION, HANDLING)
    options = [np.flatnonzero(problem.target == k).tolist() for k in range(len(listed))]
    price = HANDLING.points_per_min * MILLI * TICK_S / 60.0
    best = None
    for choice in itertools.product(*options):
        route = problem.run(choice)
        if route is None:
            continue
        idle = sum(b - a for a, b in zip(route.arrive, route.start, strict=True))
        found = (route.points - price * idle, route.points, idle)
        best = found if best is None else max(best, found)
    return None if best is None else (int(best[1]), int(best[2]))


@pytest.mark.parametrize("seed", range(40))
def test_best_sides_as_found_by_trying_all(seed: int) -> None:
    listed = targets(seed)
    keys = [w.key for w in listed]
    order = in_given_order(listed, SESSION, HANDLING, keys)
    tried = best_by_trying(listed)
    if tried is None:
        assert order.left_out
    else:
        assert not order.left_out
        assert [s.key for s in order.stops] == keys
        assert order.points == pytest.approx(tried[0] / MILLI)


def test_no_stop_outside_its_opening_and_none_before_its_turn() -> None:
    for seed in range(40):
        listed = targets(seed, 7)
        order = in_given_order(listed, SESSION, HANDLING, [w.key for w in listed])
        of = {w.key: w for w in listed}
        free = 0.0
        for stop in order.stops:
            assert any(
                o.side == stop.side and o.start_s - 0.1 <= stop.start_s
                and stop.end_s <= o.end_s + 0.1 for o in of[stop.key].openings
            )  # fmt: skip
            assert stop.arrive_s >= free
            free = stop.end_s


def test_what_comes_too_late_is_named_and_the_rest_goes_on() -> None:
    early = Target("sets", 50.0, 600.0, (Opening("west", 0.0, 1200.0),), 18.0, 10.0)
    long = Target("long", 50.0, 1500.0, (Opening("east", 0.0, 9000.0),), 2.0, 20.0)
    last = Target("last", 50.0, 600.0, (Opening("east", 0.0, 10000.0),), 3.0, 20.0)
    order = in_given_order([early, long, last], SESSION, HANDLING, ["long", "sets", "last"])
    assert [s.key for s in order.stops] == ["long", "last"]
    assert [(x.key, x.why) for x in order.left_out] == [("sets", "not in this order")]


def test_it_does_not_wait_an_hour_for_a_few_points() -> None:
    # Side west opens an hour later and is worth six points more: an idle hour costs sixty.
    sides = (Opening("east", 0.0, 9000.0, -6.0), Opening("west", 3600.0, 9000.0))
    one = Target("one", 50.0, 600.0, sides, 2.0, 20.0)
    order = in_given_order([one], SESSION, HANDLING, ["one"])
    assert order.stops[0].side == "east"
    assert order.stops[0].start_s < 60.0


def test_replan_keeps_the_given_order_and_shows_nothing_else() -> None:
    listed = [replace(w, openings=(Opening("east", 0.0, 10800.0),)) for w in targets(3)]
    given = ("object 4", "object 1", "object 3")
    new = replan(listed, SESSION, HANDLING, Now(600.0, shown=("object 1",), given=given))
    assert [s.key for s in new.order.stops] == ["object 4", "object 3"]
    assert new.order.stops[0].start_s >= 600.0
