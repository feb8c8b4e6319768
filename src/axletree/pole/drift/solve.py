"""How far is the axis off, from the drift of stars in declination?

A star that the mount follows in hour angle only leaves the middle of the field northward or
southward where the axis is off. Sign: drift north is positive, in both hemispheres. Near the
meridian it tells `east`, six hours away it tells `high`; each star gives one equation.
The rule is old (J. Scheiner 1897, Die Photographie der Gestirne, p. 100); here the star's
direction is followed exactly, through the air.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from axletree.axis.frame import Pole, mount_angles, seen_vectors
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.drift.explain import Trial, Watches, estimate_of, explanations, holding_all
from axletree.pole.solution.doubt import Doubt, DoubtKind, Mistake, unchecked
from axletree.pole.solution.estimate import AxisEstimate, disagreement
from axletree.pole.solution.least_squares import Fit, chance_of_more, fit
from axletree.sky.arrays import Floats, Mask
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_HOURS_PER_S

# Honest noise disagrees as badly once in twenty times. A star of whose mistake just half shows
# moves the axis 1.7 times as far as it shows: asked more rarely, wrong axes would go unnoticed.
DOUBTFUL = 0.05


@dataclass(frozen=True)
class WatchedStars:
    """Stars that were watched for their drift: numbers or arrays of shape (stars,).

    Hour angle (h) and declination (degrees) of date at the start, how long each was watched
    (seconds of clock time), how far it drifted in declination (arcseconds, north positive on both
    halves of the Earth) and the standard deviation of that. `groups` (stars,): a word for what
    shares an eyepiece turned the same way, such as the tube side; may be left out.
    """

    hour_angle_h: ArrayLike
    declination_deg: ArrayLike
    watched_s: ArrayLike
    drift_arcsec: ArrayLike
    sigma_arcsec: ArrayLike
    groups: Sequence[str] = ()


@dataclass(frozen=True)
class DriftSolution:
    """The axis error from drifts. Arrays of shape (stars,), in the order given.

    `misfit_arcsec`: measured minus expected drift, with the sign as it was used.
    `taken_reversed`: rows whose north and south must have been swapped; they were used swapped.
    `left_out`: rows that don't fit and were not used. `chance`: how often honest noise fits as
    badly. `doubts`: what the rows can't settle. `widened`: factor put on the uncertainty, in the
    direction in which it grew most, because the rows disagree among each other.
    """

    estimate: AxisEstimate
    misfit_arcsec: Floats
    taken_reversed: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    chi2: float = 0.0
    dof: int = 0
    chance: float = 1.0
    doubts: tuple[Doubt, ...] = ()
    widened: float = 1.0

    def doubt(self, kind: DoubtKind) -> Doubt | None:
        """The doubt of this kind, if there is one."""
        return next((d for d in self.doubts if d.kind is kind), None)

    @property
    def suspected_reversed(self) -> tuple[tuple[int, ...], ...]:
        """Sets of rows of which one may be swapped; the data can't tell which, or whether."""
        found = self.doubt(DoubtKind.DISAGREEING)
        every = () if found is None else found.explanations
        return tuple(e.rows for e in every if e.mistake is Mistake.REVERSED)

    @property
    def against_evidence(self) -> bool:
        """Whether the whole set contradicts what was known before, and would agree with it with
        north and south swapped."""
        return self.doubt(DoubtKind.ALL_REVERSED) is not None


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
    turned = H + np.asarray(watched_s, dtype=np.float64) * SIDEREAL_HOURS_PER_S
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
    stars: WatchedStars,
    observer: Observer,
    *,
    pole: Pole = "refracted",
    evidence: AxisEstimate | None = None,
) -> DriftSolution:
    """The axis error from the drifts of one or more stars.

    One star alone gives one mixture of `high` and `east` (rank 1). From three on a star that
    doesn't fit is looked into: north and south swapped for it, or for all stars of its group, or
    mistaken; three stars alone raise a doubt only, for any of them may be the wrong one.
    `evidence`: what other measurements say; used only to see which explanation agrees with it,
    and whether all signs are swapped.
    Refuses watches of no length and uncertainties that are not positive.
    """
    columns = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(a, dtype=np.float64))
            for a in (
                stars.hour_angle_h, stars.declination_deg, stars.watched_s, stars.drift_arcsec,
                stars.sigma_arcsec,
            )
        )
    )  # fmt: skip
    H, dec, watched, drift, sigma = columns
    if not len(H):
        raise AxletreeError("no star was watched: a drift measurement needs at least one row")
    if np.any(sigma <= 0) or np.any(watched <= 0):
        raise AxletreeError("each star must be watched for some seconds and have a sigma above 0")
    start, end = _ends(H, dec, watched, observer)

    def solved(rows: Mask, signs: Floats) -> Fit:
        def model(x: Floats) -> Floats:
            return _drift_of(
                start[rows], end[rows], x[..., 0, None], x[..., 1, None], observer, pole
            )

        return fit(model, np.zeros(2), (drift * signs)[rows], sigma[rows])

    def expected(x: Floats) -> Floats:
        return _drift_of(start, end, x[0], x[1], observer, pole)

    watches = Watches(solved, expected, drift, sigma, tuple(stars.groups))
    return _solution(watches, evidence)


