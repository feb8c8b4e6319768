"""What does a program get to know about a kit file? Problems by kind, line and key; guesses."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.stages.kit.kit_check import KitCheckAnswer

Plain = float | int | str | bool


class KitProblem(TypedDict):
    """One thing that is wrong: its line in the file (None where it has none), key and kind."""

    line: int | None
    key: str
    kind: str
    message: str


class SkylineToMeasure(TypedDict):
    """A gap of the skyline, azimuths clockwise, and the altitude taken there."""

    from_deg: float
    to_deg: float
    taken_deg: float
    measure_at_deg: float


class KitCheckData(TypedDict):
    """The answer of `axletree kit check`; `guessed_values` are those that are single values."""

    version: Literal[1]
    file: str
    right: bool
    problems: list[KitProblem]
    guessed: list[str]
    guessed_values: dict[str, Plain]
    skyline_unknown: list[SkylineToMeasure]


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
        "guessed": [guess.key for guess in answer.guesses],
        "guessed_values": {
            guess.key: guess.value
            for guess in answer.guesses
            if isinstance(guess.value, float | int | str | bool)
        },
        "skyline_unknown": [
            {
                "from_deg": gap.from_deg,
                "to_deg": gap.to_deg,
                "taken_deg": gap.taken_deg,
                "measure_at_deg": gap.middle_deg,
            }
            for gap in answer.gaps
        ],
    }
