"""The order of the stops, held against an exhaustive search that shares no code with it.

The search below knows only the task's rules, in plain clock time: it tries every selection, every
sequence and every tube side. Rules of moving are written out again from the geometry.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from axletree.evening.order.candidates import Opening, Order, OrderSpan, Target
from axletree.evening.order.moving import Handling, StopPose, axis_travel_deg, handling_of
from axletree.evening.sequence.best import Effort, order_stops
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit

HANDLING = Handling()
MIN = 60.0


# ---------------------------------------------------------------- the independent search


def _up(seconds: float) -> float:
    """To the next quarter of a minute, the clock in which the plan is made."""
    return math.ceil(seconds / 15.0 - 1e-9) * 15.0


def _move(a: Target, side_a: str, b: Target, side_b: str) -> tuple[float, float]:
    """Seconds and points of one move, written out from the rig's geometry.

    The hour axis reads hour angle - 6 h with the tube east, + 6 h with it west; both hour angles
    run on together, so their difference is that of the right ascensions.
    """
    turn = (a.right_ascension_h - b.right_ascension_h + 12.0) % 24.0 - 12.0
    reading = turn + {("east", "west"): 12.0, ("west", "east"): -12.0}.get((side_a, side_b), 0.0)
    pole_a, pole_b = 90.0 - a.declination_deg, 90.0 - b.declination_deg
    through = pole_a + pole_b if side_a != side_b else abs(pole_a - pole_b)
    h = HANDLING
    seconds = h.find_s + h.focus_s
    seconds += abs(reading) * 15.0 / h.hour_deg_per_s + through / h.declination_deg_per_s
    points = 0.0
    if side_a != side_b:
        seconds, points = seconds + h.side_change_s, points + h.side_change_points
    if a.eyepiece != b.eyepiece:
        seconds, points = seconds + h.eyepiece_change_s, points + h.eyepiece_change_points
    eye_a = a.eye_height_mm[0 if side_a == "east" else 1]
    eye_b = b.eye_height_mm[0 if side_b == "east" else 1]
    if eye_a is not None and eye_b is not None and abs(eye_a - eye_b) > h.stool_step_mm:
        seconds, points = seconds + h.stool_s, points + h.stool_points
    return seconds, points + seconds / 60.0 * h.points_per_min


def _work(start: float, seconds: float, breaks: tuple[tuple[float, float], ...]) -> float:
    """When `seconds` of work begun at `start` are done, breaks not counting as work."""
    for low, high in sorted(breaks):
        if start + seconds <= low:
            break
        if start < high:
            seconds -= max(0.0, low - start)
            start = high
    return start + seconds


def _begin(ready: float, opening: Opening, show: float, session: OrderSpan) -> float | None:
    """The earliest clock time at which a show can run in this opening, clear of breaks."""
    start = max(ready, opening.start_s, session.start_s)
    for low, high in sorted(session.breaks):
        if start < high and start + show > low:
            start = high
    return start if start + show <= min(opening.end_s, session.end_s) else None


def _waited(start: float, session: OrderSpan) -> float:
    """Seconds of the session before `start`, breaks left out."""
    gone = sum(max(0.0, min(high, start) - low) for low, high in session.breaks if low < start)
    return start - session.start_s - gone


def search(
    targets: list[Target], session: OrderSpan, most: int = 99, stop_points: float = 0.0
) -> tuple[int, float]:
    """Most must-see objects, then most points, over every order of up to `most` stops there is.

    Each stop is worth its value less `stop_points`, a fifth of its value at least.
    """
    best = (0, 0.0)

    def grow(shown: frozenset[int], last: tuple[int, str] | None, time: float, musts: int,
             points: float) -> None:  # fmt: skip
        nonlocal best
        best = max(best, (musts, points))
        if len(shown) == most:
            return
        for i, target in enumerate(targets):
            if i in shown:
                continue
            for opening in target.openings:
                ready, cost = time, 0.0
                if last is not None:
                    seconds, cost = _move(targets[last[0]], last[1], target, opening.side)
                    ready = _work(time, _up(seconds), session.breaks)
                start = _begin(ready, opening, target.show_s, session)
                if start is None:
                    continue
                worth = target.value + opening.value_change
                gain = max(worth - stop_points, worth / 5.0) - cost
                gain -= target.urgency_points_per_h * _waited(start, session) / 3600.0
                grow(shown | {i}, (i, opening.side), start + target.show_s,
                     musts + target.must, points + gain)  # fmt: skip

    grow(frozenset(), None, session.start_s, 0, 0.0)
    return best


def random_case(seed: int) -> tuple[list[Target], OrderSpan]:
    """A short list with tight openings, everything on the quarter of a minute."""
    random = np.random.default_rng(seed)
    n = int(random.integers(1, 9))
    length = float(random.integers(160, 420)) * 15.0
    targets = []
    for i in range(n):
        show = float(random.integers(12, 40)) * 15.0
        openings = []
        for _ in range(int(random.integers(1, 3))):
            low = float(random.integers(-40, int(length / 15.0))) * 15.0
            side = "east" if random.random() < 0.5 else "west"
            size = float(random.integers(30, 260)) * 15.0
            change = float(random.choice([0.0, -5.0, 3.0]))
            openings.append(Opening(side, low, low + size, change))
        targets.append(
            Target(
                key=f"object {i}",
                value=float(random.integers(10, 100)),
                show_s=show,
                openings=tuple(openings),
                right_ascension_h=float(random.uniform(0, 24)),
                declination_deg=float(random.uniform(-30, 85)),
                eyepiece=str(random.choice(["25 mm", "10 mm"])),
                eye_height_mm=(float(random.uniform(900, 1700)), float(random.uniform(900, 1700))),
                urgency_points_per_h=float(random.choice([0.0, 1.2, 2.4, 6.0])),
                must=bool(random.random() < 0.15),
            )
        )
    breaks: tuple[tuple[float, float], ...] = ()
    if random.random() < 0.4:
        low = float(random.integers(20, int(length / 15.0) - 10)) * 15.0
        breaks = ((low, low + float(random.integers(10, 60)) * 15.0),)
    return targets, OrderSpan(0.0, length, breaks)


def check_rules(targets: list[Target], session: OrderSpan, order: Order) -> None:
    """Every stop keeps the rules, whatever the order is worth."""
    of = {target.key: target for target in targets}
    assert len({stop.key for stop in order.stops}) == len(order.stops)
    assert {s.key for s in order.stops} | {x.key for x in order.left_out} == set(of)
    for stop in order.stops:
        target = of[stop.key]
        assert stop.end_s - stop.start_s >= target.show_s
        fits = [
            o for o in target.openings
            if o.side == stop.side and o.start_s <= stop.start_s and stop.end_s <= o.end_s
        ]  # fmt: skip
        assert fits, f"{stop.key}: its room ends before its queue does"
        assert stop.end_s <= stop.room_end_s
        assert session.start_s <= stop.start_s <= stop.end_s <= session.end_s
        for low, high in session.breaks:
            assert stop.end_s <= low or stop.start_s >= high
    for a, b in pairwise(order.stops):
        seconds, _ = _move(of[a.key], a.side, of[b.key], b.side)
        assert _work(a.end_s, seconds, session.breaks) <= b.start_s + 1e-6


# ---------------------------------------------------------------- held against the search


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_best_order_against_exhaustive_search(first: int) -> None:
    """200 random lists of up to 8 objects: the proven best is the best that there is."""
    for seed in range(first, first + 20):
        targets, session = random_case(seed)
        order = order_stops(targets, session, HANDLING, effort="exact")
        check_rules(targets, session, order)
        musts, points = search(targets, session)
        shown = {stop.key for stop in order.stops}
        assert sum(target.must for target in targets if target.key in shown) == musts, seed
        # Points are kept in thousandths, one rounding a move and a value.
        assert order.points == pytest.approx(points, abs=0.02), seed
        assert order.proven_best
        assert order.gap == 0.0


@pytest.mark.parametrize("first", range(0, 60, 20))
def test_other_methods_against_exhaustive_search(first: int) -> None:
    """No method beats the best, none claims a bound below it, and the quick one comes close."""
    lost = []
    for seed in range(first, first + 20):
        targets, session = random_case(seed)
        targets = [replace(target, must=False) for target in targets]
        _, points = search(targets, session)
        order = order_stops(targets, session, HANDLING, effort="quick")
        check_rules(targets, session, order)
        assert order.points <= points + 0.02
        assert order.bound_points >= points - 0.02, seed
        lost.append(points - order.points)
        if order.proven_best:
            assert order.points == pytest.approx(points, abs=0.02)
    assert sum(loss < 0.02 for loss in lost) >= 19


@pytest.mark.parametrize("effort", ["exact", "quick"])
def test_as_many_stops_as_are_wanted_against_exhaustive_search(effort: Effort) -> None:
    """The exact method finds the best order of so few stops, the quick one comes close, and no
    bound falls below the best. Each stop pays for people's patience."""
    handling, lost = replace(HANDLING, stop_points=20.0), []
    for seed in range(40):
        targets, session = random_case(seed)
        targets = [replace(target, must=target.must and effort == "exact") for target in targets]
        session = replace(session, most=2 + seed % 2)
        order = order_stops(targets, session, handling, effort=effort)
        check_rules(targets, session, order)
        assert len(order.stops) <= 2 + seed % 2
        musts, points = search(targets, session, 2 + seed % 2, 20.0)
        shown = {stop.key for stop in order.stops}
        assert sum(target.must for target in targets if target.key in shown) == musts, seed
        assert order.points <= points + 0.02
        assert order.bound_points >= points - 0.02, seed
        lost.append(points - order.points)
    assert sum(loss < 0.02 for loss in lost) >= (40 if effort == "exact" else 38)


