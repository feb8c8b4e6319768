"""How is a measured dimension written into a kit's text, with error and date, comments kept?"""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from axletree.kit.errors import AxletreeError
from axletree.kit.reading.problems import named
from axletree.kit.writing.units import number_and_error, shown_error, stored

_UNIT = re.compile(r"(?<=[0-9.])\s*(mm|cm|in|kg|g|lb)\b", re.IGNORECASE)
_SCALES = {"mm": 1.0, "cm": 10.0, "in": 25.4, "kg": 1.0, "g": 0.001, "lb": 0.45359237}
_MASSES = ("kg", "g", "lb")
# What a measured number is good to whose error nobody gave: by unit, least and share (ours).
_CARE = {"_mm": (2.0, 0.0), "_kg": (0.02, 0.01), "": (1.0, 0.0)}
_DATED = re.compile(r",? ?measured \d{4}-\d{2}-\d{2}")


def measured_number(name: str, typed: str, units: str) -> tuple[float, float]:
    """Value and error in the key's own unit, from '152 ± 2' in the person's, or with a unit of its
    own ('6 in ± 0.1')."""
    key = name.rpartition(".")[2]
    marks = {mark.lower() for mark in _UNIT.findall(typed)}
    number, error = number_and_error(_UNIT.sub("", typed))
    if len(marks) > 1:
        raise AxletreeError(f"'{typed.strip()[:40]}': one unit for value and error")
    if marks:
        mark = marks.pop()
        if not key.endswith("_kg" if mark in _MASSES else "_mm"):
            raise AxletreeError(f"{name} isn't given in {mark}")
        number *= _SCALES[mark]
        error = None if error is None else error * _SCALES[mark]
    else:
        number = stored(number, key, units)
        error = None if error is None else error / shown_error(1.0, key, units)
    if error is None:
        least, share = next(care for suffix, care in _CARE.items() if key.endswith(suffix))
        error = max(least, share * abs(number))
    return number, error


def with_measured(text: str, name: str, value: float, error: float, day: date) -> str:
    """The text with one dimension (a dotted name, entries counted from 1), value and error in the
    unit of its key.

    A remark of the template that holds the key is put to use; an entry keeps what is written
    behind it. Refuses one number of several, and parts that the text doesn't have.
    """
    *tables, key = named(name)
    if isinstance(key, int):
        raise AxletreeError(f"{name}: one of several numbers; write them all into the file")
    put_to_use = _remark_used(text, tables, key)
    try:
        document = tomlkit.parse(text if put_to_use is None else put_to_use)
        at: Any = document
        fresh = False
        for depth, part in enumerate(tables):
            if isinstance(part, int):
                if not hasattr(at, "__len__") or part >= len(at):
                    raise AxletreeError(f"{name}: write the part itself into the file first")
            elif part not in at:
                if depth + 1 < len(tables) and isinstance(tables[depth + 1], int):
                    raise AxletreeError(f"{name}: write the part itself into the file first")
                at[part], fresh = tomlkit.table(), True
            at = at[part]
        at[key] = _known(value, error)
        said = at[key].trivia.comment
        at[key].comment(_with_date(said, day))
        at[key].trivia.comment_ws = "  "
        if fresh:
            at.add(tomlkit.nl())
        return tomlkit.dumps(document)
    except (TOMLKitError, RecursionError, TypeError, AttributeError):
        raise AxletreeError(f"{name}: that can't be written here; edit the file's text") from None


def _with_date(comment: str, day: date) -> str:
    words = _DATED.sub("", comment.lstrip("# ").rstrip())
    dated = f"measured {day.isoformat()}"
    return f"{words}, {dated}" if words else dated


def _known(value: float, error: float) -> Any:
    return tomlkit.parse(f"k = {{ value = {_short(value):g}, error = {_short(error):g} }}\n")["k"]


def _short(value: float) -> float:
    value = float(f"{value:.6g}")
    return int(value) if value == int(value) else value


def _remark_used(text: str, tables: list[str | int], key: str) -> str | None:
    """The text with the remark '# key = ...' of this table made an entry; None where it has
    none."""
    path = ".".join(str(part) for part in tables if isinstance(part, str))
    number = next((part for part in tables if isinstance(part, int)), None)
    header = f"[{path}]" if number is None else f"[[{path}]]"
    remark = re.compile(rf"^#\s*({re.escape(key)}\s*=\s*[^#\n]*)(#.*)?$")
    lines, inside, seen = text.split("\n"), False, -1
    for i, line in enumerate(lines):
        bare = line.split("#")[0].strip()
        if bare.startswith("["):
            seen += bare == header
            inside = bare == header and (number is None or seen == number)
        elif line.lstrip("# ").startswith("["):
            inside = False  # a part that stands there as a remark only
        elif inside and re.match(rf"^\s*{re.escape(key)}\s*=", line):
            return None
        elif inside and (found := remark.match(line)):
            behind = f"  {found[2]}" if found[2] else ""
            lines[i] = f"{key} = 0{behind}"
            return "\n".join(lines)
    return None
