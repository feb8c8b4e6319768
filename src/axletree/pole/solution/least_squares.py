"""Which values fit the measurements best, which of them do the measurements fix, and how well?

Weighted least squares by Gauss and Newton for a handful of unknowns, with the directions that
the data leave open found by singular values and left where they started.
Sources: C. F. Gauss 1823, Theoria combinationis; for nuisance unknowns and for parameters that
are assumed rather than solved ("consider" parameters): B. D. Tapley, B. E. Schutz and G. H. Born
2004, Statistical Orbit Determination, ch. 4.6 and 6 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.solution.estimate import UNKNOWN_ARCMIN
from axletree.sky.arrays import Floats

Model = Callable[[Floats], Floats]  # (..., unknowns) -> (..., measurements)
Difference = Callable[[Floats, Floats], Floats]

_STEP = 1e-3  # of an unknown's own unit: an arcminute, or a radian's thousandth where scaled so


@dataclass(frozen=True)
class Fit:
    """The best values and what stands behind them.

    `information` (unknowns, unknowns): inverse covariance. `misfits` (measurements,): observed
    minus modelled in standard deviations, without the assumed spreads; `chi2` and `dof` belong to
    them. `jacobian` (measurements, unknowns) in standard deviations a unit.
    """

    values: Floats
    information: Floats
    jacobian: Floats
    misfits: Floats
    chi2: float
    dof: int
    rank: int

    def information_about(self, keep: tuple[int, ...]) -> Floats:
        """Information on some unknowns when all others are free: the Schur complement."""
        return marginal_information(self.information, keep)

    @property
    def sigmas(self) -> Floats:
        """One standard deviation of each unknown; infinite where the data leave it open."""
        return sigmas_of(self.information)

    def hat(self) -> Floats:
        """The matrix (measurements, measurements) that takes misfits to what the unknowns absorb.

        Directions that nothing fixes absorb nothing.
        """
        inverse = np.linalg.pinv(self.information, rcond=1e-12, hermitian=True)
        return np.asarray(self.jacobian @ inverse @ self.jacobian.T)

    @property
    def shown(self) -> Floats:
        """Part (measurements,) of a measurement's own error that shows in the misfits, 0 to 1.

        The length of all misfits that one standard deviation of error in this measurement alone
        makes: the square root of its redundancy number, the diagonal of I - H.
        Source: W. Baarda 1968, A testing procedure for use in geodetic networks (from memory).
        """
        inverse = np.linalg.pinv(self.information, rcond=1e-12, hermitian=True)
        absorbed = np.einsum("ij,jk,ik->i", self.jacobian, inverse, self.jacobian)
        return np.asarray(np.sqrt(np.clip(1.0 - absorbed, 0.0, 1.0)))

    def chi2_without(self, rows: Sequence[int]) -> float:
        """What chi-square would become without some measurements, to first order.

        Source: R. D. Cook and S. Weisberg 1982, Residuals and Influence in Regression, ch. 3.
        """
        gone = np.array(rows)
        left = np.eye(len(gone)) - self.hat()[np.ix_(gone, gone)]
        r = self.misfits[gone]
        return float(self.chi2 - r @ np.linalg.pinv(left, hermitian=True) @ r)

    @property
    def chance(self) -> float:
        """How often honest noise gives a chi-square at least as large."""
        return chance_of_more(self.chi2, self.dof)


def marginal_information(information: Floats, keep: tuple[int, ...]) -> Floats:
    """Information on the unknowns `keep` when nothing is known beforehand of the others."""
    inside = np.array(keep)
    others = np.setdiff1d(np.arange(len(information)), inside)
    block = information[np.ix_(inside, inside)]
    if not len(others):
        return np.asarray(block)
    cross = information[np.ix_(inside, others)]
    inverse = np.linalg.pinv(information[np.ix_(others, others)], rcond=1e-12, hermitian=True)
    left = block - cross @ inverse @ cross.T
    return np.asarray(0.5 * (left + left.T))


def sigmas_of(information: Floats) -> Floats:
    """One standard deviation of each unknown of an information matrix; infinite where open."""
    sizes, directions = np.linalg.eigh(information)
    open_ = sizes < UNKNOWN_ARCMIN**-2
    with np.errstate(divide="ignore"):
        spread = np.where(open_, 0.0, 1.0 / np.where(open_, 1.0, sizes))
    known = np.sqrt((directions**2) @ spread)
    touched = (directions[:, open_] ** 2).sum(axis=1) > 1e-8
    return np.asarray(np.where(touched, np.inf, known))


def fit(
    model: Model,
    start: Floats,
    observed: Floats,
    sigma: Floats,
    *,
    spread: Floats | None = None,
    difference: Difference = np.subtract,
    turns: int = 12,
) -> Fit:
    """The values that make (observed - model) / sigma smallest in the mean square.

    Unknowns in arcminutes (or of that order). `spread`: standard deviation that an unknown is
    assumed to have about 0 before the measurement, infinite for none. `difference(a, b)` takes
    a - b, around the circle where need be. Directions that the data know worse than
    `UNKNOWN_ARCMIN` stay at the start.
    """
    values = np.array(start, dtype=np.float64)
    count = len(values)
    prior = np.zeros(count) if spread is None else 1.0 / np.asarray(spread, dtype=np.float64)

    def rows(x: Floats) -> Floats:
        return np.asarray(difference(observed, model(x)) / sigma)

    steps = np.eye(count) * _STEP
    misfits = rows(values)
    jacobian = np.zeros((len(observed), count))
    cost = float(misfits @ misfits + (prior * values) @ (prior * values))
    for _ in range(turns):
        both = model(np.concatenate([values + steps, values - steps]))
        slopes = difference(both[:count], both[count:]) / (2.0 * _STEP)
        # Where wild data have driven the unknowns off any mount, nothing is known of them.
        jacobian = np.nan_to_num((slopes / sigma).T, nan=0.0, posinf=0.0, neginf=0.0)
        tall = np.vstack([jacobian, np.diag(prior)])
        wanted = np.concatenate([misfits, -prior * values])
        u, s, vt = np.linalg.svd(tall, full_matrices=False)
        known = s > 1.0 / UNKNOWN_ARCMIN
        move = vt.T @ np.where(known, (u.T @ wanted) / np.where(known, s, 1.0), 0.0)
        part = 1.0
        for _ in range(8):
            trial = values + part * move
            trial_misfits = rows(trial)
            trial_cost = float(trial_misfits @ trial_misfits + np.sum((prior * trial) ** 2))
            if trial_cost <= cost * (1.0 + 1e-12) + 1e-15:
                break
            part *= 0.5
        else:
            break
        values, misfits, cost = trial, trial_misfits, trial_cost
        if part * float(np.max(np.abs(move), initial=0.0)) < 1e-5:
            break
    information = jacobian.T @ jacobian + np.diag(prior**2)
    by_data = np.linalg.svd(np.vstack([jacobian, np.diag(prior)]), compute_uv=False)
    rank = int(np.sum(by_data > 1.0 / UNKNOWN_ARCMIN))
    free = rank - int(np.sum(prior > 0))
    return Fit(
        values=values,
        information=information,
        jacobian=jacobian,
        misfits=misfits,
        chi2=float(misfits @ misfits + np.sum((prior * values) ** 2)),
        dof=max(0, len(observed) - free),
        rank=rank,
    )


def chance_of_more(chi2: float, dof: int) -> float:
    """Probability that a chi-square with `dof` degrees of freedom exceeds `chi2`.

    Exact finite sums for whole degrees of freedom. Source: M. Abramowitz and I. A. Stegun 1964,
    Handbook of Mathematical Functions, 26.4.4 and 26.4.5. No degrees of freedom: 1.
    """
    if dof <= 0 or chi2 <= 0.0:
        return 1.0
    half = chi2 / 2.0
    if half > 700.0:
        return 0.0
    if dof % 2 == 0:
        term, total = 1.0, 1.0
        for k in range(1, dof // 2):
            term *= half / k
            total += term
        return min(1.0, math.exp(-half) * total)
    root = math.sqrt(chi2)
    total, term = math.erfc(root / math.sqrt(2.0)), math.sqrt(2.0 / math.pi) * math.exp(-half)
    term *= root
    for k in range(1, (dof - 1) // 2 + 1):
        total += term
        term *= chi2 / (2 * k + 1)
    return min(1.0, total)
