"""Which night, of a year from a date on?"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, moment_of, plain
from axletree.app.answers.night.evening import evening_date
from axletree.app.state import Desk, Few
from axletree.sky.time.parse import weekdays_from

router = APIRouter(prefix="/answer")
BEST = 12
NIGHTS = 365
MOST_YEARS = 4


def scored(desk: Desk, first: date) -> Any:
    """Every night of a year from a date on, scored once for each kit."""
    from axletree.evening.objects.own_objects import own_objects_of
    from axletree.evening.year.nights_scored import refuse_range, score_nights
    from axletree.sky.observer import observer_of
    from axletree.sky.positions.ephemeris import LAST_YEAR

    refuse_range(first, first)
    last = min(first + timedelta(days=NIGHTS - 1), max(first, date(LAST_YEAR, 12, 31)))
    refuse_range(first, last)

    def make() -> Any:
        kit = desk.kit
        noon = datetime(first.year, first.month, first.day, 12, tzinfo=kit.site.zone)
        own = own_objects_of(kit, desk.folder, noon).objects
        return score_nights(kit, observer_of(kit.site), first, last, folder=desk.folder, own=own)

    years: Few = desk.kept("years", lambda: Few(MOST_YEARS))
    return years.get(first.isoformat(), make)


@router.get("/calendar")
def calendar(
    desk: OnDesk,
    first: date | None = None,
    on: Annotated[str | None, Query(max_length=60)] = None,
    at: str | None = None,
) -> dict[str, Any]:
    """Scores of the nights, and the best of them on the days of the week asked for."""
    from axletree.evening.year.nights_scored import APART_DAYS, best_of
    from axletree.tell.calendar.text import calendar_data

    begin = first or evening_date(moment_of(desk, at), desk)
    weekdays = weekdays_from(on) if on else frozenset(range(7))
    found = scored(desk, begin)
    picks = best_of(found.nights, BEST, apart_days=APART_DAYS, weekdays=weekdays)
    data = calendar_data(found, picks, desk.kit)
    nights = data.pop("nights")
    whole: dict[str, Any] = plain(
        {
            **data,
            # The year is drawn from these; a night's own facts are asked for when it is chosen.
            "nights": [
                [n["date"], n["score"], n["moon_lit_fraction"], n["moonless_h"], n["session_h"]]
                for n in nights
            ],
            "best": [n for n in nights if n["date"] in data["best_nights"]],
        }
    )
    return whole


@router.get("/calendar/night")
def night(desk: OnDesk, first: date, day: date) -> dict[str, Any]:
    """One night of the year that begins at `first`: why it is worth what it is."""
    from axletree.tell.calendar.text import calendar_data

    found = scored(desk, first)
    nights = [n for n in found.nights if n.date == day]
    if not nights:
        return {"night": None}
    rows = calendar_data(_only(found, nights), [], desk.kit)["nights"]
    whole: dict[str, Any] = plain({"night": rows[0]})
    return whole


def _only(found: Any, nights: list[Any]) -> Any:
    from dataclasses import replace

    return replace(found, nights=tuple(nights))
