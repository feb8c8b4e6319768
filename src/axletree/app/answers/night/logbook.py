"""What stands in the logbook, what is added to it, and how is it carried away and back?"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Path
from fastapi.responses import Response
from pydantic import Field

from axletree.app.answers.common import OnDesk, moment_of, plain
from axletree.app.answers.house.people import MOST_COUNTED
from axletree.app.answers.night.evening import evening_date
from axletree.app.answers.told import Moment, OwnSeat, Uid, local
from axletree.app.mount_notes import tell_changed_evening
from axletree.app.people.seats import Seat
from axletree.app.people.withheld import public_name
from axletree.app.state import Desk
from axletree.app.web.refusals import RefusedError
from axletree.kit.errors import AxletreeError
from axletree.logbook.entries import EntryKind, EntryRequest, add_entry, evening_record
from axletree.logbook.learned import learned_of_bolts
from axletree.logbook.read import evening_of_date, evening_whole, evenings
from axletree.logbook.read import search as find
from axletree.logbook.store import Logbook, default_logbook
from axletree.tell.log.data import entry_data, evening_lines, found_data, learned_data
from axletree.tell.logbook.text import kept_aside_words

router = APIRouter()
LONGEST_NOTE = 4000
MOST_FOUND = 200


class Entry(Moment):
    """Something for an evening's record; `evening` 0 is the one of that moment, begun if need be.

    `uid` is made by the page: sent twice, kept once.
    """

    evening: Annotated[int, Field(ge=0, le=MOST_COUNTED)] = 0
    uid: Uid


class Note(Entry):
    """A remark."""

    text: Annotated[str, Field(min_length=1, max_length=LONGEST_NOTE)]


class Sky(Entry):
    """Seeing and darkness as found."""

    seeing_arcsec: Annotated[float, Field(gt=0, le=60, allow_inf_nan=False)] | None = None
    naked_eye_limit_mag: Annotated[float, Field(ge=-2, le=9, allow_inf_nan=False)] | None = None
    sky_brightness_mag_arcsec2: (
        Annotated[float, Field(ge=10, le=24, allow_inf_nan=False)] | None
    ) = None
    words: Annotated[str, Field(max_length=LONGEST_NOTE)] = ""


class Taken(Moment):
    """An entry that was a mistake."""

    evening: Annotated[int, Field(ge=1, le=MOST_COUNTED)]
    uid: Annotated[str, Field(min_length=1, max_length=64)]


class Brought(Moment):
    """A logbook export, or a part of one: whole evenings."""

    export: dict[str, Any]


def open_book() -> Logbook | None:
    """The person's logbook, or None where none was begun: looking begins nothing."""
    path = default_logbook()
    return Logbook(path) if path.is_file() else None


@router.get("/answer/logbook")
def logbook(desk: OnDesk, at: str | None = None) -> dict[str, Any]:
    """Every evening, which is tonight's at this site, and what was learned about the bolts."""
    tonight = evening_date(moment_of(desk, at), desk)
    book = open_book()
    if book is None:
        return {"evenings": [], "bolts": {}, "note": "", "tonight": None}
    with book:
        learned = learned_of_bolts(book, desk.kit)
        each = {"altitude": learned.altitude, "azimuth": learned.azimuth}
        return {
            "evenings": [_named({**line}, desk) for line in evening_lines(evenings(book))],
            "bolts": {
                bolt: {**learned_data(known), "turns_per_degree": abs(known.turns_per_degree)}
                for bolt, known in each.items()
                if known
            },
            "note": "" if book.kept_aside is None else kept_aside_words(book.kept_aside),
            "tonight": evening_of_date(book, tonight, desk.kit.site),
        }


@router.get("/answer/logbook/evening/{number}")
def evening(desk: OnDesk, number: Annotated[int, Path(ge=1, le=MOST_COUNTED)]) -> dict[str, Any]:
    """One evening whole, its entries in order of time; without the kit's text."""
    book = open_book()
    if book is None:
        raise AxletreeError("the logbook is empty")
    with book:
        record = evening_record(book, number)
    rows = record.rows
    found: dict[str, Any] = plain(
        {
            "id": number,
            "date": rows["date"],
            "site": rows["site"],
            "kit_name": rows["kit_name"],
            "begun_at": rows["begun_at"],
            "planned": planned_names(rows["run_sheet"]),
            "entries": [entry_data(entry) for entry in record.entries],
        }
    )
    return _named(found, desk)


def _named(row: dict[str, Any], desk: Desk) -> dict[str, Any]:
    """A row with its place's name and its kit's as the one who asks may know them."""
    if not desk.looking:
        return row
    return {**row, **{k: public_name(str(row[k])) for k in ("site", "kit_name") if k in row}}


