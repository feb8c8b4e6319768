"""What is known of the person's own mount: their notes, or nothing where they or the kit say so?"""

from __future__ import annotations

import argparse
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import kit_folder
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.axis.state import State
    from axletree.kit.kit import Kit
    from axletree.logbook.axis_notes import AxisNotes


def state_options(parser: argparse.ArgumentParser) -> None:
    """The options --as-kit and --notes."""
    parser.add_argument(
        "--as-kit", action="store_true", help="leave out what was measured of this mount"
    )
    parser.add_argument(
        "--notes", metavar="FILE", help="what 'check' and 'log' noted (axletree-axis.jsonl)"
    )


def notes_here(options: argparse.Namespace, kit: Kit) -> AxisNotes:
    """The notes that were named, those of this folder, or else those beside the kit."""
    from axletree.logbook.axis_notes import AxisNotes
    from axletree.logbook.lines import NOTES_FILE

    named, folder = getattr(options, "notes", None), kit_folder(options)
    file = Path(named or NOTES_FILE)
    if named is None and not file.is_file() and folder is not None:
        file = folder / NOTES_FILE
    return AxisNotes.of_kit(file, kit)


def state_here(options: argparse.Namespace, kit: Kit, at: datetime) -> State | None:
    """What is known of the kit's mount at a moment; a demo kit learns nothing."""
    folder = kit_folder(options)
    if options.as_kit or folder is None:
        return None
    from axletree.logbook.state import state_of

    notes = notes_here(options, kit)
    if options.notes is not None and not notes.file.is_file():
        raise AxletreeError(f"--notes {options.notes}: no such file")
    return state_of(notes, kit, at, folder)


def state_of_evening(
    options: argparse.Namespace, kit: Kit, day: date, now: datetime
) -> State | None:
    """The same for the evening of a date: by now, if it is that evening, else at its begin or
    end."""
    from axletree.sky.time.nights import Night

    night = Night.of(day, kit.site.time_zone)
    last = night.stop - timedelta(seconds=1)
    return state_here(options, kit, min(max(now, night.start), last))
