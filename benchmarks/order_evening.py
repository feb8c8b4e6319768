"""How good is the order of an evening, how soon, and how long does judging the catalogue take?

python benchmarks/order_evening.py [--seconds 2] [--lists 3]

Lists of random objects that are really up: directions from spherical astronomy at latitude 38.6,
a wavy skyline, both tube sides, three eyepieces, what sets made urgent. "ample": 40 objects in 6
hours, 5 minutes each, all of them fit; "tight": 9 or 15 minutes each, so that a fifth to half is
left out. The gap is to the bound that the method itself proves. OR-tools' constraint solver is
timed beside it on the relaxed task (an interval an object, padded by its cheapest move, no
sequence, no urgency), and the gap of our best order to its bound is given. On the whole task (a
circuit through all options) it improved no order in 60 s.

2026-12-01, 2 processors shared with others, 4 lists each, gap mean (worst); auto has 0.4 s of work:
  ample          quick 2.6 % (3.0 %), auto 2.2 % (2.5 %), thorough 0.60 % (0.77 %)
  tight, 9 min   quick 3.6 % (4.2 %), auto 1.8 % (2.8 %), thorough 0.57 % (0.81 %)
  tight, 15 min  quick 6.4 % (8.3 %), auto 1.5 % (1.7 %), thorough 0.44 % (0.65 %)
  constraint solver's bound alone: 2.7, 3.3 and 5.7 %; knapsack alone 2.6, 3.2 and 6.4 %
  short, 10 objects in 2 hours: proven best in 0.25 s of processor time
  replan of 40 objects 0.2 s; 12,000 objects x 13 moments x 3 eyepieces judged in 0.12 s
"""

from __future__ import annotations

import argparse
import importlib.util
import resource
import time
from dataclasses import fields

import numpy as np

from axletree.evening.order.candidates import Opening, Order, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import OrderProblem, problem_of
from axletree.evening.search.knapsack import cheapest_moves, quick_bound
from axletree.evening.search.quick import solve_quickly
from axletree.evening.seeing.eyepiece import views_of
from axletree.evening.seeing.visibility import (
    CLUSTER,
    EXTENDED,
    GALAXY,
    GLOBULAR,
    POINT,
    Looks,
    margins,
)
from axletree.evening.sequence.best import order_stops
from axletree.evening.sequence.replan import Now, replan
from axletree.kit.kit import demo_kit

LATITUDE_DEG, SIDEREAL_AT_START_H = 38.6, 22.0
TASKS = {  # objects, hours, seconds at the eyepiece
    "ample, 40 in 6 h": (40, 6.0, 300.0),
    "tight, 9 min": (40, 6.0, 540.0),
    "tight, 15 min": (40, 6.0, 900.0),
    "short, 10 in 2 h": (10, 2.0, 540.0),
}


def evening(count: int, hours: float, show_s: float, seed: int) -> tuple[list[Target], OrderSpan]:
    """Objects that stand above a wavy skyline for long enough, at random places."""
    random = np.random.default_rng(seed)
    seconds = np.arange(0.0, hours * 3600.0 + 1.0, 60.0)
    targets: list[Target] = []
    phi = np.radians(LATITUDE_DEG)
    while len(targets) < count:
        ra, sin_dec = random.uniform(0, 24), random.uniform(-0.5, 0.95)
        H = (SIDEREAL_AT_START_H + seconds / 3590.17 - ra + 12.0) % 24.0 - 12.0
        cos_dec = np.sqrt(1.0 - sin_dec**2)
        sin_alt = np.sin(phi) * sin_dec + np.cos(phi) * cos_dec * np.cos(H * np.pi / 12.0)
        up = np.degrees(np.arcsin(sin_alt)) > 15.0 + 8.0 * abs(np.sin(2.0 * ra))
        openings = []
        for side, free in (("west", up & (H < 0.7)), ("east", up & (H > -0.7))):
            edges = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(int)))
            for a, b in zip(edges[::2], edges[1::2] - 1, strict=True):
                if seconds[b] - seconds[a] >= show_s:
                    openings.append(Opening(side, float(seconds[a]), float(seconds[b])))
        if openings:
            targets.append(
                Target(
                    key=f"object {len(targets)}",
                    value=float(random.uniform(20, 100)),
                    show_s=show_s,
                    openings=tuple(openings),
                    right_ascension_h=ra,
                    declination_deg=float(np.degrees(np.arcsin(sin_dec))),
                    eyepiece=str(random.choice(["25 mm", "10 mm", "6 mm"])),
                    eye_height_mm=(random.uniform(900, 1800), random.uniform(900, 1800)),
                    urgency_points_per_h=0.0 if up[-1] else 3.0,
                )
            )
    return targets, OrderSpan(0.0, hours * 3600.0)


def timed(work: object, *given: object, **named: object) -> tuple[Order, float]:
    """An order and the processor seconds it took (the machine is shared with others)."""
    start = time.process_time()
    result = work(*given, **named)  # type: ignore[operator]
    return result, time.process_time() - start