def planned_names(run_sheet: Any) -> list[str]:
    """The names of the stops that were planned; none where the run sheet can't be read."""
    try:
        stops = json.loads(run_sheet)["stops"]
        return [str(stop["name"])[:120] for stop in stops][:200]
    except (TypeError, KeyError, ValueError, RecursionError):
        return []


@router.get("/answer/logbook/search")
def search(q: Annotated[str, Field(max_length=200)] = "") -> dict[str, Any]:
    """Stops, notes and conditions that hold all of the words."""
    book = open_book()
    if book is None:
        return {"found": [], "more": 0}
    with book:
        found = find(book, q[:200])
    return {"found": found_data(found[:MOST_FOUND]), "more": max(0, len(found) - MOST_FOUND)}


def evening_of_entry(desk: Desk, book: Logbook, number: int, at: datetime) -> int:
    """The evening that an entry belongs to; tonight's is begun where it wasn't yet."""
    if number:
        return int(evening_whole(book, number)["id"])
    day: date = evening_date(at, desk)
    known = evening_of_date(book, day, desk.kit.site)
    return known if known is not None else book.begin_evening(day, desk.kit, desk.text, at)


def tell_changed(desk: Desk) -> None:
    """Tell the open pages that the logbook has changed."""
    count = int(desk.settings("logbook").get("changes", 0)) + 1
    desk.set_page("logbook", {"changes": count})


def tell_noted(desk: Desk) -> None:
    """The same where the evening goes by it: a note of the mount, or what may be a tick."""
    tell_changed(desk)
    tell_changed_evening(desk)


@router.post("/logbook/note")
def note(desk: OnDesk, given: Note) -> dict[str, Any]:
    """Write a remark down."""
    at = local(desk, given.at)
    request = EntryRequest(
        EntryKind.NOTE, given.evening, at, words=given.text.strip(), uid=given.uid
    )
    with Logbook(default_logbook()) as book:
        number = evening_of_entry(desk, book, given.evening, at)
        add_entry(book, replace(request, evening=number))
    tell_changed(desk)
    return {"evening": number}


@router.post("/logbook/sky")
def sky(desk: OnDesk, given: Sky) -> dict[str, Any]:
    """Write seeing and darkness down."""
    at = local(desk, given.at)
    # Made before a logbook is opened: what says nothing begins none.
    request = EntryRequest(
        kind=EntryKind.SKY,
        evening=given.evening,
        at=at,
        words=given.words.strip(),
        seeing_arcsec=given.seeing_arcsec,
        sky_brightness_mag_arcsec2=given.sky_brightness_mag_arcsec2,
        naked_eye_limit_mag=given.naked_eye_limit_mag,
        uid=given.uid,
    )
    with Logbook(default_logbook()) as book:
        number = evening_of_entry(desk, book, given.evening, at)
        add_entry(book, replace(request, evening=number))
    tell_changed(desk)
    return {"evening": number}


@router.post("/logbook/take-back")
def take_back(desk: OnDesk, given: Taken) -> dict[str, Any]:
    """Take out an entry that was a mistake."""
    book = open_book()
    if book is None:
        raise AxletreeError("the logbook is empty")
    with book:
        gone = book.take_back(given.evening, given.uid)
    if gone:
        tell_noted(desk)
    return {"gone": gone}


@router.post("/logbook/import")
def bring(desk: OnDesk, given: Brought) -> dict[str, Any]:
    """Add the evenings of an export; what is there already stays as it is."""
    from axletree.logbook.exchange import import_json

    with Logbook(default_logbook()) as book:
        added = import_json(book, json.dumps(given.export))
    if added:
        tell_noted(desk)
    return {"added": added}


def _leader(desk: Desk, seat: Seat | None) -> None:
    """The whole record holds exact places: it is carried away by the one who leads."""
    if not desk.seats.leads(seat):
        raise RefusedError(403, "Only the one who leads carries the logbook away.")


def _file(name: str, text: str, kind: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(text, media_type=kind, headers=headers)


@router.get("/answer/logbook/export.json")
def export(desk: OnDesk, seat: OwnSeat) -> Response:
    """The whole logbook, for another machine."""
    from axletree.logbook.exchange import export_json

    _leader(desk, seat)
    with Logbook(default_logbook()) as book:
        return _file("axletree-logbook.json", export_json(book), "application/json")


@router.get("/answer/logbook/{table}.csv")
def csv(desk: OnDesk, seat: OwnSeat, table: str) -> Response:
    """One table, for a spreadsheet."""
    from axletree.logbook.exchange import export_csv

    _leader(desk, seat)
    with Logbook(default_logbook()) as book:
        tables = export_csv(book)
    if f"{table}.csv" not in tables:
        raise RefusedError(404, "There is no such table.")
    return _file(f"axletree-{table}.csv", tables[f"{table}.csv"], "text/csv; charset=utf-8")
