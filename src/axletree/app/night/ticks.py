"""Which stops of an evening are ticked off, and how is a tick written so that it lasts?

Ticks live in the person's logbook and nowhere else.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

from axletree.app.state import Desk
from axletree.logbook.read import evening_of_date, evening_whole
from axletree.logbook.store import Logbook, LoggedStop, default_logbook

if TYPE_CHECKING:
    from axletree.kit.parts.site import Site
    from axletree.tell.evening.document import Evening

Row = dict[str, Any]


def ticks(day: date, site: Site) -> list[Row]:
    """This evening's stops at this site in the logbook, in order of time; none without a book."""
    path = default_logbook()
    if not path.is_file():
        return []
    with Logbook(path) as book:
        number = evening_of_date(book, day, site)
        found: list[Row] = evening_whole(book, number)["stop"] if number else []
    return found


def write_tick(desk: Desk, day: date, planned: Evening, tick: LoggedStop) -> None:
    """On the disk when this returns; the first tick begins the evening, with its run sheet."""
    from axletree.tell.evening.document import evening_json

    with Logbook(default_logbook()) as book:
        number = evening_of_date(book, day, desk.kit.site)
        if number is None:
            sheet = evening_json(planned)
            number = book.begin_evening(day, desk.kit, desk.text, tick.at, sheet)
        book.add_stop(number, tick)


def take_back_tick(day: date, site: Site, uid: str) -> None:
    """Take a tick out of the logbook."""
    with Logbook(default_logbook()) as book:
        number = evening_of_date(book, day, site)
        if number is not None:
            book.take_back(number, uid)