def _solution(watches: Watches, evidence: AxisEstimate | None) -> DriftSolution:
    """The axis, after a look for mistakes where the rows disagree, and what stays doubtful."""
    count = len(watches.drift)
    used, signs = np.ones(count, dtype=bool), np.ones(count)
    best = watches.solved(used, signs)
    settled: Trial | None = None
    rivals: tuple[Trial, ...] = ()
    if best.dof >= 1 and best.chance < DOUBTFUL:
        settled, rivals = explanations(watches, best, evidence)
    mended = None if settled is None else settled.explanation
    if settled is not None:
        used, signs, best = settled.rows, settled.signs, settled.fit
    chance = chance_of_more(best.chi2, best.dof)
    estimate, widened = estimate_of(best), 1.0
    doubts: list[Doubt] = []
    numbers = [int(k) for k in np.flatnonzero(used)]
    if best.dof >= 1 and chance < DOUBTFUL:
        estimate, widened = holding_all(best, rivals)
        doubts.append(
            Doubt(
                DoubtKind.DISAGREEING,
                tuple(numbers),
                tuple(float(part) for part in best.shown),
                best.jacobian,
                tuple(trial.explanation for trial in rivals),
                chance,
                widened,
            )
        )
    weak = unchecked(numbers, best.shown, best.jacobian) if best.rank == 2 else None
    doubts += [] if weak is None else [weak]
    swapped = mended is not None and mended.mistake is Mistake.REVERSED
    if evidence is not None and not swapped and estimate.rank:
        mirror = estimate_of(watches.solved(used, -signs))
        mirrored = replace(mirror, information=estimate.information)
        if _rank_chance(estimate, evidence) < 1e-4 and _rank_chance(mirrored, evidence) > 0.01:
            doubts.append(
                Doubt(
                    DoubtKind.ALL_REVERSED,
                    tuple(numbers),
                    tuple(float(part) for part in best.shown),
                    best.jacobian,
                )
            )
    return DriftSolution(
        estimate=estimate,
        misfit_arcsec=watches.drift * signs - watches.expected(estimate.values),
        taken_reversed=mended.rows if mended is not None and swapped else (),
        left_out=mended.rows if mended is not None and not swapped else (),
        chi2=best.chi2,
        dof=best.dof,
        chance=chance,
        doubts=tuple(doubts),
        widened=widened,
    )


def _rank_chance(one: AxisEstimate, other: AxisEstimate) -> float:
    common = min(one.rank, other.rank)
    return chance_of_more(disagreement(one, other), common)
