"""What is lost a step away from the best place, and what stands in the way elsewhere?"""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.ground.skyline.skyline import Horizon
from axletree.ground.skyline.yard import YardPlan, blockers
from axletree.ground.spot.directions import WantedDirections
from axletree.ground.spot.grid import SpotScores
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_360

_DEG = np.pi / 180.0


class PlaceVerdict(Enum):
    """Whether a place may be used, or why not."""

    USABLE = "usable"
    NO_ROOM = "no_room"
    POLE_HIDDEN = "pole_hidden"
    NO_OBJECT = "no_object"


@dataclass(frozen=True)
class StepAway:
    """What one step in a direction (true azimuth) costs: points of score, hours of objects."""

    azimuth_deg: float
    distance_m: float
    verdict: PlaceVerdict
    score_lost: float
    hours_lost: float
    pole_clearance_deg: float


@dataclass(frozen=True)
class Blocker:
    """What hides a direction, and from which share of the places.

    `name` is an obstacle's of the plan, None for the measured skyline beyond it.
    """

    name: str | None
    share: float


@dataclass(frozen=True)
class NearestMiss:
    """Where the pole is least hidden, and its (negative or small) clearance there."""

    x_m: float
    y_m: float
    pole_clearance_deg: float


def verdict_at(scores: SpotScores, wanted: WantedDirections, row: int, column: int) -> PlaceVerdict:
    """Whether the place in this row and column may be used; beyond the grid there is no room."""
    within = 0 <= row < len(scores.y_m) and 0 <= column < len(scores.x_m)
    if not (within and scores.allowed[row, column]):
        return PlaceVerdict.NO_ROOM
    if scores.acceptable[row, column]:
        return PlaceVerdict.USABLE
    clearance = float(scores.pole_clearance_deg[row, column])
    if wanted.pole_needed and clearance < wanted.pole_margin_deg:
        return PlaceVerdict.POLE_HIDDEN
    return PlaceVerdict.NO_OBJECT


def steps_away(
    scores: SpotScores, wanted: WantedDirections, turn_deg: float = 0.0, step_m: float = 1.0
) -> tuple[StepAway, ...]:
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
        verdict = verdict_at(scores, wanted, r, c)
        room = verdict is not PlaceVerdict.NO_ROOM
        steps.append(
            StepAway(
                azimuth_deg=float(wrap_360(plan_azimuth + turn_deg)),
                distance_m=step_m,
                verdict=verdict,
                score_lost=float(here - scores.score[r, c]) if room else 0.0,
                hours_lost=float(total[row, column] - total[r, c]) if room else 0.0,
                pole_clearance_deg=float(scores.pole_clearance_deg[r, c]) if room else 0.0,
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
) -> tuple[Blocker, ...]:
    """What hides a direction at the places (n, 2), most frequent first.

    Where the measured far skyline alone would hide it, that is named, since another place won't
    help.
    """
    if not len(places_m):
        return ()
    which, top = blockers(plan, places_m, height_m, azimuth_deg)
    far = float(horizon.altitude_at(azimuth_deg))
    names = [shape.name for shape in plan.shapes]
    blocked: dict[str | None, int] = {}
    for i, altitude in zip(which, top, strict=True):
        if max(altitude, far) < altitude_deg:
            continue
        name = None if far >= altitude_deg else names[int(i)]
        blocked[name] = blocked.get(name, 0) + 1
    found = [Blocker(name, count / len(places_m)) for name, count in blocked.items()]
    return tuple(sorted(found, key=lambda blocker: -blocker.share))


def nearest_miss(scores: SpotScores) -> NearestMiss | None:
    """Where the pole is least hidden; None where no tripod may stand at all."""
    if not scores.allowed.any():
        return None
    row, column = np.unravel_index(
        int(np.nanargmax(scores.pole_clearance_deg)), scores.allowed.shape
    )
    return NearestMiss(
        float(scores.x_m[column]),
        float(scores.y_m[row]),
        float(scores.pole_clearance_deg[row, column]),
    )
