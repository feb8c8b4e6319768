"""Stars that disagree: which single mistake would make them agree, and is there only one such?

A swap of north and south is one way of being mistaken: a star is taken as swapped only where no
other star, wrong by whatever amount, explains the rows nearly as well. With three stars any one
of them may be the wrong one: then every explanation is named and the error holds them all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.solution.doubt import Explanation, Mistake
from axletree.pole.solution.estimate import AxisEstimate, disagreement
from axletree.pole.solution.least_squares import Fit, chance_of_more
from axletree.pole.solution.outliers import TOO_CLOSE
from axletree.sky.arrays import Floats, Mask

# An explanation must fit as well as honest noise does in 999 of 1000 cases; where it fits worse
# than in most, the rows are still called disagreeing after it.
WELL_ENOUGH = 0.001
_TRIED = 6  # explanations that are looked into; the others promise less


@dataclass(frozen=True)
class Watches:
    """The rows that disagree, and how to solve them. `drift`, `sigma` (stars,), arcseconds.

    `solved(rows, signs)` fits the rows that are True with their drifts multiplied by the signs;
    `expected(values)` is the drift (stars,) of an axis. `groups`: see `WatchedStars`.
    """

    solved: Callable[[Mask, Floats], Fit]
    expected: Callable[[Floats], Floats]
    drift: Floats
    sigma: Floats
    groups: tuple[str, ...]


@dataclass(frozen=True)
class Trial:
    """An explanation that fits, solved: with which rows and signs, and what comes of it."""

    explanation: Explanation
    rows: Mask
    signs: Floats
    fit: Fit

    @property
    def estimate(self) -> AxisEstimate:
        """The axis error if it were so."""
        return estimate_of(self.fit)


def estimate_of(fit: Fit) -> AxisEstimate:
    """The axis error of a fit of (high, east)."""
    return AxisEstimate(float(fit.values[0]), float(fit.values[1]), fit.information)


def explanations(
    watches: Watches, best: Fit, evidence: AxisEstimate | None
) -> tuple[Trial | None, tuple[Trial, ...]]:
    """(the one that is settled, all that can't be told apart), after `best`, the fit of all rows.

    Settled means: with two degrees of freedom or more, or by what other measurements say, no
    other star and no group explains the rows nearly as well. Both are empty if none fits.
    """
    fitting = _leaving_out(watches, best) + _groups_swapped(watches, best)
    if not fitting:
        return None, ()
    told = evidence if evidence is not None and evidence.rank else None
    close = _close(fitting, None)
    if told is not None:
        closer = _close(fitting, told)
        common = min(closer[0].fit.rank, told.rank)
        if chance_of_more(disagreement(closer[0].estimate, told), common) >= WELL_ENOUGH:
            close = closer
        else:
            told = None
    families = {trial.explanation.rows for trial in close}
    if len(families) == 1 and (best.dof >= 2 or told is not None):
        return _surest(close), ()
    return None, tuple(close)


def _surest(family: Sequence[Trial]) -> Trial:
    """Of the ways in which the same rows may be wrong: swapped if that is as good as left out."""
    apart = [t for t in family if t.explanation.mistake is Mistake.MISTAKEN]
    swapped = [t for t in family if t.explanation.mistake is Mistake.REVERSED]
    if not apart:
        return swapped[0]
    # Left out, the star is free of what the others say: one degree of freedom more.
    if swapped and chance_of_more(swapped[0].fit.chi2 - apart[0].fit.chi2, 1) >= WELL_ENOUGH:
        return swapped[0]
    return apart[0]


def _close(fitting: Sequence[Trial], evidence: AxisEstimate | None) -> list[Trial]:
    """The trials of all rows that explain nearly as well as the best, best first."""

    def score(trial: Trial) -> float:
        against = 0.0 if evidence is None else disagreement(trial.estimate, evidence)
        return trial.fit.chi2 + against

    ordered = sorted(fitting, key=score)
    return [trial for trial in ordered if score(trial) - score(ordered[0]) < TOO_CLOSE]


def _leaving_out(watches: Watches, best: Fit) -> list[Trial]:
    """Each promising star mistaken, and swapped where that fits too."""
    count = len(watches.drift)
    shown = best.shown
    # To first order chi-square falls by w^2 / r, w the misfit and r the redundancy number.
    falls = np.where(shown > 1e-6, (best.misfits / np.maximum(shown, 1e-6)) ** 2, -np.inf)
    found: list[Trial] = []
    for i in (int(k) for k in np.argsort(-falls)[:_TRIED]):
        rows, signs = np.ones(count, dtype=bool), np.ones(count)
        rows[i] = False
        without = watches.solved(rows, signs)
        # A star that alone fixes a direction can't be judged by the others.
        if without.rank < best.rank:
            continue
        if chance_of_more(without.chi2, best.dof - 1) >= WELL_ENOUGH:
            off = float(watches.drift[i] - watches.expected(without.values)[i])
            found.append(Trial(Explanation(Mistake.MISTAKEN, (i,), off), rows, signs, without))
        found += _swapped(watches, best, (i,))
    return found


def _swapped(watches: Watches, best: Fit, members: tuple[int, ...]) -> list[Trial]:
    """The trial with these rows swapped, if it fits."""
    rows, signs = np.ones(len(watches.drift), dtype=bool), np.ones(len(watches.drift))
    signs[list(members)] = -1.0
    trial = watches.solved(rows, signs)
    if chance_of_more(trial.chi2, best.dof) < WELL_ENOUGH:
        return []
    return [Trial(Explanation(Mistake.REVERSED, members), rows, signs, trial)]


def _groups_swapped(watches: Watches, best: Fit) -> list[Trial]:
    """Each promising group swapped, where that fits.

    Swapping a set and swapping all the others fit equally well, with the axis mirrored: of one
    star against all others the one star is meant, of two groups nobody can tell.
    """
    sigmas = watches.drift / watches.sigma
    inverse = np.linalg.pinv(best.information, rcond=1e-12, hermitian=True)
    promise: list[tuple[float, tuple[int, ...]]] = []
    for name in dict.fromkeys(watches.groups):
        members = tuple(i for i, group in enumerate(watches.groups) if group == name)
        if 1 < len(members) < len(sigmas) - 1:
            change = np.zeros(len(sigmas))
            change[list(members)] = -2.0 * sigmas[list(members)]
            moved = best.misfits + change
            left = moved - best.jacobian @ (inverse @ (best.jacobian.T @ change))
            promise.append((float(left @ left), members))
    tried = [members for _, members in sorted(promise)[:_TRIED]]
    return [trial for members in tried for trial in _swapped(watches, best, members)]


def holding_all(best: Fit, trials: Sequence[Trial]) -> tuple[AxisEstimate, float]:
    """The estimate of all rows with an error that holds every explanation, and how much wider.

    Each explanation counts the same; their covariances and their distances from the estimate add
    up (law of total variance). Where none fits, or where one direction is open, the error grows
    with the misfit instead. The second figure is the growth in the direction that grew most.
    """
    plain = estimate_of(best)
    both = [t.estimate for t in trials if t.fit.rank == 2]
    covariance = plain.covariance
    if covariance is None or not both:
        factor = math.sqrt(max(1.0, best.chi2 / best.dof))
        return replace(plain, information=best.information / factor**2), factor
    total = np.zeros((2, 2))
    for one in both:
        away = one.values - plain.values
        total += (np.linalg.inv(one.information) + np.outer(away, away)) / len(both)
    grown = float(np.linalg.eigvals(best.information @ total).real.max())
    return replace(plain, information=np.asarray(np.linalg.inv(total))), math.sqrt(max(1.0, grown))
