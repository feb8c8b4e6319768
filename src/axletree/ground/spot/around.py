"""What is lost a step away from the best place, and what stands in the way elsewhere?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axletree.ground.skyline.skyline import Horizon
from axletree.ground.skyline.yard import YardPlan, blockers
from axletree.ground.spot.grid import SpotScores
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_360

_DEG = np.pi / 180.0


@dataclass(frozen=True)
class Step:
    """What one step in a direction (true azimuth) costs: points of score, hours of objects."""

    azimuth_deg: float
    distance_m: float
    allowed: bool
    acceptable: bool
    score_lost: float
    hours_lost: float
    pole_clearance_deg: float


def loss_around(scores: SpotScores, turn_deg: float = 0.0, step_m: float = 1.0) -> tuple[Step, ...]:
    """What a step to each of eight sides of the best place costs; empty without a best place.

    `turn_deg` leads from the plan's north to true north (`YardPlan.turn_deg`).
    """
    if scores.best is None:
        return ()
    row, column = scores.best
    steps = []
    total = scores.hours_clear.sum(axis=0)
    here = scores.score[row, column]
    for plan_azimuth in range(0, 360, 45):
        angle = plan_azimuth * _DEG
        r = row + round(step_m * np.cos(angle) / scores.spacing_m)
        c = column + round(step_m * np.sin(angle) / scores.spacing_m)
        within = 0 <= r < len(scores.y_m) and 0 <= c < len(scores.x_m)
        allowed = bool(within and scores.allowed[r, c])
        steps.append(
            Step(
                azimuth_deg=float(wrap_360(plan_azimuth + turn_deg)),
                distance_m=step_m,
                allowed=allowed,
                acceptable=bool(allowed and scores.acceptable[r, c]),
                score_lost=float(here - scores.score[r, c]) if allowed else 0.0,
                hours_lost=float(total[row, column] - total[r, c]) if allowed else 0.0,
                pole_clearance_deg=float(scores.pole_clearance_deg[r, c]) if allowed else 0.0,
            )
        )
    return tuple(steps)


def what_blocks(
    plan: YardPlan,
    horizon: Horizon,
    places_m: Floats,
    height_m: float,
    azimuth_deg: float,
    altitude_deg: float,
) -> list[tuple[str, float]]:
    """Which obstacles hide a direction, with the share of the places (n, 2) from which they do.

    Where the measured far skyline alone would hide it, that is named, since another place won't
    help. Most frequent first.
    """
    if not len(places_m):
        return []
    which, top = blockers(plan, places_m, height_m, azimuth_deg)
    far = float(horizon.altitude_at(azimuth_deg))
    names = [shape.name for shape in plan.shapes]
    blocked: dict[str, int] = {}
    for i, altitude in zip(which, top, strict=True):
        if max(altitude, far) < altitude_deg:
            continue
        name = "the measured skyline" if far >= altitude_deg else names[int(i)]
        blocked[name] = blocked.get(name, 0) + 1
    shares = [(name, count / len(places_m)) for name, count in blocked.items()]
    return sorted(shares, key=lambda item: -item[1])


def nearest_miss(scores: SpotScores) -> tuple[float, float, float] | None:
    """Where the pole is least hidden: x, y and its (negative or small) clearance in degrees."""
    if not scores.allowed.any():
        return None
    row, column = np.unravel_index(
        int(np.nanargmax(scores.pole_clearance_deg)), scores.allowed.shape
    )
    return (
        float(scores.x_m[column]),
        float(scores.y_m[row]),
        float(scores.pole_clearance_deg[row, column]),
    )
