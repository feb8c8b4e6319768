"""How long does it take to judge a yard of 20 m x 20 m at 25 cm for 40 objects? Must: under 2 s.

6,561 places, each with its own skyline in 720 directions from 12 obstacles, held against the
tracks of 40 objects every 6 minutes through a winter night, beside the plain way in numpy: one
place at a time with an exact skyline, its tracks looked up in it (a part of the places,
scaled up). 2-core machine, Python 3.11, numpy 2.4, 2026-11-25: 0.50 s of processor time; the
plain way 30 s or more. Tried and left: trigonometry per place and direction (25 times slower),
chunks of 128 to 2048 places (0.48-0.66 s), tiles instead of rows of places (5 % better).
"""

from __future__ import annotations

import time
from datetime import date

import numpy as np

from axletree.ground.skyline.skyline import open_horizon
from axletree.ground.skyline.yard import YardPlan, yard_horizon, yard_plan
from axletree.ground.spot.directions import SpotCriteria, WantedDirections, wanted_directions
from axletree.ground.spot.grid import SpotScores, score_places
from axletree.kit.kit import demo_kit
from axletree.kit.parts.site import Yard
from axletree.sky.observer import Observer
from axletree.sky.time.nights import Night

SIDE_M, SPACING_M, HEIGHT_M = 20.0, 0.25, 1.1
PLAIN_PLACES = 60


def yard() -> Yard:
    """Three walls, two roofs, four trees and three posts around the area."""
    return Yard.model_validate(
        {
            "area_m": ((0, 0), (SIDE_M, 0), (SIDE_M, SIDE_M), (0, SIDE_M)),
            "slope_percent": 2.0,
            "wall": [
                {"points_m": ((-2, -2), (-2, 22)), "height_m": 2.4},
                {"points_m": ((-2, 22), (10, 23), (22, 22)), "height_m": 1.8},
                {"points_m": ((22, -2), (22, 10)), "height_m": 2.0},
            ],
            "roof": [
                {"corners_m": ((24, 2), (32, 2), (32, 14), (24, 14)), "eaves_height_m": 3.0,
                 "ridge_height_m": 5.5},
                {"corners_m": ((0, -14), (14, -14), (14, -6), (0, -6)), "eaves_height_m": 3.2,
                 "ridge_height_m": 6.0},
            ],
            "tree": [
                {"x_m": x, "y_m": y, "height_m": 8, "crown_radius_m": 2.5, "crown_base_m": 2.2}
                for x, y in ((5, 24), (14, 26), (-5, 12), (25, 18))
            ],
            "post": [
                {"x_m": x, "y_m": y, "height_m": 6, "radius_m": 0.08}
                for x, y in ((10, 24), (-3, 4), (20, -4))
            ],
        }
    )  # fmt: skip


def judge(plan: YardPlan, wanted: WantedDirections) -> tuple[float, SpotScores]:
    """Seconds for the whole grid, and what came out."""
    start = time.perf_counter()
    scores = score_places(plan, open_horizon(2.0), wanted, HEIGHT_M, SPACING_M)
    return time.perf_counter() - start, scores


def plain(plan: YardPlan, wanted: WantedDirections) -> float:
    """Seconds for the whole grid, one place after the other, from a part of it."""
    rng = np.random.default_rng(1)
    start = time.perf_counter()
    for place in rng.uniform(0, SIDE_M, (PLAIN_PLACES, 2)):
        line = yard_horizon(plan, (float(place[0]), float(place[1])), HEIGHT_M)
        clear = wanted.altitude_deg > np.maximum(line.altitude_at(wanted.azimuth_deg), 15.0)
        clear.sum(axis=1)
    count = (SIDE_M / SPACING_M + 1) ** 2
    return (time.perf_counter() - start) / PLAIN_PLACES * count


def main() -> None:
    """Print both times and their ratio."""
    kit = demo_kit("courtyard")
    observer = Observer(kit.site.latitude_deg, kit.site.longitude_deg, kit.site.elevation_m)
    wanted = wanted_directions(
        kit, Night.of(date(2026, 12, 5), kit.site.zone), observer, SpotCriteria()
    )
    plan = yard_plan(yard())
    judge(plan, wanted)
    times, scores = [], None
    for _ in range(5):
        seconds, scores = judge(plan, wanted)
        times.append(seconds)
    assert scores is not None
    slow = plain(plan, wanted)
    quick = float(np.median(times))
    print(
        f"spot grid: {int(scores.allowed.sum())} places, {len(wanted.names)} objects, "
        f"{wanted.azimuth_deg.shape[1]} moments: {quick:.2f} s (must: under 2 s); "
        f"one place at a time {slow:.1f} s, {slow / quick:.0f} times longer"
    )


if __name__ == "__main__":
    main()
