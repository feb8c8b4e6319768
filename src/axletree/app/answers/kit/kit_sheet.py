"""How does a kit's text look as a sheet of fields?

The text is the truth: fields are read from it (`kit_edit` makes a change in it).
"""

from __future__ import annotations

import tomllib
import types
import typing
from collections.abc import Mapping, Sequence
from datetime import time
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.reading.prepare import completed
from axletree.kit.reading.problems import Problem
from axletree.kit.reading.stated import stated
from axletree.kit.writing.groups import FIRST, GROUPS
from axletree.kit.writing.units import shown, shown_error, unit_of
from axletree.tell.kit.questions_text import title_of, unit_words, words_for

MOST_ENTRIES = 60


@dataclass(frozen=True)
class _Sheet:
    """What all fields of a kit need: names of guessed values, errors and problems by key, units."""

    guessed: frozenset[str]
    errors: Mapping[str, float]
    problems: Mapping[str, str]
    units: str


@dataclass(frozen=True)
class _Entry:
    """One table of the kit (`index` of several): as written, and with what was filled in."""

    path: str
    index: int | None
    given: Mapping[str, Any]
    filled: Mapping[str, Any]


def fields_of(
    text: str, problems: Sequence[Problem], units: str, spreads: Mapping[str, float]
) -> list[dict[str, Any]]:
    """The groups of fields with values, units, where each value comes from, and problems.

    `spreads`: how far each guess may lie from the truth. A text that is not TOML gives no groups.
    """
    try:
        raw = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return []
    parted = stated(raw, Kit)
    prepared = completed(parted.raw, [])
    said = {p.key: p.message for p in problems}
    errors = {**spreads, **parted.errors}
    sheet = _Sheet(frozenset(prepared.get("guessed", ())), errors, said, units)
    groups: list[dict[str, Any]] = []
    for path in GROUPS:
        model, repeated, optional = table_of(path)
        entries = _entries(parted.raw, prepared, path, repeated)
        # Beside an optional table nobody wrote, its fields would only raise questions.
        shut = optional and not entries
        groups.append(
            {
                "path": path,
                "title": title_of(path),
                "repeated": repeated,
                "optional": optional,
                "problem": said.get(path, ""),
                "entries": [] if shut else [
                    {
                        "name": f"{path}[{i + 1}]" if repeated else path,
                        "problem": said.get(f"{path}[{i + 1}]", "") if repeated else "",
                        "fields": [
                            _field(sheet, entry, name, info) for name, info in plain_fields(model)
                        ],
                    }
                    for i, entry in enumerate(entries)
                ],
            }
        )  # fmt: skip
    return [_first(groups), *groups]


def _first(groups: list[dict[str, Any]]) -> dict[str, Any]:
    """The few values that everything else can be guessed from, as a group of their own."""
    found = {f["key"]: f for g in groups for e in g["entries"] for f in e["fields"]}
    chosen = [found[key] for key in FIRST if key in found]
    return {
        "path": "first",
        "title": title_of("first"),
        "repeated": False,
        "optional": False,
        "problem": "",
        "entries": [{"name": "first", "problem": "", "fields": chosen}],
    }


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The table that a field's annotation holds, or None."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    found = (model_in(a) for a in typing.get_args(annotation))
    return next((m for m in found if m is not None), None)


def table_of(path: str) -> tuple[type[BaseModel], bool, bool]:
    """Model of a dotted table, whether it is an array of tables, whether it may be missing.

    KeyError for a path that is no table of the kit.
    """
    model: type[BaseModel] = Kit
    repeated = optional = False
    for part in path.split("."):
        info = next((f for n, f in model.model_fields.items() if part in (n, f.alias)), None)
        inner = None if info is None else model_in(info.annotation)
        if info is None or inner is None:
            raise KeyError(path)
        model = inner
        repeated = typing.get_origin(_bare(info.annotation)) is tuple
        optional = not info.is_required() and info.default is None
    return model, repeated, optional


def _bare(annotation: Any) -> Any:
    """Without Annotated and None."""
    while typing.get_origin(annotation) is typing.Annotated:
        annotation = typing.get_args(annotation)[0]
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        inner = [a for a in typing.get_args(annotation) if a is not type(None)]
        return _bare(inner[0]) if len(inner) == 1 else annotation
    return annotation


