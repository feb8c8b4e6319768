"""What does a program get to know about the axis? Keys carry units; what is unknown is null."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any, cast

import numpy as np

from axletree.axis.unknowns import CIRCLES, UNKNOWNS
from axletree.pole.correct.advice import Advice, MoveStar, ProofStar
from axletree.pole.correct.bolts import BoltMoves
from axletree.pole.readings.solve import ReadingsSolution
from axletree.pole.solution.doubt import doubt_record
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.record import turn_record
from axletree.stages.set_up.check import CheckAnswer, TurnedAnswer
from axletree.stages.set_up.check_findings import (
    DriftFinding,
    Finding,
    FramesFinding,
    ReadingsFinding,
)
from axletree.tell.check.forms import (
    BoltsData,
    CheckData,
    CheckStarData,
    EstimateData,
    FindingData,
    MeasuredData,
    MoveStarData,
    NextDriftData,
    OfMethodData,
    ProofStarData,
    RemarkData,
    TurnedData,
)
from axletree.tell.check.measured_text import remark_words


def check_data(
    answer: CheckAnswer, learned: Sequence[str] = (), noted_in: str | None = None
) -> CheckData:
    """The answer for programs. `learned`, `noted_in`: what the logbook taught, where it stands."""
    advice, together = answer.advice, answer.together
    data: dict[str, Any] = {
        "version": 1,
        "at": answer.at.isoformat(),
        "pole": answer.pole,
        **estimate_data(answer.estimate),
        "good_enough_arcmin": answer.limit_arcmin,
        "good_enough": advice.verdict.value,
        "chance_good_enough": advice.chance_good,
        "measurements": _measurements(answer),
        "before_last_turn": answer.known.before_turn,
        "dated_before_last_turn": answer.dated_before_last_turn,
        "at_odds": together is not None and together.at_odds,
        "doubts": [
            {
                "source": None if s.measured is None else s.measured.source,
                **doubt_record(s.doubt),
            }
            for s in answer.standing
        ],
        "bolts": None if advice.moves is None else _bolts(advice.moves),
        "bolts_to_turn": answer.to_turn,
        "learned": list(learned),
        "while_turning": _move_star(advice.move_star),
        "afterwards": _proof_star(advice.proof_star),
        "next_drift": next_drift_data(advice),
        "check_star": _check_star(advice),
        "air_lifts_pole_arcmin": answer.pole_lift_arcmin,
        "guessed": list(answer.guessed),
        "noted_in": noted_in,
    }
    if answer.finding is not None:
        data["this_measurement"] = finding_data(answer.finding)
    return cast(CheckData, data)


def turned_data(answer: TurnedAnswer, noted_in: str) -> TurnedData:
    """That bolts were turned, as it is noted."""
    turns = answer.altitude_turns, answer.azimuth_turns
    record = turn_record(answer.at, *turns, answer.observer)
    return {
        "version": 1,
        "kind": record["kind"],
        "at": record["at"],
        "latitude_deg": record["latitude_deg"],
        "longitude_deg": record["longitude_deg"],
        "altitude_turns": record["altitude_turns"],
        "azimuth_turns": record["azimuth_turns"],
        "noted_in": noted_in,
    }


def finding_data(finding: Finding) -> FindingData:
    """What one measurement says by itself."""
    remarks = finding.remarks
    base = {
        "method": finding.method.value,
        "source": finding.source,
        **estimate_data(finding.estimate),
        "chance_of_worse_fit": finding.solved.chance,
        "degrees_of_freedom": finding.solved.dof,
        "remark_codes": [
            RemarkData(code=remark.kind.value, rows=list(remark.rows), circle=remark.circle)
            for remark in remarks
        ],
        "remarks": remark_words(finding),
    }
    if isinstance(finding, DriftFinding):
        return cast(FindingData, {**base, **_of_drifts(finding)})
    if isinstance(finding, ReadingsFinding):
        # Of all that the readings ask for, not of the axis alone.
        rank = finding.solved.rank
        return cast(FindingData, {**base, **_of_readings(finding), "rank": rank})
    return cast(FindingData, {**base, **_of_frames(finding)})


def estimate_data(estimate: AxisEstimate) -> EstimateData:
    """How far the axis is off, and how well that is known."""
    covariance = estimate.covariance
    ellipse = estimate.ellipse(0.95)
    line_deg = across = None
    if estimate.rank == 1:
        sizes, directions = np.linalg.eigh(estimate.information)
        high, east = directions[:, 0]
        line_deg = float(np.degrees(np.arctan2(high, east)))
        across = float(1.0 / np.sqrt(sizes[-1]))
    return {
        "rank": estimate.rank,
        "high_arcmin": estimate.high_arcmin,
        "east_arcmin": estimate.east_arcmin,
        "high_sigma_arcmin": _finite(estimate.high_sigma_arcmin),
        "east_sigma_arcmin": _finite(estimate.east_sigma_arcmin),
        "total_arcmin": estimate.total_arcmin,
        "total_sigma_arcmin": _finite(estimate.total_sigma_arcmin),
        "line_deg": line_deg,
        "across_line_sigma_arcmin": across,
        "covariance_arcmin2": None if covariance is None else covariance.tolist(),
        "ellipse_95": None
        if ellipse is None
        else {
            "long_arcmin": ellipse.long_arcmin,
            "short_arcmin": ellipse.short_arcmin,
            "turn_deg": ellipse.turn_deg,
        },
    }


def next_drift_data(advice: Advice) -> NextDriftData | None:
    """The star to watch next."""
    step = advice.next_drift
    if step is None:
        return None
    return {
        "star": advice.next_name,
        "watch_s": step.watch_s,
        "worst_now_arcmin": _finite(step.worst_now_arcmin),
        "worst_then_arcmin": _finite(step.worst_then_arcmin),
    }


def _finite(value: float) -> float | None:
    """The number, None where it is infinite or not a number (JSON has neither)."""
    return float(value) if math.isfinite(value) else None


def _measurements(answer: CheckAnswer) -> list[MeasuredData]:
    if answer.together is None:
        return []
    return [
        {
            "method": m.method,
            "at": m.at.isoformat(),
            "source": m.source,
            **estimate_data(m.estimate),
            "left_out": k in answer.left_out,
            "sigmas_from_the_rest": _finite(answer.together.misfit_sigmas[k]),
        }
        for k, m in enumerate(answer.known.since_turn)
    ]


def _bolts(moves: BoltMoves) -> BoltsData:
    return cast(BoltsData, asdict(moves))


def _move_star(star: MoveStar | None) -> MoveStarData | None:
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


def _proof_star(star: ProofStar | None) -> ProofStarData | None:
    if star is None:
        return None
    return {
        "star": star.name,
        "hour_angle_h": star.hour_angle_h,
        "declination_deg": star.declination_deg,
        "watched_s": star.watched_s,
        "drift_before_arcsec": star.drift.before_arcsec,
        "drift_after_arcsec": star.drift.after_arcsec,
        "drift_after_sigma_arcsec": _finite(star.drift.sigma_arcsec),
    }


def _check_star(advice: Advice) -> CheckStarData | None:
    star = advice.check_star
    if star is None:
        return None
    return {
        "star": star.name,
        "hour_angle_h": star.hour_angle_h,
        "watch_s": star.watched_s,
        "shown_then": star.shown_then,
    }


def _of_drifts(finding: DriftFinding) -> OfMethodData:
    rows, solved = finding.rows, finding.solved
    return {
        "stars": [
            {
                "star": name,
                "line": rows.lines[k],
                "hour_angle_h": float(rows.hour_angle_h[k]),
                "declination_deg": float(rows.declination_deg[k]),
                "watched_s": float(rows.watched_s[k]),
                "drift_arcsec": float(rows.drift_arcsec[k]),
                "drift_sigma_arcsec": float(rows.sigma_arcsec[k]),
                "misfit_arcsec": float(solved.misfit_arcsec[k]),
                "taken_reversed": k in solved.taken_reversed,
                "left_out": k in solved.left_out,
            }
            for k, name in enumerate(rows.names)
        ],
        "all_reversed_suspected": solved.against_evidence,
    }


def _of_readings(finding: ReadingsFinding) -> OfMethodData:
    rows, solved = finding.rows, finding.solved
    return {
        "assumed": list(solved.assumed),
        **_of_mount(solved),
        "stars": [
            {
                "star": name,
                "line": rows.lines[k],
                "tube_side": rows.sides[k],
                "hour_misfit_arcmin": float(solved.hour_misfit_arcmin[k]),
                "declination_misfit_arcmin": float(solved.declination_misfit_arcmin[k]),
                "left_out": k in solved.left_out,
            }
            for k, name in enumerate(rows.names)
        ],
    }


def _of_mount(solved: ReadingsSolution) -> OfMethodData:
    out: dict[str, float | None] = {}
    last = {f"index_{circle}": solved.index(circle) for circle in CIRCLES}
    for name in UNKNOWNS[2:]:
        index = last.get(name)
        known = (index.arcmin, index.sigma_arcmin) if index else solved.known(name)
        out[f"{name}_arcmin"] = known[0] if known else None
        out[f"{name}_sigma_arcmin"] = known[1] if known else None
    return {
        **cast(OfMethodData, out),
        "circles_show_too_much": [
            {
                "circle": own.circle,
                "setting": own.setting or None,
                "on_side_east_arcmin": own.shows_too_much_arcmin(1),
                "on_side_west_arcmin": own.shows_too_much_arcmin(-1),
                "sigma_arcmin": own.sigma_arcmin,
            }
            for own in solved.indices
        ],
        "set_anew_between_sides": list(solved.set_anew),
        "set_anew_seen_from_arcmin": {
            circle: _finite(arcmin) for circle, arcmin in solved.anew_seen_from_arcmin
        },
        "information_per_arcmin2": solved.information.tolist(),
        "unknowns": list(UNKNOWNS),
    }


def _of_frames(finding: FramesFinding) -> OfMethodData:
    solved = finding.solved
    return {
        "frames": [
            {
                "file": frame.name,
                "at": finding.moments[k].isoformat(),
                "pixel_scale_arcsec": frame.scale_arcsec,
                "altitude_deg": float(solved.altitude_deg[k]),
                "turned_h": _finite(solved.turned_h[k]),
                "misfit_across_arcsec": _finite(math.hypot(*solved.misfit_arcsec[k][:2])),
                "misfit_about_arcsec": _finite(solved.misfit_arcsec[k][2]),
                "left_out": k in solved.left_out,
            }
            for k, frame in enumerate(finding.frames)
        ],
    }
