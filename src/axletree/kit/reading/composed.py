"""Which text do a kit and a site (or tube) from a file of its own make together?

The kit's own tables give way to the file's: their rows are left blank, the file's text comes after
the kit's, so that each line is still known by its file and its number there.
"""

from __future__ import annotations

import tomllib
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import replace
from enum import Enum

from axletree.kit.frozen import dataclass
from axletree.kit.reading.lines import key_lines, parted
from axletree.kit.reading.overgrown import overgrown
from axletree.kit.reading.problems import Problem, ProblemKind, dotted


class OwnPart(Enum):
    """What of a kit can stand in a file of its own, and be chosen by its name."""

    SITE = "site"
    TUBE = "tube"

    @property
    def ending(self) -> str:
        """How its files are named: 'barn.site.toml' is chosen by 'barn'."""
        return f".{self.value}.toml"


# What always comes from the file, be it there or not; and what only does if the file has it.
_ALWAYS = {OwnPart.SITE: ("site", "yard"), OwnPart.TUBE: ("tube",)}
_IF_THERE: dict[OwnPart, tuple[str, ...]] = {
    OwnPart.SITE: (),
    OwnPart.TUBE: ("eyepiece", "barlow", "camera"),
}


def tables_of(part: OwnPart, text: str) -> tuple[str, ...]:
    """The tables of a kit that a part's text stands in for. The text has to be right TOML."""
    raw = tomllib.loads(text)
    return (*_ALWAYS[part], *(name for name in _IF_THERE[part] if name in raw))


@dataclass(frozen=True)
class Composed:
    """The whole text, and each file in it by its name and the lines that stand before it."""

    text: str
    files: tuple[tuple[int, str], ...]

    def placed(self, problem: Problem) -> tuple[str, Problem]:
        """In which file a problem of the whole text lies, and the problem with its line there."""
        if problem.line is None:
            return self.files[0][1], problem
        at = bisect_right([before for before, _ in self.files], problem.line - 1) - 1
        before, name = self.files[at]
        return name, replace(problem, line=problem.line - before)


def composed(text: str, name: str, parts: Mapping[OwnPart, tuple[str, str]]) -> Composed:
    """A kit's text with parts from files of their own: by part the file's text and name.

    All of them have to be right by `broken` and `broken_part`.
    """
    files = [(0, name)]
    for part, (own, _) in parts.items():
        text = parted(text, tables_of(part, own))[0]
    for own, own_name in parts.values():
        text = text if text.endswith("\n") or not text else f"{text}\n"
        files.append((len(text.splitlines()), own_name))
        text += own
    return Composed(text, tuple(files))


def broken(text: str) -> Problem | None:
    """Why a text can't be put together with another, or None: too large, or no TOML."""
    beyond = overgrown(text)
    if beyond is not None:
        return beyond
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return Problem("", f"this is not TOML: {error}", kind=ProblemKind.NOT_TOML)
    except RecursionError:
        return Problem("", "it is nested too deeply", kind=ProblemKind.TOO_LARGE)
    return None


def broken_part(part: OwnPart, text: str) -> Problem | None:
    """Why a text is no file of this part, or None: besides `broken`, what belongs elsewhere."""
    wrong = broken(text)
    if wrong is not None:
        return wrong
    lines = key_lines(text)
    known = (*_ALWAYS[part], *_IF_THERE[part])
    for path, line in sorted(lines.items(), key=lambda item: item[1]):
        if path[0] not in known:
            message = f"a {part.value} file holds {_in_words(known)} alone"
            return Problem(dotted(path), message, line, ProblemKind.UNKNOWN_KEY)
        if not _under_header(text, line):
            message = f"write it in a table of its own, under [{path[0]}]"
            return Problem(dotted(path), message, line)
    if (part.value,) not in {path[:1] for path in lines}:
        return Problem(part.value, f"a {part.value} file begins with [{part.value}]", None,
                       ProblemKind.MISSING)  # fmt: skip
    return None


def _under_header(text: str, line: int) -> bool:
    """Whether a line is a header or stands under one: a key above all would join another table."""
    return any(row.lstrip().startswith("[") for row in text.splitlines()[:line])


def _in_words(names: Sequence[str]) -> str:
    tables = [f"[{name}]" for name in names]
    return " and ".join([", ".join(tables[:-1]), tables[-1]] if tables[:-1] else tables)