def constraint_solver(problem: OrderProblem, seconds: float) -> float:
    """Bound in thousandths of points by OR-tools' constraint solver on the relaxed task."""
    from ortools.sat.python import cp_model

    into, annoy = cheapest_moves(problem)
    model = cp_model.CpModel()
    intervals, gains = [], []
    for number in sorted(set(problem.target.tolist())):
        options = np.flatnonzero(problem.target == number)
        chosen = model.new_bool_var("")
        pad = int(into[options].min())
        spans = [[int(problem.early[k]) - pad, int(problem.late[k]) - pad] for k in options]
        start = model.new_int_var_from_domain(cp_model.Domain.from_intervals(spans), "")
        length = pad + int(problem.show[options[0]])
        intervals.append(model.new_optional_fixed_size_interval_var(start, length, chosen, ""))
        gains.append(int((problem.worth[options] - annoy[options]).max()) * chosen)
    model.add_no_overlap(intervals)
    model.maximize(sum(gains))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = seconds
    solver.solve(model)
    return solver.best_objective_bound + float(annoy.max(initial=0))


def orders(seconds: float, lists: int, with_solver: bool) -> None:
    """Gaps and times of every method on every task; those of OR-tools where it is there."""
    print(f"{'task':18} {'method':20} {'gap mean':>9} {'worst':>7} {'proven':>7} {'cpu s':>6}")
    for task, (count, hours, show_s) in TASKS.items():
        rows: dict[str, list[tuple[float, float]]] = {}
        for seed in range(lists):
            targets, session = evening(count, hours, show_s, seed)
            best = 0.0
            for name, effort, limit in (
                ("quick", "quick", None), ("auto", "auto", None),
                (f"thorough, {seconds:g} s", "thorough", seconds),
            ):  # fmt: skip
                order, cpu = timed(
                    order_stops, targets, session, Handling(), effort=effort, seconds=limit
                )
                best = max(best, order.points)
                rows.setdefault(f"ours, {name}", []).append((order.gap, cpu))
            problem = problem_of(targets, session, Handling())
            if with_solver:
                start = time.process_time()
                bound = constraint_solver(problem, seconds) / 1000.0
                cpu = time.process_time() - start
                rows.setdefault("constraint solver", []).append((1.0 - best / bound, cpu))
            quick = solve_quickly(problem)
            loose = quick_bound(problem, quick) / 1000.0
            rows.setdefault("knapsack alone", []).append((1.0 - best / loose, 0.0))
        for method, found in rows.items():
            gaps = [gap for gap, _ in found]
            print(
                f"{task:18} {method:20} {np.mean(gaps):9.2%} {max(gaps):7.2%} "
                f"{sum(gap <= 0 for gap in gaps):4d}/{len(gaps)} "
                f"{np.mean([cpu for _, cpu in found]):6.2f}"
            )


def replans() -> None:
    """A new order in the middle of a long evening."""
    targets, session = evening(40, 6.0, 540.0, 0)
    order = order_stops(targets, session, Handling(), effort="quick")
    here = order.stops[5]
    now = Now(
        here.end_s,
        shown=tuple(stop.key for stop in order.stops[:5]),
        current=(here.key, here.side),
        stay_s=300.0,
        announced=tuple(stop.key for stop in order.stops[6:]),
    )
    _, cpu = timed(replan, targets, session, Handling(), now)
    print(f"replan, 40 objects: {cpu:.2f} s of processor time")


def judging() -> None:
    """12,000 objects at 13 moments through every eyepiece."""
    kit = demo_kit()
    random = np.random.default_rng(4)
    n, m = 12_000, 13
    sort = random.choice([CLUSTER, POINT, EXTENDED, GALAXY, GLOBULAR], n).astype(np.int8)
    unknown = {f.name: np.full(n, np.nan) for f in fields(Looks)}
    looks = Looks(
        **{
            **unknown, "sort": sort, "magnitude": random.uniform(3, 15, n),
            "major_arcmin": random.uniform(0.5, 60, n), "minor_arcmin": random.uniform(0.5, 30, n),
        }
    )  # fmt: skip
    sky, air = random.uniform(18, 21.5, (n, m)), random.uniform(1, 3, (n, m))
    views = views_of(kit)
    start = time.process_time()
    margins(kit, looks, views, sky, air)
    print(
        f"judging {n} objects x {m} moments x {len(views.labels)} eyepieces: "
        f"{time.process_time() - start:.2f} s of processor time"
    )


def main() -> None:
    """Everything, and the peak memory."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--seconds", type=float, default=2.0)
    parser.add_argument("--lists", type=int, default=3)
    parser.add_argument("--without-solver", action="store_true", help="not beside OR-tools")
    args = parser.parse_args()
    there = not args.without_solver and importlib.util.find_spec("ortools") is not None
    orders(args.seconds, args.lists, there)
    replans()
    judging()
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
