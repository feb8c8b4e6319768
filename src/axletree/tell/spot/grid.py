"""How good is each place of the yard, as a table that a page can tint and ask about?"""

from __future__ import annotations

from typing import Any

import numpy as np

from axletree.stages.set_up.spot import SpotAnswer

NOT_ALLOWED, NOT_ACCEPTABLE = -2, -1


def spot_grid(answer: SpotAnswer) -> dict[str, Any]:
    """Columns x, rows y (metres), scores 0-100 rounded; -1 not to be used, -2 no place at all.

    `pole_clearance_deg` has the pole star's least height above the skyline to a degree, and
    `object_hours` the hours in which objects stand clear, together, in the same rows.
    """
    scores = answer.scores
    score = np.where(scores.acceptable, np.nan_to_num(scores.score), NOT_ACCEPTABLE)
    score = np.where(scores.allowed, score, NOT_ALLOWED)
    hours = np.nan_to_num(scores.hours_clear.sum(axis=0))
    clearance = np.nan_to_num(scores.pole_clearance_deg)
    return {
        "spacing_m": scores.spacing_m,
        "x_m": [round(float(x), 3) for x in scores.x_m],
        "y_m": [round(float(y), 3) for y in scores.y_m],
        "score": np.round(score).astype(int).tolist(),
        "pole_clearance_deg": np.round(clearance).astype(int).tolist(),
        "object_hours": np.round(hours).astype(int).tolist(),
        "open_object_hours": round(answer.open_object_hours, 1),
        "turn_deg": float(answer.plan.turn_deg),
    }
