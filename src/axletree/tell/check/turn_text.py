"""In which words is told which bolt to turn, what to see then, and what to measure next?"""

from __future__ import annotations

import math

from axletree.pole.correct.advice import MoveStar, Verdict
from axletree.pole.correct.bolts import BoltAction, BoltMoves, BoltStep
from axletree.pole.correct.next_star import NextDrift
from axletree.stages.set_up.check import CheckAnswer
from axletree.tell.check.doubts_text import check_star_words
from axletree.tell.check.measured_text import next_by_same_words, north_south
from axletree.tell.pole.bolts_text import (
    ACTION_WORDS,
    BOLT_WORDS,
    sense_words,
    turns_words,
)
from axletree.tell.shared.words import bar, degrees, duration, signed

CAUTION = (
    "Both axes locked and the rig balanced, a hand on the tube; never undo the altitude bolt so "
    "far that the head can drop, nor one azimuth bolt further than the other is tightened."
)


def arcmin(value: float) -> str:
    """A size in arcminutes, with the places that it deserves."""
    size = abs(value)
    return f"{size:.2f}′" if size < 1.0 else f"{size:.1f}′" if size < 100.0 else f"{size:.0f}′"


def step_words(step: BoltStep) -> str:
    """'loosen the east azimuth bolt 0.40 turns'."""
    bolt, turns = BOLT_WORDS[step.bolt], turns_words(step)
    if step.verb is BoltAction.TURN:
        return f"turn the {bolt} {turns} {sense_words(step)}"
    return f"{ACTION_WORDS[step.verb]} the {bolt} {turns}"


def turn_words(answer: CheckAnswer) -> list[str]:
    """Which bolts to turn, one after the other; [] while the axis is good enough or unknown."""
    moves = answer.advice.moves
    if moves is None or not answer.to_turn:
        return []
    items = _bolts(answer, moves)
    if not items:
        items.append("The bolts can't be turned more finely than this; leave them.")
    if moves.beyond_bolts:
        items.append("That is more than azimuth bolts reach: turn the tripod first.")
    return items


def before_turning_words(answer: CheckAnswer) -> str:
    """What comes before a bolt is turned, '' where nothing does."""
    if not (answer.to_turn and answer.disagreeing):
        return ""
    return "First settle what looks wrong; as it stands it would be this."


def _bolts(answer: CheckAnswer, moves: BoltMoves) -> list[str]:
    up, around = moves.raise_deg, moves.move_east_deg
    items = []
    if moves.altitude_steps and answer.altitude_worth_turning:
        step = step_words(moves.altitude_steps[0])
        items.append(
            f"{step[0].upper()}{step[1:]} (±{bar(moves.altitude_turns_sigma, 2)}): it "
            f"{'raises' if up > 0 else 'lowers'} the axis by {_angle(up)}."
        )
    if moves.azimuth_steps and answer.azimuth_worth_turning:
        steps = ", then ".join(step_words(s) for s in moves.azimuth_steps)
        items.append(
            f"{steps[0].upper()}{steps[1:]} (±{bar(moves.azimuth_turns_sigma, 2)}): the axis goes "
            f"{_angle(around)} {'east' if around > 0 else 'west'} along the horizon."
        )
    return items


def bolt_words(answer: CheckAnswer) -> tuple[str, str]:
    """What to do with the altitude bolt and with the azimuth bolts, '' where nothing."""
    moves = answer.advice.moves
    if moves is None or not answer.to_turn:
        return "", ""
    altitude = step_words(moves.altitude_steps[0]) if moves.altitude_steps else ""
    return altitude, ", ".join(step_words(step) for step in moves.azimuth_steps)


def _angle(value_deg: float) -> str:
    return arcmin(value_deg * 60.0) if abs(value_deg) < 5.0 else degrees(abs(value_deg))


def see_words(answer: CheckAnswer) -> list[str]:
    """What a star should do at the eyepiece while the bolts are turned, and afterwards."""
    mover, star = answer.advice.move_star, answer.advice.proof_star
    if star is None or mover is None:
        return []
    watch = duration(star.watched_s)
    if answer.advice.verdict is Verdict.GOOD:
        return [
            f"{star.name} (hour angle {signed(star.hour_angle_h)} h) should drift "
            f"{north_south(star.drift.before_arcsec)} in {watch}."
        ]
    after = (
        f"Afterwards {star.name} (hour angle {signed(star.hour_angle_h)} h) should drift "
        f"{north_south(star.drift.after_arcsec)} ± {bar(star.drift.sigma_arcsec, 1)}″ in {watch}; "
        f"before the turn it is {north_south(star.drift.before_arcsec)}."
    )
    return [_move(mover), after]


def _move(star: MoveStar) -> str:
    """Which way a star goes in the field while the bolts are turned."""
    first, second = star.move.by_altitude, star.move.by_azimuth
    return (
        f"Put {star.name} (hour angle {signed(star.hour_angle_h)} h) in the middle and turn the "
        f"bolts within a minute or two, the drive on or the hour knob following. It should move "
        f"{_towards(*first)} with the altitude bolt, then {_towards(*second)} with the azimuth "
        f"bolts: {_towards(star.move.north_arcmin, star.move.west_arcmin)} in all."
    )


def _towards(north: float, west: float) -> str:
    parts = []
    if round(abs(north), 1):
        parts.append(f"{arcmin(north)} {'north' if north > 0 else 'south'}")
    if round(abs(west), 1):
        parts.append(f"{arcmin(west)} {'west' if west > 0 else 'east'}")
    return " and ".join(parts) if parts else "not at all"


def next_words(answer: CheckAnswer) -> list[str]:
    """What to measure next."""
    items, advice = [], answer.advice
    again = "" if answer.finding is None else next_by_same_words(answer.finding)
    if again:
        items.append(again)
    if advice.next_drift is not None:
        items.append(_next_drift(advice.next_drift, advice.next_name))
    elif not advice.any_star:
        items.append("No star to suggest: the Sun is up, or no bright star stands clear.")
    if advice.check_star is not None:
        items.append(check_star_words(advice.check_star, disagreeing=answer.disagreeing))
    return items


def _next_drift(step: NextDrift, name: str) -> str:
    then = "it tells most of all stars that are up"
    if math.isfinite(step.worst_now_arcmin):
        then = (
            f"the worst direction shrinks from ±{arcmin(step.worst_now_arcmin)} to "
            f"±{arcmin(step.worst_then_arcmin)}"
        )
    elif math.isfinite(step.worst_then_arcmin):
        then = f"that makes the second direction known to ±{arcmin(step.worst_then_arcmin)}"
    return f"Watch {name} drift for {duration(step.watch_s)}: {then}."
