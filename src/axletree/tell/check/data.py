"""What is there to tell about the axis, as data for programs and as a drawing?"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

import numpy as np

from axletree.kit.kit import Kit
from axletree.pole.correct.advice import Advice, MoveStar, ProofStar
from axletree.pole.correct.bolts import BoltStep
from axletree.pole.solution.combine import Combined
from axletree.pole.solution.doubt import Doubt, doubt_record, still_standing
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.mount_frame import Pole
from axletree.pole.solution.record import Measured, Tonight
from axletree.sky.observer import Observer
from axletree.tell.check.drawing import Shown, axis_ellipse
from axletree.tell.check.findings import Finding, finite
from axletree.tell.shared.words import clock

METHODS = {"drift": "drift", "readings": "circle readings", "frames": "frames"}


# A doubt and the noted measurement that it is about; None if that was not noted.
Standing = tuple[Measured | None, Doubt]


@dataclass(frozen=True)
class Report:
    """All that there is to tell after a measurement, or about all of tonight's together."""

    kit: Kit
    observer: Observer
    at: datetime
    pole: Pole
    finding: Finding | None
    known: Tonight
    together: Combined
    advice: Advice
    good_arcmin: float | None
    noted: str
    learned: tuple[str, ...] = ()  # words about what the logbook taught
    standing: tuple[Standing, ...] = ()  # doubts that nothing has settled

    @property
    def limit_arcmin(self) -> float:
        """What is good enough: the person's figure, or the kit's."""
        own = self.good_arcmin
        return self.advice.tolerance.largest_arcmin if own is None else own

    @property
    def dated_before_last_turn(self) -> bool:
        """Whether this measurement is dated before the last turn of a bolt, as after a clock
        that was set back."""
        turned = self.known.last_turn
        return self.finding is not None and turned is not None and self.finding.at <= turned

    @property
    def several(self) -> bool:
        """Whether more than one measurement counts."""
        return len(self.known.since_turn) > 1


def standing_doubts(
    finding: Finding | None, known: Tonight, together: Combined
) -> tuple[Standing, ...]:
    """The doubts of all measurements that count, without what the others have checked."""
    every: list[Standing] = [
        (measured, doubt)
        for k, measured in enumerate(known.since_turn)
        if k not in together.left_out
        for doubt in measured.doubts
    ]
    if not known.since_turn and finding is not None:
        every = [(None, doubt) for doubt in finding.doubts]
    left = [(m, still_standing(doubt, together.estimate.information)) for m, doubt in every]
    return tuple((m, doubt) for m, doubt in left if doubt is not None)


def measured_words(measured: Measured, report: Report) -> str:
    """'drift, 21:42 (stars.csv)'."""
    method = METHODS.get(measured.method, measured.method)
    return f"{method}, {clock(measured.at, report.kit.site.zone)} ({measured.source})"


def step_words(step: BoltStep) -> str:
    """'loosen the east azimuth bolt 0.40 turns'."""
    way = f" {step.way}" if step.verb == "turn" else ""
    return f"{step.verb} the {step.bolt} bolt {step.turns:.2f} turns{way}"


def check_data(report: Report) -> dict[str, Any]:
    """The answer as plain data; what is unknown is null."""
    estimate, advice = report.together.estimate, report.advice
    data: dict[str, Any] = {
        "at": report.at.isoformat(),
        "pole": report.pole,
        **_estimate_data(estimate),
        "good_enough_arcmin": report.limit_arcmin,
        "good_enough": advice.verdict,
        "chance_good_enough": advice.chance_good,
        "measurements": [
            {
                "method": m.method, "at": m.at.isoformat(), "source": m.source,
                **_estimate_data(m.estimate),
                "left_out": k in report.together.left_out,
                "sigmas_from_the_rest": finite(report.together.misfit_sigmas[k]),
            }
            for k, m in enumerate(report.known.since_turn)
        ],
        "before_last_turn": report.known.before_turn,
        "dated_before_last_turn": report.dated_before_last_turn,
        "at_odds": report.together.at_odds,
        "doubts": [
            {"source": None if m is None else m.source, **doubt_record(doubt)}
            for m, doubt in report.standing
        ],
    }  # fmt: skip
    if report.finding is not None:
        finding = report.finding
        data["this_measurement"] = {
            "method": finding.method, "source": finding.source, **_estimate_data(finding.estimate),
            **finding.data, "remarks": list(finding.remarks),
        }  # fmt: skip
    data["bolts"] = asdict(advice.moves) if advice.moves is not None else None
    data["learned"] = list(report.learned)
    data["while_turning"] = _move_data(advice.move_star)
    data["afterwards"] = _proof_data(advice.proof_star)
    step = advice.next_drift
    data["next_drift"] = None if step is None else {
        "star": advice.next_name,
        "watch_s": step.watch_s,
        "worst_now_arcmin": finite(step.worst_now_arcmin),
        "worst_then_arcmin": finite(step.worst_then_arcmin),
    }  # fmt: skip
    check = advice.check_star
    data["check_star"] = None if check is None else {
        "star": check.name,
        "hour_angle_h": check.hour_angle_h,
        "watch_s": check.watched_s,
        "shown_then": check.shown_then,
    }  # fmt: skip
    data["noted_in"] = report.noted or None
    return data


