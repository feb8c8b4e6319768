"""What follows from what is known of the axis: turn which bolt, expect what, measure what next?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum

import numpy as np

from axletree.axis.frame import Pole
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.correct.after_turning import (
    Base,
    ExpectedDrift,
    StarMove,
    expected_drift,
    star_move,
)
from axletree.pole.correct.bolts import AxisError, BoltMoves, bolt_moves
from axletree.pole.correct.next_star import NextDrift, next_check, next_drift
from axletree.pole.enough.of_kit import good_enough
from axletree.pole.enough.tolerance import Tolerance
from axletree.pole.rows.columns import DEFAULT_SIGMA_ARCSEC
from axletree.pole.solution.candidates import MeasurableStars
from axletree.pole.solution.doubt import Doubt, DoubtKind
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.observer import Observer

CHECK_WATCH_S = 300.0
SURE = 0.9
# A turn of a bolt smaller than this can't be made by hand (common practice, no source).
LEAST_TURN = 0.02


class Verdict(StrEnum):
    """Whether the axis stands well enough."""

    GOOD = "good"  # 90 % sure that it does
    BAD = "bad"  # 90 % sure that it doesn't
    OPEN = "open"


@dataclass(frozen=True)
class MoveStar:
    """The star by which a turn of the bolts is seen at the eyepiece while it is made."""

    name: str
    hour_angle_h: float
    declination_deg: float
    move: StarMove


@dataclass(frozen=True)
class ProofStar:
    """The star by whose drift the turn is verified afterwards."""

    name: str
    hour_angle_h: float
    declination_deg: float
    drift: ExpectedDrift
    watched_s: float


@dataclass(frozen=True)
class CheckStar:
    """The star that makes a mistake show which nothing shows so far. `shown_then`: the least part
    of any mistake that shows once it was watched."""

    name: str
    hour_angle_h: float
    watched_s: float
    shown_then: float


@dataclass(frozen=True)
class Advice:
    """What to do. `chance_good`: probability that the axis is within the tolerance already.

    `moves` is None while one direction of the error is still unknown. `next_drift` is None where
    no star can be used, or where another one would bring nothing that matters. `check_star` is
    None unless something is in doubt that another star can settle.
    """

    tolerance: Tolerance
    chance_good: float
    verdict: Verdict
    moves: BoltMoves | None
    move_star: MoveStar | None
    proof_star: ProofStar | None
    next_drift: NextDrift | None
    next_name: str
    any_star: bool
    check_star: CheckStar | None = None


def chance_within(estimate: AxisEstimate, radius_arcmin: float) -> float:
    """Probability that the axis stands within a circle about the pole; 0 while unknown.

    The normal distribution in strips across the longer axis of the error's ellipse, along each of
    which it is an error function.
    """
    covariance = estimate.covariance
    if covariance is None:
        return 0.0
    sizes, directions = np.linalg.eigh(covariance)
    narrow, wide = np.sqrt(np.maximum(sizes, 1e-18))
    x, y = directions.T @ estimate.values
    steps = np.linspace(-5.0, 5.0, 801)
    weight = np.exp(-0.5 * steps**2)
    half = np.sqrt(np.maximum(radius_arcmin**2 - (y + wide * steps) ** 2, 0.0))
    ends = np.stack([half - x, -half - x]) / (narrow * math.sqrt(2.0))
    high, low = (np.array([math.erf(one) for one in row]) for row in ends.tolist())
    return float(weight @ (high - low) / (2.0 * weight.sum()))


def advise(
    estimate: AxisEstimate,
    kit: Kit,
    base: Base,
    near: MeasurableStars | None,
    *,
    good_arcmin: float | None = None,
    doubts: Sequence[Doubt] = (),
) -> Advice:
    """Bolt turns, what a star should do meanwhile, what to verify after, what to measure next.

    `near`: stars that can be used now, None or empty where there are none. `good_arcmin`: the
    person's own tolerance instead of the kit's. `doubts`: what still stands of the measurements
    that the estimate comes from.
    """
    observer, pole = base.observer, base.pole
    tolerance = good_enough(kit)
    limit = tolerance.largest_arcmin if good_arcmin is None else good_arcmin
    chance = chance_within(estimate, limit)
    verdict = Verdict.OPEN
    if chance >= SURE:
        verdict = Verdict.GOOD
    elif chance <= 1.0 - SURE and estimate.rank == 2:
        verdict = Verdict.BAD
    moves: BoltMoves | None = None
    move_star: MoveStar | None = None
    proof_star: ProofStar | None = None
    any_star = near is not None and len(near) > 0
    if estimate.rank == 2:
        moves = bolt_moves(
            kit.mount.bolts,
            AxisError(
                estimate.high_arcmin,
                estimate.east_arcmin,
                estimate.high_sigma_arcmin,
                estimate.east_sigma_arcmin,
            ),
            base.pole_altitude_deg,
            base_high_deg=base.leans_to_pole_deg,
            base_east_deg=base.leans_east_deg,
        )
        if near is not None and any_star:
            move_star = _move_star(estimate, near, base)
            proof_star = _proof_star(estimate, observer, near, pole)
    following: NextDrift | None = None
    name = ""
    wanted = max(limit / 4.0, 0.2)
    if near is not None and any_star and estimate.largest_sigma_arcmin > wanted:
        following = next_drift(
            estimate.information,
            near.hour_angle_h,
            near.declination_deg,
            DEFAULT_SIGMA_ARCSEC,
            wanted,
            observer,
            pole=pole,
        )
        name = near.names[following.candidate]
    check = None
    if near is not None and any_star:
        check = _check_star(estimate, observer, near, pole, doubts)
    return Advice(
        tolerance, chance, verdict, moves, move_star, proof_star, following, name, any_star, check
    )


def _check_star(
    estimate: AxisEstimate,
    observer: Observer,
    near: MeasurableStars,
    pole: Pole,
    doubts: Sequence[Doubt],
) -> CheckStar | None:
    """The star that helps most with the first doubt that another star can settle."""
    # Rows that contradict each other come first: until they are settled the axis is not known.
    for kind in (DoubtKind.DISAGREEING, DoubtKind.UNCHECKED):
        for doubt in doubts:
            if doubt.kind is kind:
                # Widened for the contradiction, the estimate would call every row well checked.
                own = kind is DoubtKind.DISAGREEING
                known = doubt.slopes.T @ doubt.slopes if own else estimate.information
                best = next_check(
                    doubt.slopes,
                    known,
                    near.hour_angle_h,
                    near.declination_deg,
                    DEFAULT_SIGMA_ARCSEC,
                    observer,
                    pole=pole,
                )
                at = best.candidate
                hour = float(near.hour_angle_h[at])
                return CheckStar(near.names[at], hour, best.watch_s, best.shown_then)
    return None


def _move_star(estimate: AxisEstimate, near: MeasurableStars, base: Base) -> MoveStar:
    """A bright star near the meridian: there the altitude bolt moves it north or south and the
    azimuth bolts east or west, so that each can be told from the other."""
    # Two hours from the meridian count as much as one magnitude (the list is by brightness).
    away = np.abs(near.hour_angle_h) / 2.0 + np.arange(len(near)) * 0.1
    at = int(np.argmin(away))
    H, d = float(near.hour_angle_h[at]), float(near.declination_deg[at])
    move = star_move(estimate.high_arcmin, estimate.east_arcmin, H, d, base)
    return MoveStar(near.names[at], H, d, move)


def _proof_star(
    estimate: AxisEstimate, observer: Observer, near: MeasurableStars, pole: Pole
) -> ProofStar:
    """The star whose drift tells most about the error that was found, bright ones preferred."""
    drifts = [
        expected_drift(estimate, float(H), float(d), CHECK_WATCH_S, observer, pole=pole)
        for H, d in zip(near.hour_angle_h, near.declination_deg, strict=True)
    ]
    shown = np.array([abs(e.before_arcsec - e.after_arcsec) for e in drifts])
    # The first (brightest) that shows nine tenths of the most that any star shows.
    at = int(np.flatnonzero(shown >= 0.9 * shown.max())[0])
    return ProofStar(
        near.names[at],
        float(near.hour_angle_h[at]),
        float(near.declination_deg[at]),
        drifts[at],
        CHECK_WATCH_S,
    )
