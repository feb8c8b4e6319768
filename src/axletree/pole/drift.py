"""How far is the axis off, from the drift of stars in declination?

A star that the mount follows in hour angle only leaves the middle of the field northward or
southward where the axis is off. Sign: drift north is positive, in both hemispheres. Near the
meridian it tells `east`, six hours away it tells `high`; each star gives one equation.
The rule is old (J. Scheiner 1897, Die Photographie der Gestirne, p. 100); here the star's
direction is followed exactly, through the air.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.kit.errors import AxletreeError
from axletree.pole.estimate import AxisEstimate, disagreement
from axletree.pole.least_squares import Fit, chance_of_more, fit
from axletree.pole.mount_frame import Pole, mount_angles, seen_vectors
from axletree.sky.observer import Observer
from axletree.sky.time import SIDEREAL_DAYS_PER_DAY

Floats = NDArray[np.float64]
Solver = Callable[[NDArray[np.bool_], Floats], Fit]

DRIFT_ARCSEC_PER_ARCMIN_MIN = 0.2625  # first order: the sidereal rate times one arcminute
RARE = 0.01  # noise as bad as this happens once in a hundred times: something is wrong
# A rival explanation must be a thousand times less likely, or nobody can tell which is right.
_TOO_CLOSE = 2.0 * math.log(1000.0)
_TRIED = 6  # explanations that are looked into; the others promise less
_HOURS_PER_SECOND = SIDEREAL_DAYS_PER_DAY / 3600.0


@dataclass(frozen=True)
class DriftSolution:
    """The axis error from drifts. Arrays of shape (stars,), in the order given.

    `misfit_arcsec`: measured minus expected drift, with the sign as it was used.
    `taken_reversed`: rows whose north and south must have been swapped; they were used swapped.
    `suspected_reversed`: sets of rows of which one is swapped, the data can't tell which.
    `left_out`: rows that don't fit and were not used. `chance`: how often honest noise fits as
    badly. `against_evidence`: the whole set contradicts what was known before, and would agree
    with north and south swapped. `widened`: factor put on the uncertainties because the rows
    disagree among each other.
    """

    estimate: AxisEstimate
    misfit_arcsec: Floats
    taken_reversed: tuple[int, ...] = ()
    suspected_reversed: tuple[tuple[int, ...], ...] = ()
    left_out: tuple[int, ...] = ()
    chi2: float = 0.0
    dof: int = 0
    chance: float = 1.0
    against_evidence: bool = False
    widened: float = 1.0


def drift_arcsec(
    high_arcmin: ArrayLike,
    east_arcmin: ArrayLike,
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    watched_s: ArrayLike,
    observer: Observer,
    pole: Pole = "refracted",
) -> Floats:
    """Declination drift in arcseconds, north positive, over `watched_s` seconds of clock time.

    `hour_angle_h`, `declination_deg`: of date, at the start. Everything broadcasts.
    Source: exact spherical trigonometry; for small errors it is
    -(east cos H + high sin H) times the angle turned (sign changed in the south).
    """
    start, end = _ends(hour_angle_h, declination_deg, watched_s, observer)
    return _drift_of(start, end, high_arcmin, east_arcmin, observer, pole)


def _ends(
    hour_angle_h: ArrayLike, declination_deg: ArrayLike, watched_s: ArrayLike, observer: Observer
) -> tuple[Floats, Floats]:
    H = np.asarray(hour_angle_h, dtype=np.float64)
    turned = H + np.asarray(watched_s, dtype=np.float64) * _HOURS_PER_SECOND
    return (
        seen_vectors(H, declination_deg, observer),
        seen_vectors(turned, declination_deg, observer),
    )


def _drift_of(
    start: Floats,
    end: Floats,
    high: ArrayLike,
    east: ArrayLike,
    observer: Observer,
    pole: Pole,
) -> Floats:
    _, before = mount_angles(start, high, east, observer, pole)
    _, after = mount_angles(end, high, east, observer, pole)
    return np.asarray((after - before) * 3600.0)


def series_drift(
    seconds: ArrayLike, offsets_arcsec: ArrayLike, sigma_arcsec: float
) -> tuple[float, float, float, float]:
    """(start_s, watched_s, drift_arcsec, sigma_arcsec) from many readings of one star's offset.

    The drift of the straight line through the readings over an equally long, centred watch: the
    curvature that the line ignores is under 0.03 % in half an hour. At least two instants.
    """
    t = np.asarray(seconds, dtype=np.float64)
    y = np.asarray(offsets_arcsec, dtype=np.float64)
    span = float(np.ptp(t)) if t.size else 0.0
    if t.size < 2 or span <= 0.0:
        raise AxletreeError("a series of readings needs at least two different times")
    centred = t - t.mean()
    weight = float(centred @ centred)
    slope = float(centred @ y) / weight
    return (
        float(t.mean()) - span / 2.0,
        span,
        slope * span,
        sigma_arcsec * span / math.sqrt(weight),
    )


def crossing_drift_arcsec(field_arcmin: float, part: float = 0.5) -> float:
    """Drift of a star that went through a part of a known field: 0.5 is from middle to edge."""
    return field_arcmin * 60.0 * part


def solve_drift(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    watched_s: ArrayLike,
    drift_arcsec: ArrayLike,
    sigma_arcsec: ArrayLike,
    observer: Observer,
    *,
    pole: Pole = "refracted",
    groups: Sequence[str] | None = None,
    evidence: AxisEstimate | None = None,
) -> DriftSolution:
    """The axis error from the drifts of one or more stars.

    Arrays of shape (stars,): hour angle (h) and declination (degrees) of date at the start, how
    long each was watched (seconds), drift (arcseconds, north positive) and its standard
    deviation. One star alone gives one mixture of `high` and `east` (rank 1). From three on a
    star that doesn't fit is looked into: north and south swapped for it, or for all stars of its
    group (`groups`: the same eyepiece, turned the same way, such as the tube side), or mistaken.
    `evidence`: what other measurements say; used only to see whether all signs are swapped.
    Refuses watches of no length and uncertainties that are not positive.
    """
    columns = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(a, dtype=np.float64))
            for a in (hour_angle_h, declination_deg, watched_s, drift_arcsec, sigma_arcsec)
        )
    )
    H, dec, watched, drift, sigma = columns
    if not len(H):
        raise AxletreeError("no star was watched: a drift measurement needs at least one row")
    if np.any(sigma <= 0) or np.any(watched <= 0):
        raise AxletreeError("each star must be watched for some seconds and have a sigma above 0")
    start, end = _ends(H, dec, watched, observer)

    def solved(rows: NDArray[np.bool_], signs: Floats) -> Fit:
        def model(x: Floats) -> Floats:
            return _drift_of(
                start[rows], end[rows], x[..., 0, None], x[..., 1, None], observer, pole
            )

        return fit(model, np.zeros(2), (drift * signs)[rows], sigma[rows])

    everyone, as_given = np.ones(len(H), dtype=bool), np.ones(len(H))
    best = solved(everyone, as_given)
    found = DriftSolution(_estimate(best), np.zeros(0), chi2=best.chi2, dof=best.dof)
    used, signs = everyone, as_given
    if best.dof >= 1 and best.chance < RARE:
        used, signs, best, found = _mend(
            solved, best, found, drift, sigma, tuple(groups or ()), evidence
        )
    chance = chance_of_more(best.chi2, best.dof)
    widened = math.sqrt(best.chi2 / best.dof) if best.dof and chance < RARE else 1.0
    estimate = _estimate(best, widened)
    misfit = drift * signs - _drift_of(
        start, end, estimate.high_arcmin, estimate.east_arcmin, observer, pole
    )
    against = False
    if evidence is not None and not found.taken_reversed and estimate.rank:
        mirrored = _estimate(solved(used, -signs), widened)
        against = _rank_chance(estimate, evidence) < 1e-4 and (
            _rank_chance(mirrored, evidence) > 0.01
        )
    return replace(
        found,
        estimate=estimate,
        misfit_arcsec=misfit,
        chi2=best.chi2,
        dof=best.dof,
        chance=chance,
        against_evidence=against,
        widened=widened,
    )


def _estimate(solved: Fit, widened: float = 1.0) -> AxisEstimate:
    return AxisEstimate(
        float(solved.values[0]), float(solved.values[1]), solved.information / widened**2
    )


def _rank_chance(one: AxisEstimate, other: AxisEstimate) -> float:
    common = min(one.rank, other.rank)
    return chance_of_more(disagreement(one, other), common)


def _mend(
    solved: Solver,
    best: Fit,
    found: DriftSolution,
    drift: Floats,
    sigma: Floats,
    groups: Sequence[str],
    evidence: AxisEstimate | None,
) -> tuple[NDArray[np.bool_], Floats, Fit, DriftSolution]:
    """Which single explanation (a swapped sign, a mistaken star) makes the rows agree?"""
    count = len(drift)
    everyone, as_given = np.ones(count, dtype=bool), np.ones(count)
    swaps: list[tuple[float, tuple[int, ...], Fit, Floats]] = []
    for members in _promising(best, drift / sigma, _swap_sets(count, groups)):
        signs = as_given.copy()
        signs[list(members)] = -1.0
        trial = solved(everyone, signs)
        if chance_of_more(trial.chi2, best.dof) >= RARE:
            swaps.append((trial.chi2, members, trial, signs))
    swaps.sort(key=lambda entry: entry[0])
    close = [entry for entry in swaps if entry[0] - swaps[0][0] < _TOO_CLOSE]
    if len(close) > 1 and evidence is not None:
        agreeing = [e for e in close if _rank_chance(_estimate(e[2]), evidence) >= RARE]
        close = agreeing or close
    if len(close) == 1:
        _, members, trial, signs = close[0]
        return everyone, signs, trial, replace(found, taken_reversed=members)
    if close:
        suspects = tuple(entry[1] for entry in close)
        return everyone, as_given, best, replace(found, suspected_reversed=suspects)
    if best.dof >= 2:
        without: list[tuple[float, int, Fit, NDArray[np.bool_]]] = []
        promise = np.argsort([best.chi2_without((i,)) for i in range(count)])
        for i in (int(k) for k in promise[:_TRIED]):
            rows = everyone.copy()
            rows[i] = False
            trial = solved(rows, as_given)
            if trial.rank == best.rank:
                without.append((trial.chi2, i, trial, rows))
        without.sort(key=lambda entry: entry[0])
        clear = len(without) < 2 or without[1][0] - without[0][0] > _TOO_CLOSE
        if without and clear and chance_of_more(without[0][0], best.dof - 1) >= RARE:
            _, i, trial, rows = without[0]
            return rows, as_given, trial, replace(found, left_out=(i,))
    return everyone, as_given, best, found


def _promising(
    best: Fit, drift_sigmas: Floats, sets: list[tuple[int, ...]]
) -> list[tuple[int, ...]]:
    """The sets whose swapping, to first order, brings chi-square down most."""
    stays = np.eye(len(drift_sigmas)) - best.hat()

    def then(members: tuple[int, ...]) -> float:
        change = np.zeros(len(drift_sigmas))
        change[list(members)] = -2.0 * drift_sigmas[list(members)]
        left = best.misfits + stays @ change
        return float(left @ left)

    return sorted(sets, key=then)[:_TRIED]


def _swap_sets(count: int, groups: Sequence[str]) -> list[tuple[int, ...]]:
    """Each star alone, and each group that is neither one star nor all of them.

    Swapping a set and swapping all the others fit equally well, with the axis mirrored: of one
    star against all others the one star is meant, of two groups nobody can tell.
    """
    sets: list[tuple[int, ...]] = [(i,) for i in range(count)]
    for name in dict.fromkeys(groups):
        members = tuple(i for i, group in enumerate(groups) if group == name)
        if 1 < len(members) < count - 1:
            sets.append(members)
    return sets
