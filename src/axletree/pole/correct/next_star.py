"""Which star should be measured next, and for how long, to shrink the error of the axis most?

The worst direction of the error's ellipse counts, since that is what may still hide. Every
candidate is tried: its information is added and the new worst direction looked at. Where a
mistake would go unnoticed, the star is sought that makes every mistake show instead.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from axletree.axis.circles import circle_readings
from axletree.axis.frame import Pole, mount_angles, seen_vectors
from axletree.kit.frozen import dataclass
from axletree.pole.drift.solve import drift_arcsec
from axletree.pole.readings.observed import USUAL_FAULTS, UsualFaults
from axletree.pole.solution.doubt import LEAST_SHOWN, shown_among
from axletree.pole.solution.estimate import UNKNOWN_ARCMIN
from axletree.pole.solution.least_squares import marginal_information
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer

WATCHES_S = (120.0, 180.0, 300.0, 480.0, 600.0, 900.0, 1200.0)
_STEP_ARCMIN = 0.5
PAST_MERIDIAN_H = 1.0  # how far past level the weights may stand (our figure)
_NEARLY = 0.95


@dataclass(frozen=True)
class NextDrift:
    """The star to watch for drift: its place in the candidates, how long, what that brings.

    `enough`: the watch brings the worst direction down to the wanted figure; otherwise it is the
    longest that is sensible.
    """

    candidate: int
    watch_s: float
    worst_now_arcmin: float
    worst_then_arcmin: float
    enough: bool


@dataclass(frozen=True)
class NextReading:
    """The star to read the circles on: its place in the candidates, tube side, what that brings."""

    candidate: int
    side: int
    worst_now_arcmin: float
    worst_then_arcmin: float


@dataclass(frozen=True)
class NextCheck:
    """The star that checks others: its place in the candidates, how long to watch it, and the
    least part of any mistake, its own included, that shows in the misfits afterwards."""

    candidate: int
    watch_s: float
    shown_then: float


def next_check(
    slopes: Floats,
    information: Floats,
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    sigma_arcsec: float,
    observer: Observer,
    *,
    pole: Pole = "refracted",
) -> NextCheck:
    """Which of the candidate stars (n,) makes a mistake in any of some rows show best.

    `slopes` (rows, 2): what an arcminute of high and of east does to each of them, in standard
    deviations; `information` (2, 2) holds theirs and everything else that is known. The shortest
    watch is chosen that lets nearly as much show as the best one, `LEAST_SHOWN` where it can.
    """
    H = np.atleast_1d(np.asarray(hour_angle_h, dtype=np.float64))
    dec = np.atleast_1d(np.asarray(declination_deg, dtype=np.float64))
    new = _drift_slopes(H, dec, np.array(WATCHES_S), observer, pole) / sigma_arcsec
    after = information + new[..., :, None] * new[..., None, :]
    every = np.concatenate(
        [np.broadcast_to(slopes, (*new.shape[:2], *slopes.shape)), new[..., None, :]], axis=-2
    )
    least = shown_among(every, after).min(axis=-1)
    star = int(np.argmax(least.max(axis=0)))
    most = float(least[:, star].max())
    wanted = max(_NEARLY * most, min(LEAST_SHOWN, most))
    pick = int(np.flatnonzero(least[:, star] >= wanted)[0])
    return NextCheck(star, WATCHES_S[pick], float(least[pick, star]))


def next_drift(
    information: Floats,
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    sigma_arcsec: float,
    wanted_arcmin: float,
    observer: Observer,
    *,
    pole: Pole = "refracted",
) -> NextDrift:
    """Which of the candidate stars (n,) to watch, and how long, after `information` (2, 2).

    `wanted_arcmin`: the standard deviation that the worst direction should come down to; the
    shortest watch that reaches it is chosen, or else the longest. Where nothing is known yet the
    first star can't make both directions known: then it is the one that sees its own best.
    """
    H = np.atleast_1d(np.asarray(hour_angle_h, dtype=np.float64))
    dec = np.atleast_1d(np.asarray(declination_deg, dtype=np.float64))
    watches = np.array(WATCHES_S)
    rows = _drift_slopes(H, dec, watches, observer, pole) / sigma_arcsec
    # A weak belief that the axis is within ten degrees makes every matrix invertible.
    before = information + np.eye(2) / UNKNOWN_ARCMIN**2
    after = before + rows[..., :, None] * rows[..., None, :]
    worst = 1.0 / np.sqrt(np.linalg.eigvalsh(after)[..., 0])
    now = float(1.0 / np.sqrt(np.linalg.eigvalsh(before)[0]))
    knows_nothing = np.linalg.eigvalsh(information)[-1] < UNKNOWN_ARCMIN**-2
    best_direction = np.linalg.eigvalsh(after[-1])[..., 1]
    star = int(np.argmax(best_direction) if knows_nothing else np.argmin(worst[-1]))
    good = np.flatnonzero(worst[:, star] <= wanted_arcmin)
    pick = int(good[0]) if good.size else len(watches) - 1
    return NextDrift(
        candidate=star,
        watch_s=float(watches[pick]),
        worst_now_arcmin=now if now < 0.99 * UNKNOWN_ARCMIN else math.inf,
        worst_then_arcmin=float(worst[pick, star])
        if worst[pick, star] < 0.99 * UNKNOWN_ARCMIN
        else math.inf,
        enough=bool(good.size),
    )


def _drift_slopes(
    H: Floats, dec: Floats, watches_s: Floats, observer: Observer, pole: Pole
) -> Floats:
    """Slopes (watches, stars, 2) of the drift with high and east, arcseconds an arcminute."""
    slopes = [
        (
            drift_arcsec(h, e, H, dec, watches_s[:, None], observer, pole)
            - drift_arcsec(-h, -e, H, dec, watches_s[:, None], observer, pole)
        )
        / (2.0 * _STEP_ARCMIN)
        for h, e in ((_STEP_ARCMIN, 0.0), (0.0, _STEP_ARCMIN))
    ]
    return np.stack(slopes, axis=-1)


def next_reading(
    information: Floats,
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    reading_sigma_arcmin: tuple[float, float],
    observer: Observer,
    *,
    usual: UsualFaults = USUAL_FAULTS,
    pole: Pole = "refracted",
) -> NextReading:
    """Which candidate star (n,) to read next and on which side, after `information` (6, 6).

    The unknowns are in the order of `readings.UNKNOWNS`; `usual`: spread of
    the mount's faults where the information has none. Only poses with the weights below
    the tube, or not more than `PAST_MERIDIAN_H` past level, are offered; a star far enough
    from the poles always has one.
    """
    H = np.atleast_1d(np.asarray(hour_angle_h, dtype=np.float64))
    dec = np.atleast_1d(np.asarray(declination_deg, dtype=np.float64))
    prior = np.diag([UNKNOWN_ARCMIN**-2] * 4 + [usual.cone_arcmin**-2, usual.lean_arcmin**-2])
    before = information + prior
    seen = seen_vectors(H, dec, observer)
    best: NextReading | None = None
    now = _worst(before)
    for side in (1, -1):
        rows = _reading_rows(seen, float(side), observer, pole)
        rows = rows / np.array(reading_sigma_arcmin)[:, None, None]
        # Side east looks at the western sky with the weights down, side west at the eastern.
        for k in (int(i) for i in np.flatnonzero(side * H > -PAST_MERIDIAN_H)):
            r = rows[:, k, :]
            then = _worst(before + r.T @ r)
            if best is None or then < best.worst_then_arcmin - 1e-9:
                best = NextReading(k, side, now, then)
    assert best is not None
    return best


def _worst(information: Floats) -> float:
    about_axis = marginal_information(information, (0, 1))
    return float(1.0 / np.sqrt(np.linalg.eigvalsh(about_axis)[0]))


def _reading_rows(seen: Floats, side: float, observer: Observer, pole: Pole) -> Floats:
    """Slopes (2 circles, stars, 6) of both readings (arcmin) with the six unknowns."""
    to_north = 1.0 if observer.north else -1.0

    def read(x: Floats) -> Floats:
        H, dec = mount_angles(seen, x[..., 0, None], x[..., 1, None], observer, pole)
        h, d = circle_readings(
            H, dec, side, x[..., 4, None], to_north * x[..., 5, None], x[..., 2, None],
            x[..., 3, None],
        )  # fmt: skip
        return np.stack([h * 900.0, d * 60.0])

    steps = np.eye(6) * _STEP_ARCMIN
    up, down = read(steps), read(-steps)
    around = 24.0 * 900.0
    slope = (up - down + around / 2.0) % around - around / 2.0
    return np.moveaxis(slope / (2.0 * _STEP_ARCMIN), 1, -1)
