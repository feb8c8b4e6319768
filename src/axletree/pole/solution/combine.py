"""What do all measurements since the last turn of a bolt say together?

Each brings its information matrix and they add up, whatever the method was. A measurement that
contradicts all others is named and left out; two that contradict each other are both kept and
the uncertainty is widened, since nobody can tell which is wrong.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.solution.estimate import UNKNOWN_ARCMIN, AxisEstimate
from axletree.pole.solution.least_squares import chance_of_more
from axletree.pole.solution.outliers import RARE, Without, odd_one
from axletree.sky.arrays import Floats


@dataclass(frozen=True)
class Combined:
    """One estimate from many. Indices are places in the sequence given.

    `chi2`, `dof`, `chance`: how well those that were used agree. `left_out`: measurements that
    contradict all others. `at_odds`: they disagree and none can be singled out. `widened`: factor
    put on the uncertainties for that. `misfit_sigmas`: how far each stands from the combination
    of the others, in standard deviations; nan where the others don't know what it knows.
    """

    estimate: AxisEstimate
    used: tuple[int, ...]
    left_out: tuple[int, ...]
    at_odds: bool
    chi2: float
    dof: int
    chance: float
    widened: float
    misfit_sigmas: tuple[float, ...]


def combine(estimates: Sequence[AxisEstimate]) -> Combined:
    """All estimates as one; refuses an empty sequence and one that knows nothing."""
    if not estimates:
        raise AxletreeError("there are no measurements to combine")
    everyone = tuple(range(len(estimates)))
    values, information, chi2, dof = _sum(estimates, everyone)
    if not _known(information):
        raise AxletreeError("the measurements fix nothing of the axis")
    used = everyone
    if dof and chance_of_more(chi2, dof) < RARE and len(estimates) >= 3:
        odd = _odd_one(estimates)
        if odd is not None:
            used = tuple(k for k in everyone if k != odd)
            values, information, chi2, dof = _sum(estimates, used)
    chance = chance_of_more(chi2, dof)
    at_odds = dof > 0 and chance < RARE
    widened = math.sqrt(chi2 / dof) if at_odds else 1.0
    estimate = AxisEstimate(float(values[0]), float(values[1]), information / widened**2)
    return Combined(
        estimate=estimate,
        used=used,
        left_out=tuple(k for k in everyone if k not in used),
        at_odds=at_odds,
        chi2=chi2,
        dof=dof,
        chance=chance,
        widened=widened,
        misfit_sigmas=tuple(_misfit(estimates, k, used) for k in everyone),
    )


def _sum(
    estimates: Sequence[AxisEstimate], chosen: Sequence[int]
) -> tuple[Floats, Floats, float, int]:
    """Values, information, chi-square and its degrees of freedom of some estimates together."""
    information = np.sum([estimates[k].information for k in chosen], axis=0)
    weighted = np.sum([estimates[k].information @ estimates[k].values for k in chosen], axis=0)
    # Directions that nobody knows stay at nought.
    sizes, directions = np.linalg.eigh(information)
    known = sizes > UNKNOWN_ARCMIN**-2
    inverse = (directions * np.where(known, 1.0 / np.where(known, sizes, 1.0), 0.0)) @ directions.T
    values = inverse @ weighted
    chi2 = 0.0
    for k in chosen:
        off = estimates[k].values - values
        chi2 += float(off @ estimates[k].information @ off)
    dof = sum(estimates[k].rank for k in chosen) - int(known.sum())
    return np.asarray(values), np.asarray(information), chi2, dof


def _known(information: Floats) -> bool:
    return bool(np.linalg.eigvalsh(information)[-1] > UNKNOWN_ARCMIN**-2)


def _odd_one(estimates: Sequence[AxisEstimate]) -> int | None:
    """The one measurement without which the others agree, if there is exactly one such."""
    trials = []
    for k in range(len(estimates)):
        others = [j for j in range(len(estimates)) if j != k]
        _, _, chi2, dof = _sum(estimates, others)
        trials.append(Without(chi2, dof))
    return odd_one(trials)


def _misfit(estimates: Sequence[AxisEstimate], at: int, used: Sequence[int]) -> float:
    others = [k for k in used if k != at]
    if not others:
        return math.nan
    values, information, _, _ = _sum(estimates, others)
    if min(estimates[at].rank, int(np.sum(np.linalg.eigvalsh(information) > 1e-6))) == 0:
        return math.nan
    return estimates[at].distance(AxisEstimate(float(values[0]), float(values[1]), information))
