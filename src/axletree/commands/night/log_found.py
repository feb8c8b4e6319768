"""By what was an object looked for, and which chance was reckoned with then?"""

from __future__ import annotations

import argparse
from datetime import datetime
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, read_kit
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.find.practice.learned import FoundBy
    from axletree.logbook.store import Logbook


def ways_of(text: str | None, *, looked_for: bool) -> tuple[FoundBy, ...]:
    """The ways that were tried, in their order; () for entries that have none."""
    from axletree.find.practice.learned import FoundBy

    if not looked_for:
        if text is not None:
            raise AxletreeError("--by belongs to 'log add found' and 'log add missed'")
        return ()
    words = [word.strip() for word in (text or "").split(",") if word.strip()]
    unknown = [word for word in words if word not in tuple(FoundBy)]
    if not words or unknown:
        said = f"'{unknown[0]}' is none of" if unknown else "give at least one of"
        raise AxletreeError(f"--by: {said} {', '.join(FoundBy)}, with commas between")
    return tuple(FoundBy(word) for word in words)


def undo(book: Logbook, evening: int) -> Answer:
    """Take back the latest find or miss of an evening; refused where there is none."""
    from axletree.logbook.found import take_back_latest
    from axletree.tell.log.data import entry_data
    from axletree.tell.log.text import find_taken_back_text

    gone = take_back_latest(book, evening)
    if gone is None:
        raise AxletreeError(f"nothing was noted as found or missed in evening {evening}")
    return Answer(find_taken_back_text(gone), {**entry_data(gone), "taken_back": True})


def reckoned(options: argparse.Namespace, name: str, at: datetime, way: FoundBy) -> float | None:
    """The chance by assumed errors of turns or hop at that moment; None where there was none."""
    from axletree.stages.target.find import FindRequest, assumed_chance

    request = FindRequest(name, at, kit_folder=kit_folder(options))
    return assumed_chance(read_kit(options), request, way)
