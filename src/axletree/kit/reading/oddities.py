"""What is in a raw kit that no model would notice: a yes for a number, text that moves a cursor?

A kit may come from a stranger and its names end up on terminals, paper and pages: so text is
one line of letters, signs and marks, of a length that a sheet can hold.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from axletree.kit.parts.dimension import holds
from axletree.kit.reading.problems import Path, Problem, ProblemKind, dotted, field_of, model_in

LONGEST_TEXT = 200
# Control characters, surrogates, separators of lines; and what turns the direction of writing.
_NO_TEXT = ("Cc", "Cs", "Zl", "Zp")
_TURNS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


def oddities(raw: Any, model: type[BaseModel], path: Path = ()) -> Iterator[Problem]:
    """Problems of the values in a raw table, with their keys."""
    for key, value in raw.items():
        field = field_of(model, key)
        annotation = Any if field is None else field.annotation
        yield from _of_value(value, annotation, (*path, key))


def _of_value(value: Any, annotation: Any, path: Path) -> Iterator[Problem]:
    if isinstance(value, bool):
        if annotation is not Any and not holds(annotation, bool):
            word = "true" if value else "false"
            message = f"{word} is a yes or no; something else is meant here"
            yield Problem(dotted(path), message, kind=ProblemKind.WRONG_TYPE)
    elif isinstance(value, str):
        wrong = why_no_text(value)
        if wrong:
            yield Problem(dotted(path), wrong, kind=ProblemKind.WRONG_TYPE)
    elif isinstance(value, dict):
        inner = model_in(annotation)
        if inner is not None:
            yield from oddities(value, inner, path)
    elif isinstance(value, list):
        for at, item in enumerate(value):
            yield from _of_value(item, annotation, (*path, at))


def why_no_text(text: str) -> str:
    """Why this can't be a name or another word of a kit; '' where it can."""
    if len(text) > LONGEST_TEXT:
        return f"'{text[:20]} ...' is longer than {LONGEST_TEXT} letters"
    odd = next((c for c in text if unicodedata.category(c) in _NO_TEXT or c in _TURNS), None)
    if odd is not None:
        return f"must be one line of plain text, without the character U+{ord(odd):04X}"
    return ""
