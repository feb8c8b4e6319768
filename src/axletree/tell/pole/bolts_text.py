"""In which sentences are turns of the bolts told?"""

from __future__ import annotations

from axletree.pole.correct.bolts import Bolt, BoltAction, BoltMoves, BoltStep

_SMALLEST_TURN = 0.005
BOLT_WORDS = {
    Bolt.ALTITUDE: "altitude bolt",
    Bolt.AZIMUTH: "azimuth bolt",
    Bolt.EAST_AZIMUTH: "east azimuth bolt",
    Bolt.WEST_AZIMUTH: "west azimuth bolt",
}
ACTION_WORDS = {BoltAction.LOOSEN: "loosen", BoltAction.TIGHTEN: "tighten"}


def moves_words(moves: BoltMoves) -> str:
    """'Lower the axis by 2.00° and turn it 0.43° to the west.'"""
    parts = []
    if abs(moves.raise_deg) >= 0.0005:
        parts.append(
            f"{'raise' if moves.raise_deg > 0 else 'lower'} the axis by {abs(moves.raise_deg):.2f}°"
        )
    if abs(moves.move_east_deg) >= 0.0005:
        side = "east" if moves.move_east_deg > 0 else "west"
        parts.append(f"turn it {abs(moves.move_east_deg):.2f}° to the {side} along the horizon")
    if not parts:
        return "The axis is on the pole as far as this reading tells: leave the bolts alone."
    words = " and ".join(parts) + "."
    if moves.beyond_bolts:
        words += (
            " That is more than azimuth bolts usually reach (about 5°): turn the tripod, level it "
            "again, and read again."
        )
    return words[0].upper() + words[1:]


def made_steps(moves: BoltMoves) -> list[BoltStep]:
    """The steps that a hand can make: no turn that is next to nothing."""
    return [step for step in moves.steps if step.turns >= _SMALLEST_TURN]


def step_rows(moves: BoltMoves) -> list[str]:
    """One row for each step of the hand."""
    rows = []
    for step in made_steps(moves):
        altitude = step.bolt is Bolt.ALTITUDE
        sigma = moves.altitude_turns_sigma if altitude else moves.azimuth_turns_sigma
        rows.append(step_words(step) + (f" (±{sigma:.2f})" if sigma >= _SMALLEST_TURN else ""))
    return rows


def step_words(step: BoltStep) -> str:
    """'loosen the west azimuth bolt by 0.30 turns (anticlockwise)'."""
    turns, bolt, sense = turns_words(step), BOLT_WORDS[step.bolt], sense_words(step)
    if step.verb is BoltAction.TURN:
        return f"{bolt}: {turns} {sense}"
    return f"{ACTION_WORDS[step.verb]} the {bolt} by {turns} ({sense})"


def bare_step_words(step: BoltStep) -> str:
    """The same without the count of turns: 'loosen the west azimuth bolt (anticlockwise)'."""
    bolt, sense = BOLT_WORDS[step.bolt], sense_words(step)
    if step.verb is BoltAction.TURN:
        return f"{bolt}, {sense}"
    return f"{ACTION_WORDS[step.verb]} the {bolt} ({sense})"


def turns_words(step: BoltStep) -> str:
    """'0.30 turns'."""
    return f"{step.turns:.2f} turns"


def sense_words(step: BoltStep) -> str:
    """The sense of rotation, facing the bolt."""
    return "clockwise" if step.clockwise else "anticlockwise"
