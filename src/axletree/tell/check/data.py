"""What does a program get to know about the axis? Keys carry units; what is unknown is null."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any, cast

from axletree.pole.correct.advice import Advice, MoveStar, ProofStar
from axletree.pole.correct.bolts import BoltMoves
from axletree.pole.solution.doubt import doubt_record
from axletree.pole.solution.record import turn_record
from axletree.stages.set_up.check import CheckAnswer, TurnedAnswer
from axletree.tell.check.finding_data import estimate_data, finding_data, finite_or_none
from axletree.tell.check.forms import (
    BoltsData,
    CheckData,
    CheckStarData,
    MeasuredData,
    MoveStarData,
    NextDriftData,
    ProofStarData,
    TurnedData,
)


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


def next_drift_data(advice: Advice) -> NextDriftData | None:
    """The star to watch next."""
    step = advice.next_drift
    if step is None:
        return None
    return {
        "star": advice.next_name,
        "watch_s": step.watch_s,
        "worst_now_arcmin": finite_or_none(step.worst_now_arcmin),
        "worst_then_arcmin": finite_or_none(step.worst_then_arcmin),
    }


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
            "sigmas_from_the_rest": finite_or_none(answer.together.misfit_sigmas[k]),
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
        "drift_after_sigma_arcsec": finite_or_none(star.drift.sigma_arcsec),
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
