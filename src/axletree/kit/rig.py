"""Which rig do a kit and a site (or tube) from files of their own make together?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from axletree.kit.errors import AxletreeError, SeveralWrongError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit, check_text, demo_text, read_text
from axletree.kit.reading.composed import (
    Composed,
    OwnPart,
    broken,
    broken_part,
    composed,
    tables_of,
)
from axletree.kit.reading.problems import Problem, ProblemKind


@dataclass(frozen=True)
class WholeKit:
    """The kit with its text, that of all its files together."""

    kit: Kit
    text: str


def part_file(part: OwnPart, named: str, folder: Path | None) -> Path:
    """The file of a part: a path, or a name that stands for 'NAME.site.toml' in the kit's folder.

    `folder`: None for a demo kit; then the files of this folder are meant.
    """
    if Path(named).is_file():
        return Path(named)
    home = folder or Path()
    plain = named not in ("", ".", "..") and Path(named).name == named and "\0" not in named
    file = home / f"{named}{part.ending}"
    if plain and file.is_file():
        return file
    raise AxletreeError(f"--{part.value} {named}: no such {part.value}; {_those(part, home)}")


def part_names(part: OwnPart, folder: Path) -> tuple[str, ...]:
    """The names that part files of a folder are chosen by, in order."""
    try:
        files = [file.name for file in folder.iterdir() if file.name.endswith(part.ending)]
    except OSError:
        return ()
    return tuple(sorted(name.removesuffix(part.ending) for name in files))


def _those(part: OwnPart, folder: Path) -> str:
    names = part_names(part, folder)
    if names:
        return f"beside the kit there are: {', '.join(names)}"
    return f"one is written as a file NAME{part.ending} beside the kit"


def read_rig(text: str, name: str, folder: Path | None, parts: Mapping[OwnPart, Path]) -> WholeKit:
    """A kit's text made whole with its part files, and checked. `name`: what refusals call it.

    The first problem is raised with the file and the line that it lies on.
    """
    whole = compose_files(text, name, parts)
    kit, problems = check_text(whole.text)
    if kit is None:
        _refuse_partless(problems, name, folder)
        file, first = whole.placed(problems[0])
        more = len(problems) - 1
        if more:
            raise SeveralWrongError(f"{file}: {first} (and {more} more)")
        raise AxletreeError(f"{file}: {first}")
    return WholeKit(kit, whole.text)


def compose_files(text: str, name: str, parts: Mapping[OwnPart, Path]) -> Composed:
    """A kit's text with those of its part files; refuses what can't be put together."""
    if not parts:
        return Composed(text, ((0, name),))
    wrong = broken(text)
    if wrong is not None:
        raise AxletreeError(f"{name}: {wrong}")
    texts = {part: (read_text(file), str(file)) for part, file in parts.items()}
    for part, (own, file) in texts.items():
        wrong = broken_part(part, own)
        if wrong is not None:
            raise AxletreeError(f"{file}: {wrong}")
    return composed(text, name, texts)


def _refuse_partless(problems: list[Problem], name: str, folder: Path | None) -> None:
    """Refuse a kit that has no site in the words of the option that chooses one."""
    for part in OwnPart:
        lacks = (p.key == part.value and p.kind is ProblemKind.MISSING for p in problems)
        if any(lacks):
            those = _those(part, folder or Path())
            raise AxletreeError(
                f"{name}: no [{part.value}] in it; choose one with --{part.value} "
                f"({those}) or write [{part.value}] into the kit"
            )


def check_part(part: OwnPart, text: str) -> tuple[Kit | None, list[Problem]]:
    """What is wrong with a part's file alone; where nothing is, a demo kit with it."""
    wrong = broken_part(part, text)
    if wrong is not None:
        return None, [wrong]
    whole = composed(demo_text(), "", {part: (text, part.value)})
    kit, problems = check_text(whole.text)
    placed = [(p, *whole.placed(p)) for p in problems]
    mine = [replace(p, line=own.line if file else None) for p, file, own in placed
            if file or belongs(part, text, p.key)]  # fmt: skip
    # Where only the demo kit's eyepieces fit none of it, that is what there is to say.
    return kit, mine if mine or kit is not None else [replace(p, line=None) for p in problems]


def belongs(part: OwnPart, text: str, key: str) -> bool:
    """Whether a dotted key of a kit is one of those that this part's text stands in for."""
    return key.partition(".")[0].partition("[")[0] in tables_of(part, text)
