"""What did the person move on the mount, or leave where it was? In up to three words.

Noted where `check` notes its measurements, since it is they that no longer count.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from axletree.axis.voids import Moved
from axletree.commands.shared.common import Answer, parse_moment, read_kit
from axletree.commands.shared.own_state import notes_here
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.logbook.entries import EntryRequest

MOVED = {
    "bolt": Moved.BOLT, "tripod": Moved.TRIPOD, "circle hour": Moved.HOUR_CIRCLE,
    "circle declination": Moved.DECLINATION_CIRCLE, "tube": Moved.TUBE,
}  # fmt: skip
STANDS, UNDO = "mount stands", "undo"
WORDS = (*MOVED, STANDS, UNDO)
ACTIONS = tuple(dict.fromkeys(words.split()[0] for words in WORDS))


def moved(options: argparse.Namespace) -> Answer:
    """Note it, or take the latest such note back."""
    from axletree.tell.log.data import moved_data
    from axletree.tell.log.text import moved_text, taken_back_text

    said = " ".join((options.action, *options.words))
    if said not in WORDS:
        raise AxletreeError(f"log {said}: write one of: log {', log '.join(WORDS)}")
    kit = read_kit(options)
    notes, at = notes_here(options, kit), parse_moment(options.at, kit.site)
    if said == UNDO:
        gone = notes.take_back_latest()
        if gone is None:
            raise AxletreeError(f"{notes.file}: nothing of this rig was noted as moved")
        return Answer(taken_back_text(gone, kit.site.zone), moved_data(gone, taken_back=True))
    noted = notes.note_moved(MOVED.get(said), at)
    return Answer(moved_text(noted, notes.file), moved_data(noted))


def bolts_turned(options: argparse.Namespace, request: EntryRequest) -> None:
    """Turns of the bolts that went into the logbook void the axis too."""
    turns = request.altitude_turns, request.azimuth_turns
    notes_here(options, read_kit(options)).note_bolts(request.at, turns)
