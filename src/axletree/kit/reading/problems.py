"""How is a mistake in a kit said in one line: where it stands, and what would be right?"""

from __future__ import annotations

from enum import Enum
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from axletree.kit.frozen import dataclass
from axletree.kit.parts.part import LEAST

Path = tuple[str | int, ...]
# Fields of the kit that no file may hold: Axletree fills them in itself.
FILLED_IN = ("guessed", "known_errors", "learned", "learned_rigs")


class ProblemKind(Enum):
    """In which manner is a kit wrong?"""

    NOT_TOML = "not_toml"
    TOO_LARGE = "too_large"
    UNKNOWN_KEY = "unknown_key"
    MISSING = "missing"
    OUT_OF_RANGE = "out_of_range"
    NOT_A_CHOICE = "not_a_choice"
    WRONG_TYPE = "wrong_type"
    WRONG_COUNT = "wrong_count"
    # What only its own rule refuses: a place nobody knows, values that contradict each other.
    REFUSED = "refused"


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong with a kit: where it stands and what would be right."""

    key: str
    message: str
    line: int | None = None
    kind: ProblemKind = ProblemKind.REFUSED

    def __str__(self) -> str:
        where = f"line {self.line}, " if self.line else ""
        return f"{where}{self.key}: {self.message}" if self.key else f"{where}{self.message}"


def known_keys(root: type[BaseModel], path: Path) -> list[str]:
    """Names that the table at `path` (without its last part) understands."""
    model: Any = root
    for part in path[:-1]:
        if isinstance(part, int):
            continue
        field = field_of(model, part)
        model = None if field is None else model_in(field.annotation)
        if model is None:
            return []
    return [f.alias or n for n, f in model.model_fields.items() if n not in FILLED_IN]


def field_of(model: type[BaseModel], key: str) -> FieldInfo | None:
    """The field of a model that a key of the file names."""
    fields = model.model_fields.items()
    return next((f for n, f in fields if key == (f.alias or n)), None)


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The model that a table of this type is read by, None for a plain value."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = model_in(inner)
        if found is not None:
            return found
    return None


def dotted(path: Path) -> str:
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else (f".{part}" if text else part)
    return text


_KINDS = {
    "extra_forbidden": ProblemKind.UNKNOWN_KEY,
    "missing": ProblemKind.MISSING,
    "greater_than": ProblemKind.OUT_OF_RANGE,
    "greater_than_equal": ProblemKind.OUT_OF_RANGE,
    "less_than": ProblemKind.OUT_OF_RANGE,
    "less_than_equal": ProblemKind.OUT_OF_RANGE,
    "value_error": ProblemKind.REFUSED,
    "literal_error": ProblemKind.NOT_A_CHOICE,
    "too_short": ProblemKind.WRONG_COUNT,
    "too_long": ProblemKind.WRONG_COUNT,
}


def problem_of(root: type[BaseModel], error: Any, path: Path, line: int | None) -> Problem:
    """What one pydantic error says of a kit."""
    kind = _KINDS.get(error["type"], ProblemKind.WRONG_TYPE)
    return Problem(dotted(path), _message(root, error, path), line, kind)


def _message(root: type[BaseModel], error: Any, path: Path) -> str:
    kind, context = error["type"], error.get("ctx", {})
    given = error.get("input")
    if kind == "extra_forbidden":
        known = known_keys(root, path)
        import difflib

        close = difflib.get_close_matches(str(path[-1]), known, n=1, cutoff=0.5)
        stem = str(path[-1]).rsplit("_", 1)[0]
        unit = [k for k in known if k.rsplit("_", 1)[0] == stem]
        hint = (
            f"did you mean '{(unit or close)[0]}'?"
            if unit or close
            else ("known here: " + ", ".join(sorted(known)) if known else "no such table")
        )
        return f"unknown key; {hint}"
    if kind == "missing":
        return "is missing and cannot be guessed"
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        words = {
            "greater_than": ("must be more than", "gt"),
            "greater_than_equal": ("must be at least", "ge"),
            "less_than": ("must be less than", "lt"),
            "less_than_equal": ("must be at most", "le"),
        }
        phrase, name = words[kind]
        limit = context[name]
        if limit == LEAST and given <= 0:
            phrase, limit = "must be more than", 0
        return f"{given!r} {phrase} {limit:g}{_unit_words(str(path[-1]))}"
    if kind == "value_error":
        return str(context["error"])
    if kind == "literal_error":
        return f"{given!r} is not one of {context['expected']}"
    if kind.startswith(("float", "int", "finite_number")):
        return f"{given!r} is not a number; write a plain number{_in_unit(str(path[-1]))}"
    if kind in ("too_short", "too_long"):
        least = context.get("min_length", context.get("max_length"))
        many = "least" if kind == "too_short" else "most"
        return f"holds {context['actual_length']}, and must hold at {many} {least}"
    if kind.startswith("string"):
        return f"{given!r} is not text in quotes"
    message = str(error["msg"])
    return message[:1].lower() + message[1:]


def _unit_words(key: str) -> str:
    for suffix, unit in (
        ("_deg", " degrees"),
        ("_mm", " millimetres"),
        ("_m", " metres"),
        ("_kg", " kilograms"),
        ("_s", " seconds"),
        ("_hpa", " hectopascal"),
        ("_c", " degrees Celsius"),
        ("_arcsec", " arcseconds"),
        ("_arcmin", " arcminutes"),
        ("_um", " micrometres"),
        ("_min", " minutes"),
        ("_h", " hours"),
    ):
        if key.endswith(suffix):
            return unit
    return ""


def _in_unit(key: str) -> str:
    unit = _unit_words(key)
    return f" in{unit}" if unit else ""


def named(key: str) -> Path:
    """The path of a dotted name, the reverse of `dotted`."""
    path: list[str | int] = []
    for part in key.split("."):
        name, _, index = part.partition("[")
        path += [name, int(index[:-1]) - 1] if index[:-1].isdigit() else [part]
    return tuple(path)
