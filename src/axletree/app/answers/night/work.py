"""How long did setting up or taking down take: what do two taps write into the logbook?"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.night.logbook import Entry, evening_of_entry, tell_changed
from axletree.app.answers.told import local
from axletree.logbook.entries import EntryKind, EntryRequest, add_entry
from axletree.logbook.store import Logbook, default_logbook

router = APIRouter()
WORKS = {"set_up": EntryKind.SET_UP, "take_down": EntryKind.TAKE_DOWN}


class Worked(Entry):
    """Setting up or taking down is done, and took so many minutes."""

    work: Literal["set_up", "take_down"]
    minutes: Annotated[float, Field(ge=0.1, le=600, allow_inf_nan=False)]


@router.post("/logbook/work")
def worked(desk: OnDesk, given: Worked) -> dict[str, Any]:
    """Write down how long it took; plans of later evenings go by it."""
    at = local(desk, given.at)
    with Logbook(default_logbook()) as book:
        number = evening_of_entry(desk, book, given.evening, at)
        kind = WORKS[given.work]
        add_entry(book, EntryRequest(kind, number, at, minutes=given.minutes, uid=given.uid))
    tell_changed(desk)
    return {"evening": number}
