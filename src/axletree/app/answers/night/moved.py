"""What was moved on the mount tonight, or left where it stood? Noted with one press each."""

from __future__ import annotations

from typing import Any, Literal

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk, moment_of
from axletree.app.answers.night.logbook import tell_noted
from axletree.app.answers.told import Moment, NoteTakenBack, Uid, local
from axletree.app.mount_notes import notes_count, notes_of
from axletree.axis.unknowns import ModelPart
from axletree.axis.voids import Moved
from axletree.pole.solution.record import evening_of
from axletree.tell.log.data import moved_data

router = APIRouter()


class SomethingMoved(Moment):
    """What was moved, or that the mount stands where it stood; `uid`: sent twice, noted once."""

    moved: Moved | Literal["stands"]
    uid: Uid


@router.get("/answer/logbook/moved")
def moved_tonight(desk: OnDesk, at: str | None = None) -> dict[str, Any]:
    """What was noted as moved this evening, the latest last; of a demo kit nothing counts."""
    if not notes_count(desk):
        return {"counts": False, "moved": []}
    zone = desk.kit.site.zone
    tonight = evening_of(moment_of(desk, at), zone)
    noted = [one for one in notes_of(desk).moves() if evening_of(one.at, zone) == tonight]
    return {"counts": True, "moved": [{**moved_data(one), "uid": one.key} for one in noted]}


@router.post("/logbook/moved")
def note_moved(desk: OnDesk, given: SomethingMoved) -> dict[str, Any]:
    """Note it; what was measured of that part counts no more."""
    moved = None if given.moved == "stands" else given.moved
    noted = notes_of(desk).note_moved(moved, local(desk, given.at), given.uid)
    if moved is not None and moved.voids is ModelPart.AXIS:
        # The rows on the page about the axis were measured before.
        desk.set_page("check", {"drift": None, "readings": None})
    tell_noted(desk)
    return moved_data(noted)


@router.post("/logbook/moved/take-back")
def take_back(desk: OnDesk, given: NoteTakenBack) -> dict[str, Any]:
    """Take such a note back."""
    notes = notes_of(desk)
    found = next((one for one in notes.moves() if one.key == given.uid), None)
    if found is not None:
        notes.withdraw(found.key, found.at)
        tell_noted(desk)
    return {"gone": found is not None}
