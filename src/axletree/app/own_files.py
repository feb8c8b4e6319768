"""Into which files does the text on the desk go, where the site (or tube) has one of its own?"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from axletree.ground.skyline.of_site import with_file_beside
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, read_text
from axletree.kit.reading.composed import OwnPart, broken_part, tables_of
from axletree.kit.reading.lines import parted


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

    def _tables(self) -> tuple[str, ...]:
        return tuple(name for _, tables in self.parts.values() for name in tables)
