"""Is this kit file right, and which of its values are guessed?"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from axletree.ground.skyline.of_site import horizon_of
from axletree.ground.skyline.skyline import SkylineGap
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit, check_text
from axletree.kit.parts.spreads import GuessReason
from axletree.kit.reading.composed import OwnPart
from axletree.kit.reading.problems import Problem
from axletree.kit.rig import belongs, check_part
from axletree.mount.dimensions.names import is_there, key_of, value_of
from axletree.mount.dimensions.of_kit import dimensions_of, guess_of
from axletree.mount.room.table import room_table
from axletree.mount.sure.measure_first import MeasureFirst, of_whole_sky
from axletree.mount.sure.spread import RigSpread
from axletree.stages.kit.slips import KitSlip, slips_of


@dataclass(frozen=True)
class KitCheckRequest:
    """The text of a kit file (TOML), and the folder of the files that it names; None for none.

    `read_files` says whether those files are read. A page's draft may name any: there they are not.
    `part`: the text is that of a site's or a tube's own file alone, tried with a demo kit.
    `what_first`: whether it is worked out what is to be measured first (0.2 s).
    """

    text: str
    kit_folder: Path | None = None
    read_files: bool = True
    part: OwnPart | None = None
    what_first: bool = False


@dataclass(frozen=True)
class Guess:
    """A value that nobody gave: its dotted key, and what stands in for it.

    `sigma`: how far that may lie from the truth, one standard deviation in the unit of the key;
    None where it is no number. `reason`: what the guess was made from.
    """

    key: str
    value: Any
    sigma: float | None
    reason: GuessReason


@dataclass(frozen=True)
class KitCheckAnswer:
    """The kit, or None where something is wrong with it; everything wrong by line; the guesses.

    `gaps`: where its skyline is unknown; none where it has no skyline at all, or one in a file that
    was not to be read. `measure_first`: what makes rooms all over the sky surer.
    `slips`: what is possible but was hardly meant. `part`: what alone was checked; all else of the
    kit is then a demo kit's.
    """

    kit: Kit | None
    problems: tuple[Problem, ...]
    guesses: tuple[Guess, ...]
    gaps: tuple[SkylineGap, ...]
    slips: tuple[KitSlip, ...] = ()
    part: OwnPart | None = None
    measure_first: tuple[MeasureFirst, ...] = ()


def kit_check(request: KitCheckRequest) -> KitCheckAnswer:
    """Everything that is wrong with a kit's text. Refuses a skyline file that can't be read."""
    if request.part is not None:
        return _part_check(request, request.part)
    kit, problems = check_text(request.text)
    if kit is None:
        return KitCheckAnswer(None, tuple(problems), (), ())
    return KitCheckAnswer(
        kit, (), _guesses(kit), _gaps(kit, request), slips_of(kit),
        measure_first=_first(kit) if request.what_first else (),
    )  # fmt: skip


def _first(kit: Kit) -> tuple[MeasureFirst, ...]:
    table = room_table(kit)
    return of_whole_sky(RigSpread.of(kit, table), table)


def _part_check(request: KitCheckRequest, part: OwnPart) -> KitCheckAnswer:
    """What concerns the part's own tables."""
    kit, problems = check_part(part, request.text)
    if kit is None:
        return KitCheckAnswer(None, tuple(problems), (), (), part=part)
    guesses = (g for g in _guesses(kit) if belongs(part, request.text, g.key))
    slips = (s for s in slips_of(kit) if belongs(part, request.text, s.key))
    gaps = _gaps(kit, request) if part is OwnPart.SITE else ()
    return KitCheckAnswer(kit, (), tuple(guesses), gaps, tuple(slips), part)


def _gaps(kit: Kit, request: KitCheckRequest) -> tuple[SkylineGap, ...]:
    skyline = kit.site.skyline
    if skyline.file is None and not skyline.points:
        return ()
    if skyline.file is not None and not request.read_files:
        return ()
    # Compass bearings are left as they were read: the person is asked for another one.
    return horizon_of(skyline, request.kit_folder, 0.0).gaps


def _guesses(kit: Kit) -> tuple[Guess, ...]:
    """Every guess, by tables; parts that aren't there are left out.

    A list that was guessed as a whole is told as such and dimension by dimension.
    """
    known = dimensions_of(kit)
    sigmas = {key_of(n): float(s) for n, s in zip(known.names, known.sigmas, strict=True)}
    found = []
    for key in kit.guessed:
        inner = [n for n in known.names if n.startswith(f"{key}[") and "]." in n]
        for name in (key, *inner):
            own, value = guess_of(kit, name), value_of(kit, name)
            if is_there(kit, name):
                found.append(Guess(name, value, sigmas.get(name, own.sigma), own.reason))
    tables = list(dict.fromkeys(guess.key.rpartition(".")[0] for guess in found))
    return tuple(sorted(found, key=lambda guess: tables.index(guess.key.rpartition(".")[0])))
