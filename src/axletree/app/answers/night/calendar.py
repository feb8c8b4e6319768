"""Which night, of a year from a date on?"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import Response

from axletree.app.answers.common import OnDesk, json_answer, json_text, moment_of, plain
from axletree.app.answers.night.evening import evening_date
from axletree.app.state import Cache, Desk
from axletree.evening.year.nights_scored import APART_DAYS, ScoredNight, refuse_range
from axletree.sky.time.parse import weekdays_from
from axletree.stages.night.calendar import (
    BestNights,
    CalendarAnswer,
    CalendarRequest,
    calendar,
    chosen_again,
)
from axletree.tell.calendar.data import calendar_data, night_data
from axletree.tell.calendar.drawing import rank_of
from axletree.tell.calendar.text import counted_words
from axletree.tell.special.data import special_data
from axletree.tell.special.text import special_short

router = APIRouter(prefix="/answer")
MOST_YEARS = 4


def scored_year(desk: Desk, first: date) -> CalendarAnswer:
    """Every night of a year from a date on, scored once for each kit."""
    request = CalendarRequest(first=first, kit_folder=desk.folder)
    refuse_range(first, request.until)
    years: Cache = desk.cached("years", lambda: Cache(MOST_YEARS))
    year: CalendarAnswer = years.get(first.isoformat(), lambda: calendar(desk.kit, request))
    return year


@router.get("/calendar")
def calendar_page(
    desk: OnDesk,
    first: date | None = None,
    on: Annotated[str | None, Query(max_length=60)] = None,
    at: str | None = None,
) -> Response:
    """Scores of the nights, and the best of them on the days of the week asked for."""
    begin = first or evening_date(moment_of(desk, at), desk)
    weekdays = weekdays_from(on) if on else None
    told: Cache = desk.cached("years told", lambda: Cache(MOST_YEARS))
    key = f"{begin} {sorted(weekdays or ())}"
    return json_answer(told.get(key, lambda: _told(scored_year(desk, begin), weekdays)))


def _told(year: CalendarAnswer, weekdays: frozenset[int] | None) -> str:
    found = chosen_again(year, BestNights(apart_days=APART_DAYS, weekdays=weekdays))
    data = calendar_data(found)
    whole: dict[str, Any] = plain(
        {
            **data,
            # The year is drawn from these; a night's own facts are asked for when it is chosen.
            "nights": [_drawn(n) for n in found.calendar.nights],
            "counted": counted_words(found),
            "best": [night_data(night, found.kit) for night in found.best],
            "special_nights": [
                {
                    "date": one["date"],
                    "words": one["words"],
                    "caution": one["caution"],
                    "short": special_short(night),
                    "rank": rank_of(night),
                }
                for one, night in zip(data["special_nights"], found.special, strict=True)
                if one["great"]
            ],
        }
    )
    return json_text(whole)


def _drawn(night: ScoredNight) -> list[Any]:
    """Date, score, deep sky, Moon and planets, hours of showing, the Moon's lit fraction, and from
    when to when it is up, hours from the begin."""
    begin = 0.0 if night.begin is None else night.begin.timestamp()
    up = [[round((t.timestamp() - begin) / 3600.0, 2) for t in span] for span in night.moon_up]
    figures = (night.score, night.deep_sky, night.moon_and_planets)
    lit = night.moon_lit or 0.0
    return [
        night.date.isoformat(), *(round(f, 1) for f in figures), round(night.session_h, 2),
        round(lit, 2), up,
    ]  # fmt: skip


@router.get("/calendar/night")
def night(desk: OnDesk, first: date, day: date) -> dict[str, Any]:
    """One night of the year that begins at `first`: why it is worth what it is, what is special."""
    found = scored_year(desk, first)
    for one in found.calendar.nights:
        if one.date == day:
            special = [
                special_data(s, found.kit.site.zone, found.sun_filters)
                for s in found.special
                if s.day == day or day in s.nights
            ]
            told: dict[str, Any] = plain({"night": night_data(one, found.kit), "special": special})
            return told
    return {"night": None, "special": []}
