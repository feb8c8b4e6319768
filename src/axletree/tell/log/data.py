"""What does a program get to know about the record? An evening's own form is that of an export."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any, Literal

from typing_extensions import TypedDict

from axletree.logbook.axis_notes import NotedMove
from axletree.logbook.entries import (
    AddedEntry,
    AxisEntry,
    BoltEntry,
    Entry,
    FoundEntry,
    NoteEntry,
    SkyEntry,
    StopEntry,
    WorkEntry,
)
from axletree.logbook.learned import BoltsAnswer, TurnsPerDegree
from axletree.logbook.read import EveningLine, Found
from axletree.tell.log.text import found_words


class EveningLineData(TypedDict):
    """One evening in the list, with how much stands in it."""

    id: int
    date: str
    site: str
    kit_name: str
    done: int
    skipped: int
    notes: int


class EveningsData(TypedDict):
    """The answer of `axletree log`: every evening, the latest first."""

    version: Literal[1]
    evenings: list[EveningLineData]


class FoundData(TypedDict):
    """A stop, note or conditions that hold all of the words."""

    evening: int
    date: str
    at: str
    what: str
    text: str
    site: str


class LearnedData(TypedDict):
    """Turns per degree of one bolt; negative where clockwise moves the axis down or west."""

    turns_per_degree: float
    sigma: float
    count: int


class LearnedBoltsData(TypedDict):
    """The answer of `axletree log bolts`; null where nothing is known yet."""

    version: Literal[1]
    altitude: LearnedData | None
    azimuth: LearnedData | None


def evening_lines(found: Sequence[EveningLine]) -> list[EveningLineData]:
    """The evenings for programs."""
    return [
        {
            "id": e.id,
            "date": e.date,
            "site": e.site,
            "kit_name": e.kit_name,
            "done": e.done,
            "skipped": e.skipped,
            "notes": e.notes,
        }
        for e in found
    ]


def evenings_data(found: Sequence[EveningLine]) -> EveningsData:
    """The list for programs."""
    return {"version": 1, "evenings": evening_lines(found)}


def added_data(added: AddedEntry) -> dict[str, Any]:
    """Which row of which evening was written."""
    return {"evening": added.request.evening, "row": added.row, "kind": added.request.kind.value}


def moved_data(noted: NotedMove, *, taken_back: bool = False) -> dict[str, Any]:
    """What was moved (null: the mount stands where it stood), which part that voids, and when."""
    return {
        "moved_code": None if noted.moved is None else noted.moved.value,
        "voids_code": None if noted.moved is None else noted.moved.voids.value,
        "at": noted.at.isoformat(),
        "taken_back": taken_back,
    }


def found_data(found: Sequence[Found]) -> list[FoundData]:
    """What was found, for programs."""
    return [
        {
            "evening": one.evening,
            "date": one.date,
            "at": one.at,
            "what": one.what,
            "text": found_words(one),
            "site": one.site,
        }
        for one in found
    ]


def learned_data(learned: TurnsPerDegree) -> LearnedData:
    """One bolt for programs."""
    return {
        "turns_per_degree": learned.turns_per_degree,
        "sigma": learned.sigma,
        "count": learned.count,
    }


def bolts_data(answer: BoltsAnswer) -> LearnedBoltsData:
    """Both bolts for programs."""
    return {
        "version": 1,
        "altitude": None if answer.altitude is None else learned_data(answer.altitude),
        "azimuth": None if answer.azimuth is None else learned_data(answer.azimuth),
    }


def entry_data(entry: Entry) -> dict[str, Any]:
    """One entry of an evening, its kind as a code."""
    row = dataclasses.asdict(entry)
    if isinstance(entry, StopEntry):
        row["object"] = row.pop("name")
        row["state"] = "done" if row.pop("done") else "skipped"
        return {"kind": "stop", **row}
    if isinstance(entry, FoundEntry):
        row["object"] = row.pop("name")
        return {"kind": "found", **row}
    if isinstance(entry, AxisEntry):
        return {"kind": "axis_measure", **row, "total_arcmin": entry.total_arcmin}
    kinds = {
        NoteEntry: "note",
        SkyEntry: "conditions",
        BoltEntry: "bolt_turn",
        WorkEntry: "rig_work",
    }
    return {"kind": kinds[type(entry)], **row}
