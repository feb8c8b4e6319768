"""Is this kit file right, and which of its values are guessed?"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from axletree.ground.skyline.of_site import horizon_of
from axletree.ground.skyline.skyline import SkylineGap
from axletree.kit.kit import Kit, check_text
from axletree.kit.reading.problems import Problem, named


@dataclass(frozen=True)
class KitCheckRequest:
    """The text of a kit file (TOML), and the folder of the files that it names; None for none.

    `read_files` says whether those files are read. A page's draft may name any: there they are not.
    """

    text: str
    kit_folder: Path | None = None
    read_files: bool = True


@dataclass(frozen=True)
class Guess:
    """A value that nobody gave: its dotted key, and what stands in for it."""

    key: str
    value: Any


@dataclass(frozen=True)
class KitCheckAnswer:
    """The kit, or None where something is wrong with it; everything wrong by line; the guesses.

    `gaps`: where its skyline is unknown; none where it has no skyline at all, or one in a file that
    was not to be read.
    """

    kit: Kit | None
    problems: tuple[Problem, ...]
    guesses: tuple[Guess, ...]
    gaps: tuple[SkylineGap, ...]


def kit_check(request: KitCheckRequest) -> KitCheckAnswer:
    """Everything that is wrong with a kit's text. Refuses a skyline file that can't be read."""
    kit, problems = check_text(request.text)
    if kit is None:
        return KitCheckAnswer(None, tuple(problems), (), ())
    guesses = tuple(Guess(key, _value(kit, key)) for key in kit.guessed)
    return KitCheckAnswer(kit, (), guesses, _gaps(kit, request))


def _gaps(kit: Kit, request: KitCheckRequest) -> tuple[SkylineGap, ...]:
    skyline = kit.site.skyline
    if skyline.file is None and not skyline.points:
        return ()
    if skyline.file is not None and not request.read_files:
        return ()
    # Compass bearings are left as they were read: the person is asked for another one.
    return horizon_of(skyline, request.kit_folder, 0.0).gaps


def _value(kit: Kit, key: str) -> Any:
    """The value behind a dotted key."""
    value: Any = kit
    for part in named(key):
        if isinstance(part, int):
            value = value[part]
            continue
        fields = type(value).model_fields
        attribute = next((n for n, f in fields.items() if part in (n, f.alias)), part)
        value = getattr(value, attribute)
    return value