def test_two_fillers_are_no_showpiece() -> None:
    """An hour of a few splendid things is better than one of many middling ones (common practice,
    no source), but where nothing better fits a filler is shown."""
    splendid = Target("splendid", 88.0, 900.0, (Opening("east", 0, 1200),), 5.0, 10.0)
    fillers = [
        Target(f"filler {k}", 48.0, 400.0, (Opening("east", 0, 1200),), 5.0, 10.0) for k in (1, 2)
    ]
    span, at_home = OrderSpan(0.0, 1200.0), handling_of(demo_kit("courtyard"))
    handling = replace(HANDLING, stop_points=at_home.stop_points)
    assert [s.key for s in order_stops([*fillers, splendid], span, handling).stops] == ["splendid"]
    assert len(order_stops(fillers, span, handling).stops) == 2


def test_the_bound_against_the_exact_method() -> None:
    """Ten objects' worth of evening: orders and bounds agree with dynamic programming."""
    from axletree.evening.order.problem import problem_of
    from axletree.evening.search.bound import bounded
    from axletree.evening.search.exact import solve_exactly
    from axletree.evening.search.knapsack import quick_bound
    from axletree.evening.search.quick import solve_quickly

    for seed in range(8):
        targets, session = random_case(1000 + seed)
        problem = problem_of(targets, session, HANDLING)
        best = solve_exactly(problem)
        if len(best.options) < 2:
            continue
        quick = solve_quickly(problem, rounds=5)
        for route, bound in (
            bounded(problem, quick, quick_bound(problem, quick), 0.05),
            bounded(problem, quick, quick_bound(problem, quick), 0.1, thorough=True),
        ):
            assert route.rank <= best.rank
            if route.musts == best.musts:
                assert bound >= best.points


