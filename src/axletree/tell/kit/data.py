"""What does a program get to know about a kit file? Problems by kind, line and key; guesses."""

from __future__ import annotations

from typing import Any, Literal

from typing_extensions import TypedDict

from axletree.kit.writing.units import unit_of
from axletree.stages.kit.kit_check import KitCheckAnswer
from axletree.tell.kit.measure_data import DimensionToMeasure, measure_data
from axletree.tell.kit.slips_text import slip_words

Plain = float | int | str | bool


class KitProblem(TypedDict):
    """One thing that is wrong: its line in the file (None where it has none), key and kind."""

    line: int | None
    key: str
    kind: str
    message: str


class GuessedValue(TypedDict):
    """A guess: `sigma` is one standard deviation in `unit`, None where it is no number.

    `value` is None for a list of parts; `reason` says what the guess was made from.
    """

    key: str
    value: Plain | list[float] | None
    sigma: float | None
    unit: str | None
    reason: str


class SlipToLookAt(TypedDict):
    """Something possible that was hardly meant; a figure is None where it has none.

    What `given`, `likely` and `name` mean depends on `kind`; `words` are for reading.
    """

    kind: str
    key: str
    given: float | None
    likely: float | None
    name: str
    words: str


class SkylineToMeasure(TypedDict):
    """A gap of the skyline, azimuths clockwise, and the altitude taken there."""

    from_deg: float
    to_deg: float
    taken_deg: float
    measure_at_deg: float


class KitCheckData(TypedDict):
    """The answer of `axletree kit check`; `guessed_values` are those that are single values.

    `guessed` names each guess; `guesses` those of parts that are there, with their spread.
    """

    version: Literal[1]
    file: str
    right: bool
    problems: list[KitProblem]
    guessed: list[str]
    guessed_values: dict[str, Plain]
    guesses: list[GuessedValue]
    slips: list[SlipToLookAt]
    skyline_unknown: list[SkylineToMeasure]
    measure_first: list[DimensionToMeasure]


def kit_check_data(answer: KitCheckAnswer, file: str) -> KitCheckData:
    """The answer for programs."""
    return {
        "version": 1,
        "file": file,
        "right": answer.kit is not None,
        "problems": [
            {"line": p.line, "key": p.key, "kind": p.kind.value, "message": p.message}
            for p in answer.problems
        ],
        "guessed": list(answer.kit.guessed) if answer.kit else [],
        "guessed_values": {
            guess.key: guess.value
            for guess in answer.guesses
            if isinstance(guess.value, float | int | str | bool)
        },
        "guesses": [
            {
                "key": guess.key,
                "value": _plain(guess.value),
                "sigma": guess.sigma,
                "unit": None if unit is None else unit.value,
                "reason": guess.reason.value,
            }
            for guess in answer.guesses
            for unit in (unit_of(guess.key),)
        ],
        "slips": [
            {
                "kind": slip.kind.value,
                "key": slip.key,
                "given": slip.given,
                "likely": slip.likely,
                "name": slip.name,
                "words": slip_words(slip),
            }
            for slip in answer.slips
        ],
        "skyline_unknown": [
            {
                "from_deg": gap.from_deg,
                "to_deg": gap.to_deg,
                "taken_deg": gap.taken_deg,
                "measure_at_deg": gap.middle_deg,
            }
            for gap in answer.gaps
        ],
        "measure_first": [measure_data(one) for one in answer.measure_first],
    }


def _plain(value: Any) -> Plain | list[float] | None:
    if isinstance(value, tuple):
        return list(value) if all(isinstance(v, int | float) for v in value) else None
    return value if isinstance(value, Plain) else None
