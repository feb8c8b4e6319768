"""Which files lie on the desk, and into which does its text go, where the site (or tube) has one of
its own?"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path

from axletree.ground.skyline.of_site import with_file_beside
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit, read_text
from axletree.kit.reading.composed import OwnPart, broken_part, tables_of
from axletree.kit.reading.lines import parted
from axletree.kit.rig import part_names, read_rig


@dataclass(frozen=True)
class OwnFiles:
    """The kit's file with its text as it was, and by part its file and the tables it holds."""

    kit_file: Path
    kit_text: str
    parts: Mapping[OwnPart, tuple[Path, tuple[str, ...]]]

    @classmethod
    def of(cls, kit_file: Path, kit_text: str, parts: Mapping[OwnPart, Path]) -> OwnFiles:
        """From part files that have been read as right."""
        held = {part: (file, tables_of(part, read_text(file))) for part, file in parts.items()}
        return cls(kit_file, kit_text, held)

    def whole_text(self) -> str:
        """All files in one text, as the pages show and change it."""
        made = parted(self.kit_text, self._tables(), blank="")[0].rstrip()
        return "\n\n".join([made, *(read_text(file).strip() for file, _ in self.parts.values())])

    def pages(self, text: str) -> dict[Path, str]:
        """What stands in which file for a whole text; the kit keeps tables of its own.

        Refuses what can't be parted: a key above all tables that belongs to one of them.
        """
        found: dict[Path, str] = {}
        for part, (file, tables) in self.parts.items():
            own = parted(text, tables, blank="")[1].strip() + "\n"
            wrong = broken_part(part, own)
            if wrong is not None:
                raise AxletreeError(f"{file}: {wrong}")
            found[file] = own
        kept = parted(self.kit_text, self._tables(), blank="")[1].strip()
        rest = parted(text, self._tables(), blank="")[0].rstrip()
        kit_text = f"{rest}\n\n{kept}\n" if kept else f"{rest}\n"
        before, after = tomllib.loads(self.kit_text), tomllib.loads(kit_text)
        if any(before.get(name) != after.get(name) for name in self._tables()):
            raise AxletreeError(
                f"{self.kit_file}: write {', '.join(f'[{n}]' for n in self._tables())} of the kit "
                "as tables of their own first, then they can be kept beside the chosen ones"
            )
        return {self.kit_file: kit_text, **found}

    def grounded(self, kit: Kit, folder: Path | None) -> Kit:
        """The kit with the skyline file that lies beside the site's file; `folder`: the kit's."""
        held = self.parts.get(OwnPart.SITE)
        if held is None:
            return kit
        site = with_file_beside(kit.site, held[0].parent, folder)
        return kit.model_copy(update={"site": site})

    def after(self, pages: Mapping[Path, str]) -> OwnFiles:
        """The same once these texts were written, see `pages`."""
        held = {
            part: (file, tables_of(part, pages[file])) for part, (file, _) in self.parts.items()
        }
        return OwnFiles(self.kit_file, pages[self.kit_file], held)

    def _tables(self) -> tuple[str, ...]:
        return tuple(name for _, tables in self.parts.values() for name in tables)


@dataclass(frozen=True)
class LaidOut:
    """A kit made whole, its text as the pages show it, and its files where a part has its own."""

    kit: Kit
    text: str
    files: OwnFiles | None


@dataclass(frozen=True)
class PartChoice:
    """The names that a part's files beside the kit go by, and which is chosen: '' the kit's own.

    One that lies elsewhere is called by its path. `in_kit`: whether the kit itself has such a part.
    """

    part: OwnPart
    names: tuple[str, ...]
    chosen: str
    in_kit: bool


def laid_out(
    kit_file: Path, kit_text: str, folder: Path | None, parts: Mapping[OwnPart, Path],
    name: str = "",
) -> LaidOut:  # fmt: skip
    """A kit's text with the files of its parts, checked. `name`: what refusals call the kit."""
    rig = read_rig(kit_text, name or kit_file.name, folder, parts)
    if not parts:
        return LaidOut(rig.kit, rig.text, None)
    files = OwnFiles.of(kit_file, kit_text, parts)
    return LaidOut(files.grounded(rig.kit, folder), files.whole_text(), files)


def part_choices(kit_file: Path, kit_text: str, files: OwnFiles | None) -> tuple[PartChoice, ...]:
    """What there is to choose from; no part of which there is one alone. `kit_text`: that of the
    kit's own file, see `own_text`."""
    tables = tomllib.loads(kit_text)
    held = {} if files is None else {part: file for part, (file, _) in files.parts.items()}
    found = []
    for part in OwnPart:
        names = part_names(part, kit_file.parent)
        chosen = _name_of(part, held[part], kit_file.parent) if part in held else ""
        if chosen and chosen not in names:
            names = (*names, chosen)
        if names:
            found.append(PartChoice(part, names, chosen, part.value in tables))
    return tuple(found)


def chosen_files(
    kit_file: Path, files: OwnFiles | None, named: Mapping[OwnPart, str]
) -> dict[OwnPart, Path]:
    """The files that names stand for, '' for none; those lying on the desk stay where nothing is
    named. A page may name those beside the kit alone, and the one that lies there already."""
    held = {} if files is None else {part: file for part, (file, _) in files.parts.items()}
    home = kit_file.parent
    for part, name in named.items():
        if not name:
            held.pop(part, None)
        elif name in part_names(part, home):
            held[part] = home / f"{name}{part.ending}"
        elif part not in held or name != _name_of(part, held[part], home):
            there = ", ".join(part_names(part, home)) or "none"
            raise AxletreeError(f"no such {part.value}; beside the kit there are: {there}")
    return held


def own_text(text: str, files: OwnFiles | None) -> str:
    """The text of the kit's own file, for the whole text on the desk."""
    return text if files is None else files.kit_text


def _name_of(part: OwnPart, file: Path, home: Path) -> str:
    if file.parent.resolve() == home.resolve() and file.name.endswith(part.ending):
        return file.name.removesuffix(part.ending)
    return str(file)
