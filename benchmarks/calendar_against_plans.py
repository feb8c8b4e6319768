"""Does the calendar's score say what the evening's own planner then finds?

python benchmarks/calendar_against_plans.py [--every 17] [--year 2027]

Of every 17th night of a year the evening is planned with all its stops, on both demo kits, and the
points of its stops are held against what the calendar says: its own stops' points, and its score,
which weighs the deep sky and the Moon for the audience as the planner doesn't. Printed are rank
correlations (scipy), the calendar's deep-sky figure against moonless dark hours, and how much of
the score the length of the evening alone explains.
"""

from __future__ import annotations

import argparse
from datetime import UTC, date, datetime, timedelta

import numpy as np
from scipy.stats import spearmanr

from axletree.evening.sequence.best import order_stops
from axletree.evening.sheet.plan import EveningRequest, prepare
from axletree.evening.year.nights_scored import score_nights
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import Observer, observer_of


def planned_points(kit: Kit, observer: Observer, day: date) -> float:
    """What the stops of the evening's own plan are worth together."""
    request = EveningRequest(day=day, made_at=datetime(2026, 1, 1, tzinfo=UTC))
    task = prepare(kit, observer, request).task
    if task is None:
        return 0.0
    order = order_stops(task.targets, task.span, task.handling, effort="quick")
    value = {target.key: target.value for target in task.targets}
    return sum(value[stop.key] for stop in order.stops)


def main() -> None:
    """Both demo kits."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--every", type=int, default=17)
    parser.add_argument("--year", type=int, default=2027)
    args = parser.parse_args()
    first, last = date(args.year, 1, 1), date(args.year, 12, 31)
    for name in ("courtyard", "paddock"):
        kit = demo_kit(name)
        observer = observer_of(kit.site)
        nights = score_nights(kit, observer, first, last).nights
        days = range(0, len(nights), args.every)
        plans = [planned_points(kit, observer, first + timedelta(days=k)) for k in days]
        stops = [nights[k].stop_points for k in days]
        score = [nights[k].score for k in days]
        dark = spearmanr([n.deep_sky for n in nights], [n.moonless_dark_h for n in nights])
        print(f"{name}: {len(plans)} evenings planned")
        print(f"  stops' points of calendar and plan: rank correlation {rank(stops, plans):.2f}")
        print(f"  score and plan's points: {rank(score, plans):.2f}")
        print(f"  deep sky and moonless dark hours, {len(nights)} nights: {dark[0]:.2f}")
        hours, all_scores = [n.session_h for n in nights], [n.score for n in nights]
        if np.ptp(hours) > 0.01:
            explained = np.corrcoef(hours, all_scores)[0, 1] ** 2
            print(f"  of the score the evening's length alone explains {explained:.0%}")


def rank(one: list[float], other: list[float]) -> float:
    """Spearman's rank correlation."""
    return float(spearmanr(one, other)[0])


if __name__ == "__main__":
    main()
