"""What is wrong with readings that don't agree: a mistaken star, or a circle set anew?"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from enum import StrEnum

import numpy as np

from axletree.axis.unknowns import UNKNOWNS, Circle
from axletree.kit.frozen import dataclass
from axletree.pole.readings.model import Settings, settings_of
from axletree.pole.solution.least_squares import Fit
from axletree.pole.solution.outliers import RARE, Without, odd_one
from axletree.sky.arrays import Floats, Mask

Solver = Callable[[Mask, Floats], Fit]  # (readings that count, spread of `UNKNOWNS`)

# A setting of which one reading tells can't be told from that reading being mistaken.
_LEAST_OF_A_SIDE = 2
_SURE = 3.29  # standard deviations, once in a thousand by chance
_TRIED = 5  # suspects that are looked into; the others fit too well to be mistaken


class SlipKind(StrEnum):
    """What may have happened to a star's readings."""

    HOUR_MISREAD = "hour misread"  # by whole hours
    DECLINATION_MISREAD = "declination misread"  # by tens of degrees
    ANOTHER_STAR = "another star"  # both circles are off
    OFF = "off"  # by no amount that tells why


@dataclass(frozen=True)
class Slip:
    """What a star's readings look like that fit no others: shown minus expected on each circle."""

    kind: SlipKind
    hours: float
    degrees: float


def with_open_faults(solved: Solver, rows: Mask, usual: Floats) -> tuple[Fit, tuple[str, ...]]:
    """Free what the readings fix better than mounts usually are; assume the rest."""
    spread = np.full(len(UNKNOWNS), np.inf)
    assumed: list[str] = []
    best = solved(rows, spread)
    # The lean is the smaller fault and the harder to see: it gives way first.
    for at, limit in ((5, float(usual[1])), (4, float(usual[0]))):
        sigma = float(best.sigmas[at])
        if sigma > limit:
            spread[at] = limit
            assumed.insert(0, UNKNOWNS[at])
            best = solved(rows, spread)
    return best, tuple(assumed)


def anew_seen_from(
    best: Fit, signs: Floats, sigma: Floats, untold: Sequence[Circle]
) -> tuple[tuple[Circle, float], ...]:
    """By how much a circle must have been moved between the sides to be noticed, arcminutes.

    Four standard deviations of what it would have been moved by; infinite where nothing tells.
    `sigma` (2 stars,): of the hour circle's and then the declination circle's readings. Empty
    where one side only was read.
    """
    if np.all(signs > 0) or np.all(signs < 0):
        return ()
    return tuple((circle, 4.0 * _moved(best, signs, sigma, circle)[0]) for circle in untold)


def moved_for_sure(best: Fit, signs: Floats, sigma: Floats, untold: Sequence[Circle]) -> bool:
    """Whether the misfits tell of a circle that was moved between the sides."""
    return any(abs(_moved(best, signs, sigma, circle)[1]) > _SURE for circle in untold)


def _moved(best: Fit, signs: Floats, sigma: Floats, circle: Circle) -> tuple[float, float]:
    """How well a move between the sides would be known, and the move found, in its own sigmas.

    One unknown more, to first order: the part of its column that the others don't absorb
    (R. D. Cook and S. Weisberg 1982, Residuals and Influence in Regression, ch. 2.2).
    """
    n, west = len(signs), signs < 0
    if min(int(np.sum(west)), int(np.sum(~west))) < _LEAST_OF_A_SIDE or best.dof < 1:
        return math.inf, 0.0
    column = np.zeros(2 * n)
    if circle == "hour":
        column[:n] = west / sigma[:n]
    else:
        column[n:] = -(west / sigma[n:])
    left = float(column @ column - column @ best.hat() @ column)
    if left < 1e-9 * float(column @ column):
        return math.inf, 0.0
    return 1.0 / math.sqrt(left), float(column @ best.misfits) / math.sqrt(left)


def anew_between_sides(
    solver: Callable[[Settings], Solver], signs: Floats, told: Settings,
    untold: Sequence[Circle], everyone: Mask, usual: Floats,
) -> tuple[tuple[Circle, ...], Settings, Fit, tuple[str, ...]] | None:  # fmt: skip
    """The fewest circles whose setting anew between the sides makes all readings agree."""
    if min(int(np.sum(signs > 0)), int(np.sum(signs < 0))) < _LEAST_OF_A_SIDE:
        return None
    sides = ["east" if sign > 0 else "west" for sign in signs]
    trials: list[tuple[Circle, ...]] = [(circle,) for circle in untold]
    if len(untold) > 1:
        trials.append(tuple(untold))
    for trial in trials:
        settings = settings_of(
            sides if "hour" in trial else [told.hour_names[k] for k in told.hour],
            sides if "declination" in trial
            else [told.declination_names[k] for k in told.declination],
        )  # fmt: skip
        found, assumed = with_open_faults(solver(settings), everyone, usual)
        if found.dof >= 1 and found.chance >= RARE:
            return trial, settings, found, assumed
    return None


def without_one(
    solved: Solver, best: Fit, everyone: Mask, usual: Floats
) -> tuple[int, Fit, tuple[str, ...]] | None:
    """The star whose removal makes all others agree, if there is exactly one such."""
    trials: list[tuple[int, Fit, tuple[str, ...]]] = []
    n = len(everyone)
    promise = np.argsort([best.chi2_without((at, n + at)) for at in range(n)])
    for at in (int(k) for k in promise[:_TRIED]):
        rows = everyone.copy()
        rows[at] = False
        trial, assumed = with_open_faults(solved, rows, usual)
        if trial.dof >= 1 and math.isfinite(trial.sigmas[0] + trial.sigmas[1]):
            trials.append((at, trial, assumed))
    found = odd_one([Without(trial.chi2, trial.dof) for _, trial, _ in trials])
    return None if found is None else trials[found]


def slip_of(hours: float, degrees: float) -> Slip:
    """What a star looks like whose readings are off by so many hours and degrees.

    Slips of reading that hands often make come first.
    """
    near_h = abs(abs(hours) - round(abs(hours))) < 0.15
    if near_h and 1 <= round(abs(hours)) <= 5 and abs(degrees) < 1.0:
        return Slip(SlipKind.HOUR_MISREAD, hours, degrees)
    tens = round(abs(degrees) / 10.0) >= 1 and abs(abs(degrees) % 10.0 - 5.0) > 4.0
    if abs(hours) < 0.15 and tens:
        return Slip(SlipKind.DECLINATION_MISREAD, hours, degrees)
    if abs(hours) > 0.15 and abs(degrees) > 1.0:
        return Slip(SlipKind.ANOTHER_STAR, hours, degrees)
    return Slip(SlipKind.OFF, hours, degrees)
