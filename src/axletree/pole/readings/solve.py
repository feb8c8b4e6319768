"""How far is the axis off, and how true is the mount, from its own circles?

Stars are centred by hand and both circles are read, on one tube side or both. Six unknowns: the
axis error `high` and `east`, the index errors of both circles, and two faults of the mount: how
far the tube leans out from the square (`cone`) and how far the tube's end of the declination axis
leans to the elevated pole (`lean`). Two stars far apart fix the first four; one star near the
meridian, read on both sides, the altitude of the axis and the index error of the declination
circle. The faults need both tube sides or a wide range of declinations. A fault that the readings
leave open is not set to nought but given the spread that such mounts have, so that the
uncertainty of the axis stays honest. A circle that was set anew between the sides is said so, or
noticed.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.axis.circles import folded_deg, side_signs
from axletree.axis.frame import Pole, seen_vectors
from axletree.axis.unknowns import UNKNOWNS, Circle
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.parts.circles import WITH_CARE_DIVISION
from axletree.pole.readings.model import Settings, expected_readings, settings_of, start_values
from axletree.pole.readings.observed import (
    USUAL_FAULTS,
    CircleErrors,
    CircleReadings,
    UsualFaults,
)
from axletree.pole.readings.suspects import (
    Slip,
    Solver,
    anew_between_sides,
    anew_seen_from,
    moved_for_sure,
    slip_of,
    with_open_faults,
    without_one,
)
from axletree.pole.solution.estimate import UNKNOWN_ARCMIN, AxisEstimate
from axletree.pole.solution.least_squares import (
    Fit,
    chance_of_more,
    fit,
    marginal_information,
    sigmas_of,
)
from axletree.pole.solution.outliers import RARE
from axletree.sky.arrays import Floats, Mask
from axletree.sky.observer import Observer

# Fewer readings fix nothing of the axis.
LEAST_READINGS = 2
NEAREST_POLE_DEG = 88.0  # of declination; nearer to the pole the hour circle means nothing
# An index error known no better than this isn't worth telling: the eye sees more at a glance.
VAGUE_ARCMIN = 60.0
_HALF_CIRCLE_ARCMIN = 12.0 * 900.0  # hour circles read the same half a turn apart


@dataclass(frozen=True)
class CircleIndex:
    """What one setting of one circle shows too much, arcminutes of the circle.

    Of the declination circle on tube side east; on side west it is as much to the other side.
    `setting`: what it is called, '' where the circle was left alone.
    """

    circle: Circle
    setting: str
    arcmin: float
    sigma_arcmin: float

    def shows_too_much_arcmin(self, side: int) -> float:
        """Shown minus right on tube side +1 east or -1 west."""
        return self.arcmin * (side if self.circle == "declination" else 1)


@dataclass(frozen=True)
class ReadingsSolution:
    """The axis error and the mount's faults from circle readings. Angles in arcminutes.

    `values`, `sigmas`: in the order of `UNKNOWNS`; a sigma is infinite where the readings leave
    the value open. Index errors in `UNKNOWNS` are those of the last setting, `indices` has every
    one that is worth telling. `set_anew`: circles that were found to have been set anew between
    the tube sides, though nobody said so. `anew_seen_from_arcmin`: how far each circle of which
    nobody said anything must have been moved then to be noticed; infinite where the readings
    can't tell, empty where only one side was read. `rank`: how many unknowns the readings fix, a
    setting's index error among them. `assumed`: faults that the readings could not fix; they
    were taken as 0 with their usual spread. `hour_misfit_arcmin`, `declination_misfit_arcmin`
    (stars,): read minus expected. `left_out`: stars that don't fit and were not used; `slips`
    says of each what it looks like. `chance`: how often honest noise fits as badly; `widened`:
    factor put on the uncertainties because the readings disagree among each other.
    """

    estimate: AxisEstimate
    values: Floats
    sigmas: Floats
    information: Floats
    rank: int
    assumed: tuple[str, ...]
    hour_misfit_arcmin: Floats
    declination_misfit_arcmin: Floats
    indices: tuple[CircleIndex, ...] = ()
    set_anew: tuple[Circle, ...] = ()
    anew_seen_from_arcmin: tuple[tuple[Circle, float], ...] = ()
    left_out: tuple[int, ...] = ()
    slips: tuple[Slip, ...] = ()
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

    def index(self, circle: Circle) -> CircleIndex | None:
        """The index error of a circle's last setting, None where it isn't worth telling."""
        return next((own for own in self.indices if own.circle == circle), None)


def circle_sigmas_arcmin(
    hour_step_min: float, declination_step_deg: float, read_division: float = WITH_CARE_DIVISION
) -> tuple[float, float]:
    """Standard deviations of readings of circles with these divisions, arcminutes of the circle.

    `read_division`: error of a reading in parts of a division.
    """
    return read_division * hour_step_min * 15.0, read_division * declination_step_deg * 60.0


def solve_readings(
    readings: CircleReadings,
    observer: Observer,
    errors: CircleErrors,
    *,
    pole: Pole = "refracted",
    usual: UsualFaults = USUAL_FAULTS,
) -> ReadingsSolution:
    """The axis error, index errors and faults from stars that were centred by hand.

    `usual`: spreads of the faults that the readings leave open. Where nothing is said of settings,
    circles set anew between the tube sides are noticed if the readings can't agree otherwise.
    From four readings on one mistaken star is found and left out. Refuses fewer than two, and
    stars within two degrees of a pole.
    """
    H, dec, shown_h, shown_deg = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(a, dtype=np.float64))
            for a in (
                readings.hour_angle_h, readings.declination_deg, readings.hour_circle_h,
                readings.declination_circle_deg,
            )
        )
    )  # fmt: skip
    signs = np.broadcast_to(side_signs(readings.sides), H.shape)
    if len(H) < LEAST_READINGS:
        raise AxletreeError(
            "one circle reading fixes nothing: read at least two stars, or one on both tube sides"
        )
    if np.any(np.abs(dec) > NEAREST_POLE_DEG):
        raise AxletreeError(
            f"a star at declination {dec[np.argmax(np.abs(dec))]:+.1f}° says nothing about the "
            f"hour circle: choose stars within {NEAREST_POLE_DEG:g}° of the equator"
        )
    seen = seen_vectors(H, dec, observer)
    flat = np.maximum(np.cos(np.radians(dec)), 0.02)
    sigma_h = np.hypot(errors.hour_arcmin, errors.centring_arcmin / flat)
    sigma_d = np.full(len(H), math.hypot(errors.declination_arcmin, errors.centring_arcmin))
    shown_deg = folded_deg(shown_deg)
    observed = np.concatenate([shown_h * 900.0, shown_deg * 60.0])
    sigma = np.concatenate([sigma_h, sigma_d])
    spreads = np.array([usual.cone_arcmin, usual.lean_arcmin])

    def solver(settings: Settings) -> Solver:
        start = start_values(seen, signs, shown_h, shown_deg, settings, observer, pole)

        def solved(rows: Mask, spread: Floats) -> Fit:
            n = int(rows.sum())
            own = settings.of_rows(rows)

            def model(x: Floats) -> Floats:
                h, d = expected_readings(x, seen[rows], signs[rows], observer, pole, own)
                return np.concatenate([h * 900.0, d * 60.0], axis=-1)

            def difference(a: Floats, b: Floats) -> Floats:
                out = np.asarray(a - b)
                half = _HALF_CIRCLE_ARCMIN
                out[..., :n] = np.mod(out[..., :n] + half / 2.0, half) - half / 2.0
                return out

            both = np.concatenate([rows, rows])
            return fit(
                model, start, observed[both], sigma[both],
                spread=np.concatenate([spread, np.full(len(start) - len(spread), np.inf)]),
                difference=difference,
            )  # fmt: skip

        return solved

    everyone = np.ones(len(H), dtype=bool)
    unsaid = [""] * len(H)
    settings = settings_of(
        readings.hour_settings or unsaid, readings.declination_settings or unsaid
    )
    solved = solver(settings)
    best, assumed = with_open_faults(solved, everyone, spreads)
    set_anew: tuple[Circle, ...] = ()
    left_out: tuple[int, ...] = ()
    untold: list[Circle] = []
    untold += ["declination"] if readings.declination_settings is None else []
    untold += ["hour"] if readings.hour_settings is None else []
    seen_from = anew_seen_from(best, signs, sigma, untold)
    wrong = best.dof >= 1 and best.chance < RARE
    anew = None
    if wrong or moved_for_sure(best, signs, sigma, untold):
        anew = anew_between_sides(solver, signs, settings, untold, everyone, spreads)
    better = without_one(solved, best, everyone, spreads) if wrong and len(H) >= 4 else None
    if anew is not None and (better is None or anew[2].chance >= better[1].chance):
        set_anew, settings, best, assumed = anew
    elif better is not None:
        at, best, assumed = better
        left_out = (at,)
    chance = chance_of_more(best.chi2, best.dof)
    widened = math.sqrt(best.chi2 / best.dof) if best.dof and chance < RARE else 1.0
    six = tuple(range(len(UNKNOWNS)))
    information = marginal_information(best.information, six) / widened**2
    expected = expected_readings(best.values, seen, signs, observer, pole, settings)
    off_h = np.mod(shown_h - expected[0] + 6.0, 12.0) - 6.0
    off_d = (shown_deg - expected[1]) * 60.0
    return ReadingsSolution(
        estimate=_axis(best, widened),
        values=best.values[: len(UNKNOWNS)],
        sigmas=sigmas_of(information),
        information=information,
        rank=best.rank - len(assumed),
        assumed=assumed,
        hour_misfit_arcmin=off_h * 900.0,
        declination_misfit_arcmin=off_d,
        indices=_indices(best, settings, widened),
        set_anew=set_anew,
        anew_seen_from_arcmin=seen_from,
        left_out=left_out,
        slips=tuple(slip_of(float(off_h[at]), float(off_d[at]) / 60.0) for at in left_out),
        chi2=best.chi2,
        dof=best.dof,
        chance=chance,
        widened=widened,
    )


def _axis(best: Fit, widened: float) -> AxisEstimate:
    """The axis of a fit; where one mixture of its errors is known, the least that has it."""
    information = best.information_about((0, 1)) / widened**2
    sizes, directions = np.linalg.eigh(information)
    known = directions[:, sizes > UNKNOWN_ARCMIN**-2]
    high, east = known @ known.T @ best.values[:2]
    return AxisEstimate(float(high), float(east), information)


def _indices(best: Fit, settings: Settings, widened: float) -> tuple[CircleIndex, ...]:
    """The index errors that are known well enough to be told.

    One star leaves one error of the axis open, and so a little of every index error: there the
    weak belief counts that no unknown is larger than what is called unknown.
    """
    belief = np.eye(len(best.values)) / UNKNOWN_ARCMIN**2
    sigmas = best.sigmas * widened
    weak = np.sqrt(np.diag(np.linalg.inv(best.information / widened**2 + belief)))
    told = []
    circles: tuple[tuple[Circle, tuple[str, ...]], ...] = (
        ("hour", settings.hour_names), ("declination", settings.declination_names),
    )  # fmt: skip
    for circle, names in circles:
        for k, name in enumerate(names):
            at = settings.place(circle, k)
            sigma = float(sigmas[at] if math.isfinite(sigmas[at]) else weak[at])
            if sigma <= VAGUE_ARCMIN:
                told.append(CircleIndex(circle, name, float(best.values[at]), sigma))
    return tuple(told)
