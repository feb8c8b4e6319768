"""Is this kit file right, and which of its values are guessed?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from axletree.kit.kit import Kit, check_text
from axletree.kit.reading.problems import Problem


@dataclass(frozen=True)
class KitCheckRequest:
    """The text of a kit file (TOML)."""

    text: str


@dataclass(frozen=True)
class Guess:
    """A value that nobody gave: its dotted key, and what stands in for it."""

    key: str
    value: Any


@dataclass(frozen=True)
class KitCheckAnswer:
    """The kit, or None where something is wrong with it; everything wrong by line; the guesses."""

    kit: Kit | None
    problems: tuple[Problem, ...]
    guesses: tuple[Guess, ...]


def kit_check(request: KitCheckRequest) -> KitCheckAnswer:
    """Everything that is wrong with a kit's text; nothing is refused."""
    kit, problems = check_text(request.text)
    guesses = () if kit is None else tuple(Guess(key, _value(kit, key)) for key in kit.guessed)
    return KitCheckAnswer(kit, tuple(problems), guesses)


def _value(kit: Kit, key: str) -> Any:
    """The value behind a dotted key."""
    value: Any = kit
    for part in key.split("."):
        fields = type(value).model_fields
        attribute = next((n for n, f in fields.items() if part in (n, f.alias)), part)
        value = getattr(value, attribute)
    return value
