"""What is wrong with readings that don't agree: a mistaken star, or a circle set anew?"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from axletree.pole.readings.model import UNKNOWNS, Circle, Settings, settings_of
from axletree.pole.solution.least_squares import Fit, chance_of_more
from axletree.sky.arrays import Floats, Mask

Solver = Callable[[Mask, Floats], Fit]  # (readings that count, spread of `UNKNOWNS`)

RARE = 0.01
# A setting of which one reading tells can't be told from that reading being mistaken.
_LEAST_OF_A_SIDE = 2
_SURE = 3.29  # standard deviations, once in a thousand by chance
_TRIED = 5  # suspects that are looked into; the others fit too well to be mistaken
_TOO_CLOSE = 2.0 * math.log(1000.0)


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
    trials: list[tuple[float, int, Fit, tuple[str, ...]]] = []
    n = len(everyone)
    promise = np.argsort([best.chi2_without((at, n + at)) for at in range(n)])
    for at in (int(k) for k in promise[:_TRIED]):
        rows = everyone.copy()
        rows[at] = False
        trial, assumed = with_open_faults(solved, rows, usual)
        if trial.dof >= 1 and math.isfinite(trial.sigmas[0] + trial.sigmas[1]):
            trials.append((trial.chi2, at, trial, assumed))
    trials.sort(key=lambda entry: entry[0])
    if not trials or chance_of_more(trials[0][0], trials[0][2].dof) < RARE:
        return None
    if len(trials) > 1 and trials[1][0] - trials[0][0] < _TOO_CLOSE:
        return None
    return trials[0][1], trials[0][2], trials[0][3]


def slip_words(h: float, d: float) -> str:
    """What a star looks like whose readings are off by so many hours and degrees.

    Slips of reading that hands often make come first.
    """
    near_h = abs(abs(h) - round(abs(h))) < 0.15
    if near_h and 1 <= round(abs(h)) <= 5 and abs(d) < 1.0:
        return f"the hour circle looks misread by {round(abs(h))} h"
    if abs(h) < 0.15 and round(abs(d) / 10.0) >= 1 and abs(abs(d) % 10.0 - 5.0) > 4.0:
        return f"the declination circle looks misread by {10 * round(abs(d) / 10.0)}°"
    if abs(h) > 0.15 and abs(d) > 1.0:
        return "both circles are off: probably another star"
    return f"off by {h * 60.0:+.1f} min and {d:+.1f}°".replace("-", "−")
