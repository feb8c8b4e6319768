"""Which one of several measurements contradicts all the others, if exactly one does?"""

from __future__ import annotations

import math
from collections.abc import Sequence

from axletree.kit.frozen import dataclass
from axletree.pole.solution.least_squares import chance_of_more

# Honest noise disagrees as badly once in a hundred times.
RARE = 0.01
# A rival must be a thousand times less likely, or nobody can tell which is wrong.
TOO_CLOSE = 2.0 * math.log(1000.0)


@dataclass(frozen=True)
class Without:
    """How well the others agree without one: their chi-square and its degrees of freedom."""

    chi2: float
    dof: int


def odd_one(trials: Sequence[Without]) -> int | None:
    """Place among the trials of the one without which the others agree; None unless it is one.

    They must agree as honest noise lets them (`RARE`), and no other be nearly as good to leave out
    (`TOO_CLOSE`): the likelihoods of normal errors are compared by their chi-squares.
    """
    ordered = sorted(range(len(trials)), key=lambda k: trials[k].chi2)
    if not ordered:
        return None
    best = trials[ordered[0]]
    if best.dof < 1 or chance_of_more(best.chi2, best.dof) < RARE:
        return None
    if len(ordered) > 1 and trials[ordered[1]].chi2 - best.chi2 < TOO_CLOSE:
        return None
    return ordered[0]
