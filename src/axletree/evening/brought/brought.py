"""Which objects come from the kit's own files, as they stand at a moment?

Public: ``brought_of``.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from axletree.evening.brought.elements import bright_objects, elements_of_kit, moving_objects
from axletree.evening.brought.own_objects import OwnObjects, own_objects_of
from axletree.kit.kit import Kit
from axletree.sky.catalogue.names import fold
from axletree.sky.orbits.names import spoken
from axletree.sky.time.instants import Instants


def brought_of(
    kit: Kit,
    folder: Path | None,
    when: datetime,
    *,
    file: Path | None = None,
    all_or_none: bool = False,
) -> OwnObjects:
    """The objects of the kit's own list, and what its elements make bright enough at `when`.

    Those that the kit must see are among them however faint they are. `file` is read instead of
    the list, `all_or_none` refuses it for one broken row.
    """
    own = own_objects_of(kit, folder, when, file=file, all_or_none=all_or_none)
    if not kit.habits.elements_files:
        return own
    brought, now = elements_of_kit(kit, folder), Instants.from_datetime(when)
    moving = bright_objects(brought.bodies, now)
    # What must be seen is thought of, however faint its elements make it.
    known = {thing.name for thing in moving}
    wanted = {fold(text) for text in kit.habits.must_see}
    asked = [
        one for one in brought.bodies
        if one.name.name not in known and wanted & set(map(fold, spoken(one.name.name)))
    ]  # fmt: skip
    moving += moving_objects(asked, now)
    return OwnObjects((*own.objects, *moving), (*own.broken, *brought.broken))
