"""Are many orders gone through at once worth what each is worth alone?"""

from __future__ import annotations

import numpy as np

from axletree.evening.order.candidates import Opening, OrderSpan, Target
from axletree.evening.order.moving import Handling
from axletree.evening.order.problem import problem_of
from axletree.evening.search.trials import WaitPrice, merits_of

PRICE = WaitPrice(700, 20)


def test_as_each_order_run_alone() -> None:
    """Against `OrderProblem.run`, stop by stop, and the waits added up in plain numbers."""
    random = np.random.default_rng(5)
    targets = []
    for k in range(12):
        opens = float(random.integers(0, 9000))
        openings = tuple(
            Opening(side, opens, opens + float(random.integers(1500, 7000)))
            for side in ("east", "west")
        )
        targets.append(
            Target(
                key=f"t{k}", value=float(random.uniform(20, 90)), show_s=400.0, openings=openings,
                right_ascension_h=float(random.uniform(0, 24)),
                declination_deg=float(random.uniform(-20, 60)), eyepiece="25 mm",
                eye_height_mm=(1200.0, 1300.0), must=k % 5 == 0, urgency_points_per_h=3.0,
            )
        )  # fmt: skip
    problem = problem_of(targets, OrderSpan(0.0, 16000.0), Handling())
    orders = [
        random.permutation(len(problem.show))[: int(random.integers(0, 7))].tolist()
        for _ in range(5000)
    ]
    found = merits_of(problem, orders, PRICE)
    fitting = 0
    for k, order in enumerate(orders):
        route = problem.run(order)
        assert bool(found.fits[k]) == (route is not None)
        if route is None:
            continue
        fitting += 1
        waits = [max(0, b - a - 20) for a, b in zip(route.arrive, route.start, strict=True)]
        cost = 700 * sum(w + w * w // 40 for w in waits)
        assert (found.musts[k], found.points[k]) == (route.musts, route.points - cost)
    assert 500 < fitting < 4500
    ranks = [(int(m), int(p)) if f else (-1, 0) for f, m, p in zip(
        found.fits, found.musts, found.points, strict=True)]  # fmt: skip
    assert found.best() == ranks.index(max(ranks))


def test_none_fits() -> None:
    target = Target("a", 50.0, 400.0, (), 5.0, 10.0, "25 mm", (1200.0, 1300.0))
    problem = problem_of([target], OrderSpan(0.0, 1000.0), Handling())
    assert merits_of(problem, [], PRICE).best() is None