def test_bounds_hold_whatever_route_they_start_from() -> None:
    """From an empty route, no bound may fall below the best order: it is no echo of the route."""
    from axletree.evening.order.problem import Route, problem_of
    from axletree.evening.search.bound import bounded
    from axletree.evening.search.knapsack import quick_bound

    empty = Route((), (), (), 0, 0)
    for seed in range(200, 230):
        targets, session = random_case(seed)
        targets = [replace(target, must=False) for target in targets]
        _, points = search(targets, session)
        problem = problem_of(targets, session, HANDLING)
        loose = quick_bound(problem, empty)
        assert problem.points(loose) >= points - 0.02
        route, bound = bounded(problem, empty, loose, 0.02)
        assert problem.points(bound) >= points - 0.02
        assert problem.points(route.points) <= points + 0.02


def test_forty_objects_gap_and_rules() -> None:
    """A long list: all rules kept, the gap honest and small, the same order twice."""
    targets, session = long_evening(seed=3)
    order = order_stops(targets, session, HANDLING, effort="thorough", seconds=1.0)
    check_rules(targets, session, order)
    assert order.method == "bounded"
    assert 0.0 <= order.gap < 0.03
    again = order_stops(targets, session, HANDLING, effort="thorough", seconds=1.0)
    assert again == order
    quick = order_stops(targets, session, HANDLING, effort="quick")
    assert quick.points <= order.points <= order.bound_points <= quick.bound_points


