"""Which dimensions came with an error of their own, and which of those are written wrongly?

`length_mm = { value = 345, error = 3 }`: the value goes where a plain number would have gone, the
error (one standard deviation, in the key's unit) is kept beside it under the dotted key.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel

from axletree.kit.parts.dimension import is_dimension
from axletree.kit.parts.part import MOST
from axletree.kit.reading.problems import Path, Problem, ProblemKind, dotted, field_of, model_in

EXAMPLE = "{ value = 345, error = 3 }"
_KEYS = ("value", "error")


@dataclass
class Stated:
    """The raw tables with plain numbers, the errors by dotted key, and what is wrong with them."""

    raw: dict[str, Any] = field(default_factory=dict)
    errors: dict[str, float] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)


def stated(raw: Mapping[str, Any], model: type[BaseModel]) -> Stated:
    """What a raw kit holds, its dimensions made plain."""
    found = Stated()
    found.raw = _plain(raw, model, (), found)
    return found


def _plain(
    table: Mapping[str, Any], model: type[BaseModel], path: Path, found: Stated
) -> dict[str, Any]:
    name = ".".join(part for part in path if isinstance(part, str))
    out: dict[str, Any] = {}
    for key, value in table.items():
        about, at = field_of(model, key), (*path, key)
        inner = None if about is None else model_in(about.annotation)
        if inner is not None and isinstance(value, dict):
            out[key] = _plain(value, inner, at, found)
        elif inner is not None and isinstance(value, list):
            out[key] = [
                _plain(item, inner, (*at, i), found) if isinstance(item, dict) else item
                for i, item in enumerate(value)
            ]
        elif isinstance(value, dict) and is_dimension(name, key, about):
            _take(value, at, out, found)
        else:
            out[key] = value
    return out


def _take(value: dict[str, Any], path: Path, out: dict[str, Any], found: Stated) -> None:
    """Part one `{ value, error }`; where the value is missing the key is left out."""
    key = dotted(path)
    unknown = [name for name in value if name not in _KEYS]
    if unknown:
        found.problems.append(
            Problem(f"{key}.{unknown[0]}", f"unknown key; a value with its error is {EXAMPLE}",
                    kind=ProblemKind.UNKNOWN_KEY)
        )  # fmt: skip
    for name in _KEYS:
        if name not in value and not unknown:
            message = f"has no {name}; write {EXAMPLE} or a plain number"
            found.problems.append(Problem(key, message, kind=ProblemKind.MISSING))
    if "value" in value:
        out[path[-1]] = value["value"]  # type: ignore[index]
    if "error" in value:
        _take_error(value["error"], key, found)


def _take_error(error: Any, key: str, found: Stated) -> None:
    at = f"{key}.error"
    if isinstance(error, bool) or not isinstance(error, int | float) or math.isnan(error):
        message = f"{_short(error)} is not a number; write one standard deviation, such as 3"
        found.problems.append(Problem(at, message, kind=ProblemKind.WRONG_TYPE))
    elif not 0 < error <= MOST:
        bound = "must be more than 0" if error <= 0 else f"must be at most {MOST:g}"
        message = f"{error:g} {bound}; it is one standard deviation"
        found.problems.append(Problem(at, message, kind=ProblemKind.OUT_OF_RANGE))
    else:
        found.errors[key] = float(error)


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:37]}..."
