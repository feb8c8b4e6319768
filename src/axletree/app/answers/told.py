"""How do a command's titled lists come onto a page, and whose seat is it?"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Annotated

from fastapi import Depends
from pydantic import AwareDatetime, BaseModel

from axletree.app.people.seats import Seat, seat_of
from axletree.app.state import Desk
from axletree.commands.shared.common import Answer
from axletree.kit.errors import AxletreeError
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR


class Moment(BaseModel):
    """A change says when it was made: it may have waited for the link to come back."""

    at: AwareDatetime


def local(desk: Desk, at: datetime) -> datetime:
    """A moment in the site's zone, to the second; refuses years that nobody can mean."""
    try:
        moment = at.astimezone(desk.kit.site.zone)
    except OverflowError:
        raise AxletreeError(f"{at.year} is no year of the calendar") from None
    if not FIRST_YEAR <= moment.year <= LAST_YEAR:
        raise AxletreeError(f"{moment.date()}: is the clock of this machine right?")
    return (moment + timedelta(microseconds=500_000)).replace(microsecond=0)


OwnSeat = Annotated[Seat | None, Depends(seat_of)]


def titled(answer: Answer) -> dict[str, list[str]]:
    """The lists of a command's text by their titles, each item on one line again."""
    found: dict[str, list[str]] = {}
    for part in answer.text.split("\n\n"):
        title, *rows = part.splitlines()
        if not rows or not all(row.startswith("  ") for row in rows):
            continue
        items: list[str] = []
        for row in rows:
            if row.startswith("    ") and items:
                items[-1] += " " + row.strip()
            else:
                items.append(row.strip())
        found[title.rstrip(":")] = items
    return found
