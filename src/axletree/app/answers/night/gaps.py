"""How near did parts of the mount come? A touch or a gap, noted on the logbook's page."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import Field

from axletree.app.answers.common import OnDesk, moment_of
from axletree.app.answers.night.logbook import tell_noted
from axletree.app.answers.told import Moment, NoteTakenBack, Uid, local
from axletree.app.mount_notes import notes_count, notes_of, state_on
from axletree.kit.errors import AxletreeError
from axletree.kit.writing.measured import measured_number
from axletree.mount.learned.learn import learned_rig
from axletree.stages.target.gap import GapRequest, gap_note
from axletree.tell.learned.data import gap_data
from axletree.tell.learned.text import taught_lines

router = APIRouter()
_LENGTH = "gap_mm"  # a length in the person's units


class GapLeft(Moment):
    """What was left between parts as typed ('' for a touch), with the object in the eyepiece."""

    object: Annotated[str, Field(max_length=80)]
    side: Literal["east", "west"]
    left: Annotated[str, Field(max_length=40)] = ""
    uid: Uid


@router.get("/answer/logbook/gaps")
def gaps(desk: OnDesk, at: str | None = None) -> dict[str, Any]:
    """What was noted of this rig, the latest last, and what it teaches; of a demo kit nothing."""
    if not notes_count(desk):
        return {"counts": False, "gaps": [], "taught": []}
    moment, kit = moment_of(desk, at), desk.kit
    zone, units = kit.site.zone, kit.habits.units
    found = notes_of(desk).gaps(moment)
    learned = learned_rig(kit, state_on(desk, moment))
    return {
        "counts": True,
        "gaps": [gap_data(one, zone, units) for one in found],
        "taught": [line.strip() for line in taught_lines(learned, zone, units)],
    }


@router.post("/logbook/gap")
def note(desk: OnDesk, given: GapLeft) -> dict[str, Any]:
    """Note it; rooms and their errors follow."""
    if desk.demo:
        raise AxletreeError("a demo kit learns nothing: keep a kit of your own first")
    units = desk.kit.habits.units
    gap, error = 0.0, None
    if given.left.strip():
        gap, error = measured_number(_LENGTH, given.left, units)
        error = error if "±" in given.left or "+" in given.left else None
    made = gap_note(
        desk.kit,
        GapRequest(
            local(desk, given.at), given.side, gap, given.uid, given.object.strip(),
            error_mm=error, kit_folder=desk.folder,
        ),
    )  # fmt: skip
    notes_of(desk).note_gap(made)
    tell_noted(desk)
    return dict(gap_data(made, desk.kit.site.zone, units))


@router.post("/logbook/gap/take-back")
def take_back(desk: OnDesk, given: NoteTakenBack) -> dict[str, Any]:
    """Take such a note back."""
    gone = notes_of(desk).take_back_gap(given.uid)
    if gone is not None:
        tell_noted(desk)
    return {"gone": gone is not None}
