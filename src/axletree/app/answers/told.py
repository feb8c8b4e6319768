"""When was a change made that a page tells, by which key, and whose seat is it?"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Annotated

from fastapi import Depends
from pydantic import AwareDatetime, BaseModel, Field

from axletree.app.people.seats import Seat, seat_of
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR

# Made by the page: what is sent twice is kept once.
Uid = Annotated[str, Field(pattern=r"^[0-9a-f]{16}$")]


class Moment(BaseModel):
    """A change says when it was made: it may have waited for the link to come back."""

    at: AwareDatetime


class NoteTakenBack(Moment):
    """A note of the mount that was a mistake."""

    uid: Uid


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
