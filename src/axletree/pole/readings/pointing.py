"""What do measurements of the axis and of the circles tell the pointing model?"""

from __future__ import annotations

import math
from datetime import datetime

import numpy as np

from axletree.axis.model import KnownBy, PointingModel, learned
from axletree.axis.unknowns import HIGH, UNKNOWNS, ModelPart
from axletree.axis.voids import Moved, void
from axletree.pole.readings.observed import USUAL_FAULTS, UsualFaults
from axletree.pole.readings.solve import ReadingsSolution
from axletree.pole.solution.estimate import AxisEstimate

_SET = {
    ModelPart.INDEX_HOUR: Moved.HOUR_CIRCLE, ModelPart.INDEX_DECLINATION: Moved.DECLINATION_CIRCLE,
}  # fmt: skip


def with_readings(
    model: PointingModel, solved: ReadingsSolution, at: datetime, usual: UsualFaults = USUAL_FAULTS
) -> PointingModel:
    """The model with all six figures of a solution from circle readings, and what ties them.

    A circle that the readings tell of for the first time was set who knows how: what was thought
    of it before doesn't count. Faults that the solution assumed, with spreads `usual`, keep what
    the model has of them.
    """
    known = tuple(part for part in ModelPart if _told(solved, part))
    for part, moved in _SET.items():
        if part in known and model.known_of(part).by is not KnownBy.MEASURED:
            model = void(model, moved, at)
    information = solved.information.copy()
    pull = information @ solved.values
    spreads = {ModelPart.CONE: usual.cone_arcmin, ModelPart.LEAN: usual.lean_arcmin}
    for part, spread in spreads.items():
        if part.value in solved.assumed:
            information[part.places[0], part.places[0]] -= (spread * solved.widened) ** -2
    values = np.linalg.pinv(information, rcond=1e-9, hermitian=True) @ pull
    return learned(model, values, information, known, at)


def with_axis(model: PointingModel, estimate: AxisEstimate, at: datetime) -> PointingModel:
    """The model with a measurement of the axis alone: drift, frames, or all of an evening.

    One that readings of the circles are already part of must not be added to theirs again.
    """
    information = np.zeros((len(UNKNOWNS), len(UNKNOWNS)))
    information[: HIGH + 2, : HIGH + 2] = estimate.information
    values = np.zeros(len(UNKNOWNS))
    values[: HIGH + 2] = estimate.values
    return learned(model, values, information, (ModelPart.AXIS,) if estimate.rank == 2 else (), at)


def _told(solved: ReadingsSolution, part: ModelPart) -> bool:
    open_ = any(not math.isfinite(solved.sigmas[place]) for place in part.places)
    return part.value not in solved.assumed and not open_
