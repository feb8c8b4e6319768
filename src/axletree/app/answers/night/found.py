"""How did somebody find an object, or miss it: what does a tap write into the logbook?"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.night.logbook import Entry, evening_of_entry, tell_changed
from axletree.app.answers.target.point import kept_table
from axletree.app.answers.told import local
from axletree.evening.brought.named import object_named
from axletree.find.practice.learned import FoundBy
from axletree.logbook.entries import EntryKind, EntryRequest, add_entry
from axletree.logbook.store import Logbook, default_logbook
from axletree.stages.target.find import FindRequest, assumed_chance

router = APIRouter()


class Looked(Entry):
    """How an object was looked for: the first way, whether a search went on from there, whether it
    was found, in how many minutes. `side` and `start` as the page asked."""

    object: Annotated[str, Field(min_length=1, max_length=80)]
    way: Literal["turns", "hop", "parallel", "aim"]
    swept: bool = False
    found: bool = True
    minutes: Annotated[float, Field(ge=0, le=240, allow_inf_nan=False)] | None = None
    start: Annotated[str, Field(max_length=80)] = ""
    side: Literal["", "east", "west"] = ""


_FOUND_BY = {
    "turns": FoundBy.STEPS,
    "parallel": FoundBy.STEPS,
    "hop": FoundBy.HOP,
    "aim": FoundBy.EYE,
}


@router.post("/logbook/found")
def looked(desk: OnDesk, given: Looked) -> dict[str, Any]:
    """Write down how an object was found, or that it wasn't, with the chance reckoned for it."""
    at = local(desk, given.at)
    way = _FOUND_BY[given.way]
    thing = object_named(given.object, desk.kit, desk.folder, at)
    asked = FindRequest(
        given.object, at, start=given.start or None, side=given.side or None,
        table=kept_table(desk), kit_folder=desk.folder,
    )  # fmt: skip
    entry = EntryRequest(
        kind=EntryKind.FOUND if given.found else EntryKind.MISSED,
        evening=given.evening,
        at=at,
        name=thing.name,
        catalogue_id=thing.catalogue_id,
        ways=(way, FoundBy.SWEEP) if given.swept else (way,),
        minutes=given.minutes,
        # The way along a parallel has a chance of its own: it teaches minutes alone.
        chance=None if given.way == "parallel" else assumed_chance(desk.kit, asked, way),
        uid=given.uid,
    )
    with Logbook(default_logbook()) as book:
        number = evening_of_entry(desk, book, given.evening, at)
        add_entry(book, replace(entry, evening=number))
    tell_changed(desk)
    return {"evening": number}
