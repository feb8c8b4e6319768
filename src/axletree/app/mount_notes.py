"""What was noted of the mount on this desk, and what do its notes say of it now?"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

from axletree.app.state import Desk
from axletree.axis.state import State
from axletree.logbook.axis_notes import AxisNotes
from axletree.logbook.lines import NOTES_FILE
from axletree.logbook.state import state_of
from axletree.sky.time.nights import Night


def notes_of(desk: Desk) -> AxisNotes:
    """Where measurements are noted: beside the kit."""
    folder = desk.kit_file.parent if desk.kit_file else desk.folder or Path()
    return AxisNotes.of_kit(folder / NOTES_FILE, desk.kit)


def notes_count(desk: Desk) -> bool:
    """Whether notes of the mount count: not of a demo kit, and not for who only looks."""
    return not (desk.looking or desk.demo)


def state_on(desk: Desk, at: datetime, *, as_kit: bool = False) -> State | None:
    """What is known of the mount at a moment; None of a demo kit, for onlookers, or as asked."""
    if as_kit or not notes_count(desk):
        return None
    return state_of(notes_of(desk), desk.kit, at, desk.folder)


def state_of_night(desk: Desk, day: date, now: datetime) -> State | None:
    """The same for the evening of a date, by now or by its end; None if the page leaves it out."""
    night = Night.of(day, desk.kit.site.zone)
    at = min(max(now, night.start), night.stop - timedelta(seconds=1))
    return state_on(desk, at, as_kit=left_out(desk))


def left_out(desk: Desk) -> bool:
    """Whether the page of the evening leaves out what was measured and learned."""
    return bool(desk.settings("evening").get("as_kit"))


def tell_changed_evening(desk: Desk) -> None:
    """Let every open page of the evening ask again: a step was taken, or the axis was noted."""
    count = int(desk.settings("evening").get("changes", 0)) + 1
    desk.set_page("evening", {"changes": count})