def _estimate_data(estimate: AxisEstimate) -> dict[str, Any]:
    covariance = estimate.covariance
    ellipse = estimate.ellipse(0.95)
    return {
        "rank": estimate.rank,
        "high_arcmin": estimate.high_arcmin,
        "east_arcmin": estimate.east_arcmin,
        "high_sigma_arcmin": finite(estimate.high_sigma_arcmin),
        "east_sigma_arcmin": finite(estimate.east_sigma_arcmin),
        "total_arcmin": estimate.total_arcmin,
        "total_sigma_arcmin": finite(estimate.total_sigma_arcmin),
        # Where only one direction is known: along this line it may lie, from east towards high.
        "line_deg": _line_deg(estimate),
        "across_line_sigma_arcmin": (
            float(1.0 / np.sqrt(np.linalg.eigvalsh(estimate.information)[-1]))
            if estimate.rank == 1 else None
        ),
        "covariance_arcmin2": None if covariance is None else covariance.tolist(),
        "ellipse_95": None if ellipse is None else {
            "long_arcmin": ellipse.long_arcmin, "short_arcmin": ellipse.short_arcmin,
            "turn_deg": ellipse.turn_deg,
        },
    }  # fmt: skip


def _line_deg(estimate: AxisEstimate) -> float | None:
    if estimate.rank != 1:
        return None
    high, east = np.linalg.eigh(estimate.information)[1][:, 0]
    return float(np.degrees(np.arctan2(high, east)))


def _move_data(star: MoveStar | None) -> dict[str, Any] | None:
    if star is None:
        return None
    return {
        "star": star.name,
        "hour_angle_h": star.hour_angle_h,
        "declination_deg": star.declination_deg,
        "moves_north_arcmin": star.move.north_arcmin,
        "moves_west_arcmin": star.move.west_arcmin,
        "by_altitude_bolt_arcmin": list(star.move.by_altitude),
        "by_azimuth_bolts_arcmin": list(star.move.by_azimuth),
    }


def _proof_data(star: ProofStar | None) -> dict[str, Any] | None:
    if star is None:
        return None
    return {
        "star": star.name,
        "hour_angle_h": star.hour_angle_h,
        "declination_deg": star.declination_deg,
        "watched_s": star.watched_s,
        "drift_before_arcsec": star.drift.before_arcsec,
        "drift_after_arcsec": star.drift.after_arcsec,
        "drift_after_sigma_arcsec": finite(star.drift.sigma_arcsec),
    }


def check_drawing(report: Report) -> str:
    """The drawing: all measurements, their combination, and what is good enough."""
    shown = [
        Shown(measured_words(m, report), m.estimate, k not in report.together.left_out)
        for k, m in enumerate(report.known.since_turn)
    ]
    if not shown and report.finding is not None:
        shown = [Shown(report.finding.words, report.finding.estimate)]
    moves = report.advice.moves
    altitude = azimuth = ""
    if moves is not None and report.advice.verdict != "good":
        if moves.altitude_steps:
            altitude = step_words(moves.altitude_steps[0])
        if moves.azimuth_steps:
            azimuth = ", ".join(step_words(s) for s in moves.azimuth_steps)
    return axis_ellipse(
        report.together.estimate,
        shown,
        report.limit_arcmin,
        report.observer.north,
        site=report.kit.site.name,
        altitude_words=altitude,
        azimuth_words=azimuth,
    )
