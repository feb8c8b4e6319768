"""How is a field's new value written into a kit's text, comments and all?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time
from typing import Any

import tomlkit
from pydantic import BaseModel
from pydantic.fields import FieldInfo
from tomlkit.exceptions import TOMLKitError

from axletree.app.answers.kit.kit_sheet import MOST_ENTRIES, kind_of, model_in, table_of
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.dimension import is_dimension
from axletree.kit.reading.problems import FILLED_IN, Problem
from axletree.kit.writing.units import number_and_error, number_from, stored

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Edit:
    """One change: a value as typed ('' takes the key away), or an entry added or removed."""

    path: Path
    value: str = ""
    what: str = "set"


def edited(text: str, edits: Sequence[Edit], units: str) -> tuple[str, list[Problem]]:
    """The text with the edits in it, and what of them could not be understood (left out)."""
    try:
        document = tomlkit.parse(text)
    except (TOMLKitError, RecursionError):
        return text, []
    problems = []
    for edit in edits:
        try:
            _apply(document, edit, units)
        except AxletreeError as error:
            dotted = "".join(
                f"[{p + 1}]" if isinstance(p, int) else f".{p}" for p in edit.path
            ).lstrip(".")
            problems.append(Problem(dotted, str(error)))
        except (TOMLKitError, KeyError, TypeError, IndexError, AttributeError):
            raise AxletreeError("that can't be changed here: edit the file's text") from None
    return tomlkit.dumps(document), problems


def _apply(document: Any, edit: Edit, units: str) -> None:
    *tables, last = edit.path
    info = _info(edit.path) if edit.what == "set" else None
    at: Any = document
    for depth, part in enumerate(tables):
        if isinstance(part, str) and part not in at:
            after = tables[depth + 1] if depth + 1 < len(tables) else None
            at[part] = tomlkit.aot() if isinstance(after, int) else tomlkit.table()
        if isinstance(part, int) and part == len(at):
            at.append(tomlkit.table())
        at = at[part]
    if edit.what == "add":
        if table_of(".".join(str(p) for p in edit.path if isinstance(p, str)))[1]:
            if last not in at:
                at[last] = tomlkit.aot()
            if len(at[last]) >= MOST_ENTRIES:
                raise AxletreeError(f"{MOST_ENTRIES} are enough")
            at[last].append(tomlkit.table())
        elif last not in at:
            at[last] = tomlkit.table()
    elif edit.what == "remove":
        del at[last]
    if info is not None:
        if edit.value.strip() or kind_of(info)[0] == "several":
            at[last] = _read(edit.value, info, edit.path, units)
        else:
            at.pop(last, None)


def _info(path: Path) -> FieldInfo:
    """The field that a path names; refuses a path that the kit doesn't have."""
    model: type[BaseModel] = Kit
    names = [p for p in path if isinstance(p, str)]
    for i, part in enumerate(names):
        info = next((f for n, f in model.model_fields.items() if part in (n, f.alias)), None)
        if info is None or part in FILLED_IN:
            raise AxletreeError("the kit has no such key")
        if i == len(names) - 1:
            return info
        inner = model_in(info.annotation)
        if inner is None:
            raise AxletreeError("the kit has no such key")
        model = inner
    raise AxletreeError("the kit has no such key")


def _read(typed: str, info: FieldInfo, path: Path, units: str) -> Any:
    """A value for the file from what was typed."""
    *tables, name = (part for part in path if isinstance(part, str))
    kind, choices = kind_of(info)
    words = typed.strip()
    if is_dimension(".".join(tables), name, info):
        return _dimension(words, kind, name, units)
    if kind == "number":
        return _short(stored(number_from(words), name, units))
    if kind == "whole":
        number = number_from(words)
        if number != round(number):
            raise AxletreeError(f"'{words[:20]}' is not a whole number")
        return round(number)
    if kind == "yes":
        if words not in ("yes", "no"):
            raise AxletreeError(f"'{words[:20]}' is neither yes nor no")
        return words == "yes"
    if kind == "choice":
        return int(words) if words.isdigit() and words in choices else words
    if kind == "clock":
        return _clock(words)
    if kind == "numbers":
        return _numbers(words)
    if kind == "pairs":
        return _pairs(words)
    if kind in ("names", "several"):
        return [p.strip() for p in words.split(",") if p.strip()]
    return words


def _dimension(words: str, kind: str, name: str, units: str) -> Any:
    """'345', or '345 ± 3' as a table of value and error; of several numbers with one error."""
    value: Any
    if kind == "numbers":
        head, mark, tail = words.partition("±")
        value, error = _numbers(head), number_and_error(f"0 ± {tail}")[1] if mark else None
    else:
        number, error = number_and_error(words)
        value = _short(stored(number, name, units))
    if error is None:
        return value
    table = tomlkit.inline_table()
    table.update({"value": value, "error": _short(stored(error, name, units))})
    return table


def _short(value: float) -> float:
    """Without the point where nothing follows it."""
    return int(value) if value == int(value) and abs(value) < 1e9 else value


def _numbers(words: str) -> list[float]:
    """Parted by commas, unless semicolons do it: then a comma is a decimal comma."""
    return [number_from(p) for p in words.split(";" if ";" in words else ",") if p.strip()]


def _clock(words: str) -> time:
    """A time of day at the site; one with a zone of its own is refused."""
    try:
        clock: time | None = time.fromisoformat(words)
    except ValueError:
        clock = None
    if clock is None or clock.tzinfo is not None:
        raise AxletreeError(f"'{words[:20]}' is not a time of day here; write 22:30")
    return clock


def _pairs(words: str) -> list[list[float]]:
    """'90 15; 180 5' as pairs; '90,15' and '90,5 15' are understood too."""
    rows = []
    for row in words.replace("\n", ";").split(";"):
        parts = [p.strip(",") for p in row.split() if p != ","]
        parts = row.split(",") if len(parts) == 1 else parts
        if not row.strip():
            continue
        if len(parts) != 2:
            raise AxletreeError("write pairs like 90 15; 180 5 (azimuth altitude; and so on)")
        rows.append([number_from(p) for p in parts])
    return rows
