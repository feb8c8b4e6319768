"""What do measurements of the axis and of the circles tell the pointing model?"""

from __future__ import annotations

import math
from datetime import datetime
from typing import Protocol

import numpy as np

from axletree.axis.model import KnownBy, PointingModel, learned
from axletree.axis.unknowns import HIGH, UNKNOWNS, ModelPart
from axletree.axis.voids import Moved, void
from axletree.kit.frozen import dataclass
from axletree.pole.readings.observed import USUAL_FAULTS, UsualFaults
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.least_squares import sigmas_of
from axletree.sky.arrays import Floats

_SET = {
    ModelPart.INDEX_HOUR: Moved.HOUR_CIRCLE, ModelPart.INDEX_DECLINATION: Moved.DECLINATION_CIRCLE,
}  # fmt: skip


class SolvedReadings(Protocol):
    """What is needed of a solution: six values and their information in the order of `UNKNOWNS`.

    `assumed`: faults that were given their usual spread; `widened`: factor on the uncertainties.
    """

    @property
    def values(self) -> Floats: ...
    @property
    def information(self) -> Floats: ...
    @property
    def sigmas(self) -> Floats: ...
    @property
    def assumed(self) -> tuple[str, ...]: ...
    @property
    def widened(self) -> float: ...


@dataclass(frozen=True)
class NotedReadings:
    """A solution as it was noted down: arcminutes, information per square arcminute (6, 6)."""

    values: Floats
    information: Floats
    assumed: tuple[str, ...]
    widened: float = 1.0

    @property
    def sigmas(self) -> Floats:
        """One standard deviation of each, infinite where it is open."""
        return sigmas_of(self.information)

    def widened_by(self, factor: float) -> NotedReadings:
        """The same, trusted less: others contradict it."""
        return NotedReadings(
            self.values, self.information / factor**2, self.assumed, self.widened * factor
        )


def circles_told(solved: SolvedReadings) -> tuple[Moved, ...]:
    """The circles whose index errors a solution tells, as what setting them would void."""
    return tuple(moved for part, moved in _SET.items() if _told(solved, part))


def with_readings(
    model: PointingModel, solved: SolvedReadings, at: datetime, usual: UsualFaults = USUAL_FAULTS
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


def _told(solved: SolvedReadings, part: ModelPart) -> bool:
    open_ = any(not math.isfinite(solved.sigmas[place]) for place in part.places)
    return part.value not in solved.assumed and not open_