def plain_fields(model: type[BaseModel]) -> list[tuple[str, FieldInfo]]:
    """Names as in the file, and fields, of all that are not tables."""
    return [
        (info.alias or name, info)
        for name, info in model.model_fields.items()
        if model_in(info.annotation) is None
    ]


def _at(raw: Any, path: str) -> Any:
    for part in path.split("."):
        raw = raw.get(part) if isinstance(raw, Mapping) else None
    return raw


def _entries(
    raw: Mapping[str, Any], prepared: Mapping[str, Any], path: str, repeated: bool
) -> list[_Entry]:
    """Each entry of a table."""
    given, filled = _at(raw, path), _at(prepared, path)
    if repeated:
        whole = filled if isinstance(filled, list) else []
        written = given if isinstance(given, list) else []
        blank: Mapping[str, Any] = {}
        return [
            _Entry(
                path,
                i,
                written[i] if i < len(written) and isinstance(written[i], Mapping) else blank,
                entry,
            )
            for i, entry in enumerate(whole[:MOST_ENTRIES])
            if isinstance(entry, Mapping)
        ]
    if given is None and filled is None and table_of(path)[2]:
        return []
    return [
        _Entry(
            path,
            None,
            given if isinstance(given, Mapping) else {},
            filled if isinstance(filled, Mapping) else {},
        )
    ]


def kind_of(info: FieldInfo) -> tuple[str, list[str]]:
    """What a field takes ('number', 'whole', 'text', 'yes', 'choice', 'several', 'clock',
    'numbers', 'pairs', 'names'), and its choices."""
    bare = _bare(info.annotation)
    if typing.get_origin(bare) is typing.Literal:
        return "choice", [str(c) for c in typing.get_args(bare)]
    if typing.get_origin(bare) is tuple:
        inner = _bare(typing.get_args(bare)[0])
        if typing.get_origin(inner) is typing.Literal:
            return "several", [str(c) for c in typing.get_args(inner)]
        if typing.get_origin(inner) is tuple:
            return "pairs", []
        return ("names" if inner is str else "numbers"), []
    plain = {float: "number", int: "whole", bool: "yes", time: "clock"}
    return plain.get(bare, "text"), []


def _field(sheet: _Sheet, entry: _Entry, name: str, info: FieldInfo) -> dict[str, Any]:
    path, index, given, units = entry.path, entry.index, entry.given, sheet.units
    key = f"{path}.{name}"
    own = f"{path}[{index + 1}].{name}" if index is not None else key
    kind, choices = kind_of(info)
    if name in given:
        source, value = "given", given[name]
    elif not sheet.guessed.isdisjoint((own, key, path)):
        source, value = "guessed", entry.filled.get(name, info.default)
    else:
        source, value = "usual", None if info.is_required() else info.default
    return {
        "id": own,
        "key": key,
        "path": [*path.split("."), *([] if index is None else [index]), name],
        "words": words_for(key),
        "unit": unit_words(unit_of(name, units)) if kind in ("number", "whole") else "",
        "kind": kind,
        "choices": choices,
        "value": _written(value, kind, name, units) + _error_words(sheet, own, name),
        "source": source,
        "problem": sheet.problems.get(own, ""),
    }


def _error_words(sheet: _Sheet, key: str, name: str) -> str:
    error = sheet.errors.get(key)
    return "" if error is None else f" ± {shown_error(error, name, sheet.units):.8g}"


def _written(value: Any, kind: str, name: str, units: str) -> str:
    """A value as it stands in its field."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{shown(value, name, units):.8g}" if kind in ("number", "whole") else str(value)
    if isinstance(value, list | tuple):
        if kind == "pairs":
            rows = (v for v in value if isinstance(v, list | tuple))
            return "; ".join(" ".join(f"{x:g}" for x in row if _is_number(x)) for row in rows)
        return ", ".join(f"{v:g}" if _is_number(v) else str(v) for v in value)
    if isinstance(value, time):
        return value.strftime("%H:%M")
    return str(value)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