def long_evening(seed: int) -> tuple[list[Target], OrderSpan]:
    random = np.random.default_rng(seed)
    hours = 5.0
    targets = []
    for i in range(40):
        middle = random.uniform(-1.0, hours + 1.0) * 3600.0
        half = random.uniform(1.0, 3.0) * 3600.0
        targets.append(
            Target(
                key=f"object {i}",
                value=float(random.uniform(20, 100)),
                show_s=540.0,
                openings=(
                    Opening("west", middle - half, middle + 1200.0),
                    Opening("east", middle - 1200.0, middle + half),
                ),
                right_ascension_h=float(random.uniform(0, 24)),
                declination_deg=float(random.uniform(-25, 80)),
                eyepiece=str(random.choice(["25 mm", "10 mm"])),
            )
        )
    return targets, OrderSpan(0.0, hours * 3600.0)


# ---------------------------------------------------------------- what it says


def one(key: str, **changes: object) -> Target:
    """A plain target, free all evening on both sides."""
    both = (Opening("east", 0.0, 3600.0), Opening("west", 0.0, 3600.0))
    return replace(Target(key, 50.0, 600.0, both, 5.0, 20.0), **changes)


def test_reasons_for_what_was_left_out() -> None:
    session = OrderSpan(0.0, 20 * MIN)
    targets = [
        one("kept", value=90.0),
        one("never", openings=()),
        one("after the end", openings=(Opening("east", 3000.0, 9000.0),)),
        one("short", openings=(Opening("east", 0.0, 300.0),)),
        one("second best", value=40.0),
    ]
    order = order_stops(targets, session, HANDLING)
    assert [stop.key for stop in order.stops] == ["kept"]
    why = {x.key: x for x in order.left_out}
    assert why["never"].why == "never open"
    assert why["after the end"].why == "never open"
    assert (why["short"].why, why["short"].room_s) == ("room too short", 300.0)
    assert why["second best"].why == "worth less"
    assert why["second best"].instead_of == ("kept",)


def test_a_promised_stop_is_not_named_as_the_one_to_give_up() -> None:
    """Of two stops the free one has to make room, although the pinned one is worth less."""
    targets = [one("pinned", value=5.0, must=True), one("free", value=60.0), one("out", value=40.0)]
    order = order_stops(targets, OrderSpan(0.0, 22 * MIN), HANDLING)
    assert {stop.key for stop in order.stops} == {"pinned", "free"}
    assert order.left_out[0].instead_of == ("free",)


def test_what_sets_comes_first() -> None:
    """Two objects for which there is time: the one that cannot wait is shown first."""
    early = one("sets", openings=(Opening("east", 0.0, 15 * MIN),), value=20.0)
    late = one("stays", value=90.0)
    order = order_stops([late, early], OrderSpan(0.0, 60 * MIN), HANDLING)
    assert [stop.key for stop in order.stops] == ["sets", "stays"]
    # Urgency alone decides where both fit either way.
    urgent = one("sets later", urgency_points_per_h=6.0, value=20.0)
    order = order_stops([late, urgent], OrderSpan(0.0, 60 * MIN), HANDLING)
    assert [stop.key for stop in order.stops] == ["sets later", "stays"]


