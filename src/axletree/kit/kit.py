"""What does the person own and where do they stand? One TOML file, read and checked as a whole."""

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import Field, ValidationError, model_validator

from axletree.kit.errors import AxletreeError
from axletree.kit.parts.defaults import mount_defaults, tube_defaults
from axletree.kit.parts.habits import Habits
from axletree.kit.parts.mount import Mount
from axletree.kit.parts.part import Part
from axletree.kit.parts.site import Site, Yard
from axletree.kit.parts.tube import Barlow, Camera, Eyepiece, Tube
from axletree.kit.reading.files import AbsentFileError, text_of_file
from axletree.kit.reading.lines import key_lines, line_of
from axletree.kit.reading.oddities import oddities
from axletree.kit.reading.overgrown import overgrown
from axletree.kit.reading.prepare import completed
from axletree.kit.reading.problems import Problem, ProblemKind, dotted, named, problem_of
from axletree.kit.reading.stated import stated

KIT_VERSION = 1
LARGEST_FILE_BYTES = 512_000


class Kit(Part):
    """The person's site, mount, tube, accessories, eyepieces and habits.

    `guessed` holds the dotted names of values that were not given but filled from the mount's
    size or the tube's proportions. `known_errors` holds the error (one standard deviation, in the
    key's unit) of each dimension whose error was given with it, by dotted name; entries of lists
    are counted from 1, as in `tube.accessory[2].mass_kg`. `learned`: where the person's notes of
    the mount changed its dimensions, the name of each with its row of their covariance;
    `learned_rigs`: rigs drawn that agree with the notes, as single-precision deviations, one
    dimension after the other.
    """

    kit_version: Literal[1] = 1
    name: str = "my kit"
    site: Site
    mount: Mount
    tube: Tube
    eyepieces: Annotated[tuple[Eyepiece, ...], Field(alias="eyepiece", min_length=1)]
    barlows: Annotated[tuple[Barlow, ...], Field(alias="barlow")] = ()
    camera: Camera | None = None
    habits: Habits = Habits()
    yard: Yard | None = None
    guessed: tuple[str, ...] = ()
    known_errors: tuple[tuple[str, float], ...] = ()
    learned: tuple[tuple[str, tuple[float, ...]], ...] = ()
    learned_rigs: bytes = b""

    @model_validator(mode="after")
    def _eyepieces_fit(self) -> Self:
        for i, eyepiece in enumerate(self.eyepieces):
            power = self.tube.focal_length_mm / eyepiece.focal_length_mm
            if power < 5:
                raise ValueError(
                    f"eyepiece {i + 1} ({eyepiece.focal_length_mm:g} mm) is too long for a focal "
                    f"length of {self.tube.focal_length_mm:g} mm: it would magnify only "
                    f"{power:.1f} times; eyepieces from 2.5 to 55 mm are usual"
                )
        return self


def check_text(text: str) -> tuple[Kit | None, list[Problem]]:
    """The kit that the text holds, or None, and everything that is wrong with it."""
    beyond = overgrown(text)
    if beyond is not None:
        return None, [beyond]
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, [Problem("", f"this is not TOML: {error}", kind=ProblemKind.NOT_TOML)]
    except RecursionError:
        return None, [
            Problem("", "this is not a kit: it is nested too deeply", kind=ProblemKind.TOO_LARGE)
        ]
    lines = key_lines(text)
    parted = stated(raw, Kit)
    problems = [*parted.problems, *oddities(parted.raw, Kit)]
    prepared = completed(parted.raw, problems)
    prepared["known_errors"] = tuple(parted.errors.items())
    mistaken = {p.key for p in parted.problems}
    kit: Kit | None = None
    try:
        kit = Kit.model_validate(prepared)
    except ValidationError as error:
        for item in error.errors(include_url=False):
            path = tuple(item["loc"])
            if item["type"] == "missing" and (
                dotted(path) in mistaken or _would_be_guessed(path, parted.raw)
            ):
                continue
            problems.append(problem_of(Kit, item, path, line_of(path, lines)))
    placed = [replace(p, line=p.line or line_of(named(p.key), lines)) for p in problems]
    return (kit if not placed else None), sorted(placed, key=lambda p: (p.line or 0, p.key))


def _would_be_guessed(path: tuple[str | int, ...], raw: dict[str, Any]) -> bool:
    """True for a key that is only missing because the size or the optics are themselves wrong."""
    table = raw.get(str(path[0]), {})
    if not isinstance(table, dict) or len(path) < 2:
        return False
    if path[0] == "mount":
        return not mount_defaults(table)
    given = path[1] not in ("kind", "aperture_mm", "focal_length_mm")
    return path[0] == "tube" and given and not tube_defaults(table)


def read_text(file: Path) -> str:
    """The text of a kit file, refused in one line when it cannot be read."""
    try:
        return text_of_file(file, LARGEST_FILE_BYTES, "a kit")
    except AbsentFileError as absent:
        raise AxletreeError(
            f"{absent}; 'axletree kit new {file}' writes one to start from"
        ) from None


def load_kit(file: Path | str) -> Kit:
    """Read a kit file. The first problem is raised as an AxletreeError that counts the others."""
    path = Path(file)
    kit, problems = check_text(read_text(path))
    if kit is None:
        more = len(problems) - 1
        tail = f" (and {more} more; 'axletree kit check {path}' lists them)" if more else ""
        raise AxletreeError(f"{path}: {problems[0]}{tail}")
    return kit


def demo_text(name: str = "courtyard") -> str:
    """The text of a demo kit: 'courtyard' (Portugal) or 'paddock' (New Zealand)."""
    file = Path(__file__).parent / "demo" / f"{name}.toml"
    if name not in DEMO_KITS or not file.is_file():
        raise AxletreeError(f"no demo kit '{name}'; there are: {', '.join(DEMO_KITS)}")
    return file.read_text(encoding="utf-8")


@cache
def demo_kit(name: str = "courtyard") -> Kit:
    """A demo kit, read and checked like any other."""
    kit, problems = check_text(demo_text(name))
    if kit is None:
        raise AxletreeError(f"demo kit '{name}': {problems[0]}")
    return kit


DEMO_KITS = ("courtyard", "paddock")
