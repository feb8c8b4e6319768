"""Which object does a name mean: the catalogues', or one that was brought along?

Public: ``object_named``.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.sky.catalogue.names import fold
from axletree.sky.catalogue.objects import SkyObject, find
from axletree.sky.time.instants import Instants

if TYPE_CHECKING:
    from axletree.sky.orbits.lines import BodyLine


def object_named(text: str, kit: Kit | None, folder: Path | None, when: datetime) -> SkyObject:
    """The object of this name, as it stands at a moment.

    A comet's designation or a minor planet's number with its name comes first, then the
    catalogues, then the person's own list and short names ('Halley', 'Eros', '433'). Refuses a
    name that nobody knows, with the nearest known ones, and a short one that several bodies have.
    """
    wanted = fold(text)
    bodies: tuple[BodyLine, ...] = ()
    if kit is not None and kit.habits.elements_files and wanted:
        from axletree.evening.brought.elements import elements_of_kit

        bodies = elements_of_kit(kit, folder).bodies
    certain = [one for one in bodies if wanted in map(fold, one.name.certain)]
    if certain:
        return _as_object(certain[0], when)
    try:
        return find(text)
    except AxletreeError as unknown:
        short = [one for one in bodies if wanted in map(fold, one.name.short)]
        if len(short) > 1:
            some = ", ".join(one.name.name for one in short[:4])
            raise AxletreeError(f"'{text.strip()}' may mean {some}: give the designation") from None
        if short:
            return _as_object(short[0], when)
        if kit is None or kit.habits.own_objects_file is None:
            raise
        from axletree.evening.brought.own_objects import own_objects_of

        own = own_objects_of(kit, folder, when).objects
        mine = [t for t in own if wanted in {fold(n) for n in (t.name, *t.common_names)}]
        if not mine:
            raise AxletreeError(str(unknown)) from None
        return mine[0]


def _as_object(one: BodyLine, when: datetime) -> SkyObject:
    from axletree.evening.brought.elements import moving_objects

    return moving_objects([one], Instants.from_datetime(when))[0]
