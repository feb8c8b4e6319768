"""How far is the axis off, and how true is the mount, from its own circles?

Stars are centred by hand and both circles are read, on one tube side or both. Six unknowns: the
axis error `high` and `east`, the index errors of both circles, and two faults of the mount: how
far the tube leans out from the square (`cone`) and how far the tube's end of the declination axis
leans to the elevated pole (`lean`). Two stars far apart fix the first four; the faults need both
tube sides or a wide range of declinations. A fault that the readings leave open is not set to
nought but given the spread that such mounts have, so that the uncertainty of the axis stays
honest.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.kit.errors import AxletreeError
from axletree.pole.circles import circle_readings
from axletree.pole.estimate import AxisEstimate
from axletree.pole.least_squares import Fit, chance_of_more, fit, sigmas_of
from axletree.pole.mount_frame import Pole, mount_angles, seen_vectors
from axletree.sky.observer import Observer

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]
Solver = Callable[[Mask, Floats, Floats], Fit]
Side = Literal["east", "west"]

UNKNOWNS = ("high", "east", "index_hour", "index_declination", "cone", "lean")
# What ordinary mounts have as they leave the bench (common practice, no source).
USUAL_CONE_ARCMIN = 20.0
USUAL_LEAN_ARCMIN = 10.0
NEAREST_POLE_DEG = 88.0  # of declination; nearer to the pole the hour circle means nothing
RARE = 0.01
_TRIED = 5  # suspects that are looked into; the others fit too well to be mistaken
_TOO_CLOSE = 2.0 * math.log(1000.0)
_HALF_CIRCLE_ARCMIN = 12.0 * 900.0  # hour circles read the same half a turn apart


@dataclass(frozen=True)
class ReadingsSolution:
    """The axis error and the mount's faults from circle readings. Angles in arcminutes.

    `values`, `sigmas`: in the order of `UNKNOWNS`; a sigma is infinite where the readings leave
    the value open. `assumed`: faults that the readings could not fix; they were taken as 0 with
    their usual spread. `hour_misfit_arcmin`, `declination_misfit_arcmin` (stars,): read minus
    expected. `left_out`: stars that don't fit and were not used; `hints` says of each what it
    looks like. `chance`: how often honest noise fits as badly; `widened`: factor put on the
    uncertainties because the readings disagree among each other.
    """

    estimate: AxisEstimate
    values: Floats
    sigmas: Floats
    information: Floats
    rank: int
    assumed: tuple[str, ...]
    hour_misfit_arcmin: Floats
    declination_misfit_arcmin: Floats
    left_out: tuple[int, ...] = ()
    hints: tuple[str, ...] = ()
    chi2: float = 0.0
    dof: int = 0
    chance: float = 1.0
    widened: float = 1.0

    def known(self, name: str) -> tuple[float, float] | None:
        """(value, sigma) of one unknown in arcminutes, None where the readings leave it open."""
        at = UNKNOWNS.index(name)
        if name in self.assumed or not math.isfinite(self.sigmas[at]):
            return None
        return float(self.values[at]), float(self.sigmas[at])


def circle_sigmas_arcmin(hour_step_min: float, declination_step_deg: float) -> tuple[float, float]:
    """Standard deviations of readings of circles with these divisions, arcminutes of the circle.

    Read by eye to a tenth of a division (common practice, no source).
    """
    return 0.1 * hour_step_min * 15.0, 0.1 * declination_step_deg * 60.0


def side_signs(sides: ArrayLike) -> Floats:
    """+1 for tube side 'east', -1 for 'west'; refuses anything else."""
    words = np.atleast_1d(np.asarray(sides))
    signs = np.where(words == "east", 1.0, np.where(words == "west", -1.0, 0.0))
    if np.any(signs == 0.0):
        raise AxletreeError(f"tube side '{words[signs == 0.0][0]}' is neither 'east' nor 'west'")
    return signs


def expected_readings(
    values: Floats, seen: Floats, sides: Floats, observer: Observer, pole: Pole = "refracted"
) -> tuple[Floats, Floats]:
    """Hour circle (h) and declination circle (degrees), shape (..., stars).

    `values` (..., 6) in the order of `UNKNOWNS`; `seen` (stars, 3); `sides` (stars,) +1 or -1.
    """
    high, east, index_hour, index_declination, cone, lean = (
        values[..., k, None] for k in range(len(UNKNOWNS))
    )
    H, dec = mount_angles(seen, high, east, observer, pole)
    to_north = lean if observer.north else -lean
    return circle_readings(H, dec, sides, cone, to_north, index_hour, index_declination)


def solve_readings(
    hour_angle_h: ArrayLike,
    declination_deg: ArrayLike,
    sides: ArrayLike,
    hour_circle_h: ArrayLike,
    declination_circle_deg: ArrayLike,
    observer: Observer,
    *,
    circle_sigma_arcmin: tuple[float, float],
    centring_sigma_arcmin: float = 2.0,
    pole: Pole = "refracted",
    usual_cone_arcmin: float = USUAL_CONE_ARCMIN,
    usual_lean_arcmin: float = USUAL_LEAN_ARCMIN,
) -> ReadingsSolution:
    """The axis error, index errors and faults from stars that were centred by hand.

    Arrays of shape (stars,): hour angle (h) and declination (degrees) of date, tube side,
    readings of both circles (north positive; hour circle growing to the west, readings half a
    circle apart count as the same). `circle_sigma_arcmin`: standard deviations of an hour circle
    and a declination circle reading; `centring_sigma_arcmin`: of a star's centring.
    From four stars on one mistaken star is found and left out. Refuses fewer than two readings.
    """
    H, dec, shown_h, shown_deg = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(a, dtype=np.float64))
            for a in (hour_angle_h, declination_deg, hour_circle_h, declination_circle_deg)
        )
    )
    signs = np.broadcast_to(side_signs(sides), H.shape)
    if len(H) < 2:
        raise AxletreeError("circle readings of one star fix nothing: read at least two stars")
    if np.any(np.abs(dec) > NEAREST_POLE_DEG):
        raise AxletreeError(
            f"a star at declination {dec[np.argmax(np.abs(dec))]:+.1f}° says nothing about the "
            f"hour circle: choose stars within {NEAREST_POLE_DEG:g}° of the equator"
        )
    seen = seen_vectors(H, dec, observer)
    flat = np.maximum(np.cos(np.radians(dec)), 0.02)
    sigma_h = np.hypot(circle_sigma_arcmin[0], centring_sigma_arcmin / flat)
    sigma_d = np.full(len(H), math.hypot(circle_sigma_arcmin[1], centring_sigma_arcmin))
    observed = np.concatenate([shown_h * 900.0, shown_deg * 60.0])
    sigma = np.concatenate([sigma_h, sigma_d])

    def solved(rows: Mask, spread: Floats, start: Floats) -> Fit:
        n = int(rows.sum())

        def model(x: Floats) -> Floats:
            h, d = expected_readings(x, seen[rows], signs[rows], observer, pole)
            return np.concatenate([h * 900.0, d * 60.0], axis=-1)

        def difference(a: Floats, b: Floats) -> Floats:
            out = np.asarray(a - b)
            half = _HALF_CIRCLE_ARCMIN
            out[..., :n] = np.mod(out[..., :n] + half / 2.0, half) - half / 2.0
            return out

        both = np.concatenate([rows, rows])
        return fit(model, start, observed[both], sigma[both], spread=spread, difference=difference)

    everyone = np.ones(len(H), dtype=bool)
    start = _start(seen, signs, shown_h, shown_deg, observer, pole)
    usual = np.array([usual_cone_arcmin, usual_lean_arcmin])
    best, assumed = _with_open_faults(solved, everyone, start, usual)
    left_out: tuple[int, ...] = ()
    if best.dof >= 1 and best.chance < RARE and len(H) >= 4:
        better = _without_one(solved, best, everyone, start, usual)
        if better is not None:
            at, best, assumed = better
            left_out = (at,)
    chance = chance_of_more(best.chi2, best.dof)
    widened = math.sqrt(best.chi2 / best.dof) if best.dof and chance < RARE else 1.0
    information = best.information / widened**2
    expected = expected_readings(best.values, seen, signs, observer, pole)
    off_h = np.mod(shown_h - expected[0] + 6.0, 12.0) - 6.0
    off_d = (shown_deg - expected[1]) * 60.0
    solution = ReadingsSolution(
        estimate=AxisEstimate(
            float(best.values[0]),
            float(best.values[1]),
            best.information_about((0, 1)) / widened**2,
        ),
        values=best.values,
        sigmas=sigmas_of(information),
        information=information,
        rank=best.rank - len(assumed),
        assumed=assumed,
        hour_misfit_arcmin=off_h * 900.0,
        declination_misfit_arcmin=off_d,
        left_out=left_out,
        chi2=best.chi2,
        dof=best.dof,
        chance=chance,
        widened=widened,
    )
    return replace(solution, hints=tuple(_hint(solution, at) for at in left_out))


def _start(
    seen: Floats, signs: Floats, shown_h: Floats, shown_deg: Floats, observer: Observer, pole: Pole
) -> Floats:
    """Index errors from the middle of what the circles show, everything else nought."""
    h, d = expected_readings(np.zeros(len(UNKNOWNS)), seen, signs, observer, pole)
    around = np.exp(2j * np.pi * (shown_h - h) / 12.0)
    # The medoid rather than the mean: one mistaken star must not carry the start away.
    spread = np.abs(np.angle(around[:, None] / around[None, :])).sum(axis=0)
    index_hour = float(np.angle(around[int(np.argmin(spread))])) / (2.0 * np.pi) * 12.0 * 900.0
    index_declination = float(np.median(shown_deg - d)) * 60.0
    return np.array([0.0, 0.0, index_hour, index_declination, 0.0, 0.0])


def _with_open_faults(
    solved: Solver, rows: Mask, start: Floats, usual: Floats
) -> tuple[Fit, tuple[str, ...]]:
    """Free what the readings fix better than mounts usually are; assume the rest."""
    spread = np.full(len(UNKNOWNS), np.inf)
    assumed: list[str] = []
    best = solved(rows, spread, start)
    # The lean is the smaller fault and the harder to see: it gives way first.
    for at, limit in ((5, float(usual[1])), (4, float(usual[0]))):
        sigma = float(best.sigmas[at])
        if sigma > limit:
            spread[at] = limit
            assumed.insert(0, UNKNOWNS[at])
            best = solved(rows, spread, start)
    return best, tuple(assumed)


def _without_one(
    solved: Solver, best: Fit, everyone: Mask, start: Floats, usual: Floats
) -> tuple[int, Fit, tuple[str, ...]] | None:
    """The star whose removal makes all others agree, if there is exactly one such."""
    trials: list[tuple[float, int, Fit, tuple[str, ...]]] = []
    n = len(everyone)
    promise = np.argsort([best.chi2_without((at, n + at)) for at in range(n)])
    for at in (int(k) for k in promise[:_TRIED]):
        rows = everyone.copy()
        rows[at] = False
        trial, assumed = _with_open_faults(solved, rows, start, usual)
        if trial.dof >= 1 and math.isfinite(trial.sigmas[0] + trial.sigmas[1]):
            trials.append((trial.chi2, at, trial, assumed))
    trials.sort(key=lambda entry: entry[0])
    if not trials or chance_of_more(trials[0][0], trials[0][2].dof) < RARE:
        return None
    if len(trials) > 1 and trials[1][0] - trials[0][0] < _TOO_CLOSE:
        return None
    return trials[0][1], trials[0][2], trials[0][3]


def _hint(solution: ReadingsSolution, at: int) -> str:
    """What a star that doesn't fit looks like: a slip of reading that hands often make."""
    h, d = solution.hour_misfit_arcmin[at] / 900.0, solution.declination_misfit_arcmin[at] / 60.0
    near_h = abs(abs(h) - round(abs(h))) < 0.15
    if near_h and 1 <= round(abs(h)) <= 5 and abs(d) < 1.0:
        return f"the hour circle looks misread by {round(abs(h))} h"
    if abs(h) < 0.15 and round(abs(d) / 10.0) >= 1 and abs(abs(d) % 10.0 - 5.0) > 4.0:
        return f"the declination circle looks misread by {10 * round(abs(d) / 10.0)}°"
    if abs(h) > 0.15 and abs(d) > 1.0:
        return "both circles are off: probably another star"
    return f"off by {h * 60.0:+.1f} min and {d:+.1f}°".replace("-", "−")