def test_must_see_before_points_and_said_when_impossible() -> None:
    dear = [one(f"dear {i}", value=90.0) for i in range(3)]
    promised = one("promised", value=1.0, must=True)
    order = order_stops([*dear, promised], OrderSpan(0.0, 12 * MIN), HANDLING)
    assert [stop.key for stop in order.stops] == ["promised"]
    impossible = one("impossible", must=True, openings=(Opening("east", 0.0, 300.0),))
    order = order_stops([*dear, impossible], OrderSpan(0.0, 12 * MIN), HANDLING)
    assert next(x for x in order.left_out if x.must).why == "room too short"


def test_more_pinned_objects_than_time() -> None:
    targets = [one(f"pinned {i}", must=True, value=10.0 + i) for i in range(12)]
    session = OrderSpan(0.0, 40 * MIN)
    order = order_stops(targets, session, HANDLING, effort="auto")
    check_rules(targets, session, order)
    # 10 minutes each and 70 s for a move to the same place: three fit into 40 minutes.
    assert len(order.stops) == 3
    assert all(x.must for x in order.left_out)
    assert {stop.key for stop in order.stops} == {"pinned 9", "pinned 10", "pinned 11"}


def test_breaks_are_kept_free_but_a_move_may_go_on_around_them() -> None:
    session = OrderSpan(0.0, 60 * MIN, breaks=((11 * MIN, 21 * MIN),))
    order = order_stops([one("a"), one("b")], session, HANDLING)
    check_rules([one("a"), one("b")], session, order)
    assert len(order.stops) == 2
    second = order.stops[1]
    # 70 s of moving: 60 s are left before the break, the rest (to the next tick) after it.
    assert second.start_s == pytest.approx(21 * MIN + 15.0)


def test_nothing_to_show_is_an_empty_order() -> None:
    session = OrderSpan(0.0, 60 * MIN)
    for effort in ("auto", "quick", "exact", "thorough"):
        order = order_stops([], session, HANDLING, effort=effort)
        assert (order.stops, order.left_out, order.points) == ((), (), 0.0)
        assert order.proven_best
    apart = [one("a", openings=(Opening("east", 7200.0, 9000.0),)), one("b", openings=())]
    order = order_stops(apart, session, HANDLING, effort="thorough")
    assert order.stops == ()
    assert [x.why for x in order.left_out] == ["never open", "never open"]


@pytest.mark.parametrize(
    ("targets", "session", "word"),
    [
        ([one("twice"), one("twice")], OrderSpan(0.0, 3600.0), "twice"),
        ([one("free", value=0.0)], OrderSpan(0.0, 3600.0), "value"),
        ([one("free", value=math.nan)], OrderSpan(0.0, 3600.0), "value"),
        ([one("instant", show_s=0.0)], OrderSpan(0.0, 3600.0), "eyepiece"),
        ([one("late", urgency_points_per_h=-1.0)], OrderSpan(0.0, 3600.0), "urgency"),
        ([one("a")], OrderSpan(3600.0, 0.0), "session"),
    ],
)
def test_bad_input_is_refused_in_one_line(
    targets: list[Target], session: OrderSpan, word: str
) -> None:
    with pytest.raises(AxletreeError, match=word):
        order_stops(targets, session, HANDLING)


def test_change_of_side_goes_through_the_pole_with_the_weights_low() -> None:
    """Facts of the machine: an object on the meridian changes sides by half a turn of the hour
    axis and twice its pole distance; in the south the pole distance counts from the south."""
    east, west = StopPose(6.0, 40.0, "east"), StopPose(6.0, 40.0, "west")
    hour, declination = axis_travel_deg([east], [west], north=True)
    assert (hour[0, 0], declination[0, 0]) == (180.0, 100.0)
    hour, declination = axis_travel_deg([east], [west], north=False)
    assert declination[0, 0] == 260.0
    # One hour later in right ascension, same side: 15 degrees, however the day turns over.
    hour, _ = axis_travel_deg(
        [StopPose(23.5, 0.0, "east")], [StopPose(0.5, 0.0, "east")], north=True
    )
    assert hour[0, 0] == pytest.approx(15.0)
