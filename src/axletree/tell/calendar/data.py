"""What does a program get to know about the nights? Keys carry units, moments the site's offset."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from typing_extensions import TypedDict

from axletree.evening.year.figures import shares_of
from axletree.evening.year.night_stops import Shown
from axletree.evening.year.nights_scored import ScoredNight
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import audience_of
from axletree.stages.night.calendar import CalendarAnswer
from axletree.tell.calendar.text import assumed_words, end_words, reason
from axletree.tell.special.data import SpecialNightData, special_data


class PlaceOfCalendar(TypedDict):
    """Where the nights are scored for."""

    name: str
    latitude_deg: float
    longitude_deg: float
    time_zone: str


class ShownData(TypedDict):
    """One of a night's stops: when its slot begins, its height and its points in it."""

    name: str
    common_name: str
    theme: str
    begin: str
    height_deg: float
    points: float


class NightData(TypedDict):
    """One night; `begin` and `end` are null where there is no session.

    `score`, `deep_sky` and `moon_and_planets` are 0 to 100; `lift` is what `special` adds to the
    score.
    """

    date: str
    score: float
    deep_sky: float
    moon_and_planets: float
    lift: float
    begin: str | None
    end: str | None
    end_code: str
    ended_by: str
    session_h: float
    dark_h: float
    moonless_h: float
    moonless_dark_h: float
    moon_lit_fraction: float | None
    moon_highest_deg: float | None
    moon_up: list[list[str]]
    stops: int
    stop_points: float
    objects_showing: int
    glows_showing: int
    planets: list[ShownData]
    best: list[ShownData]
    special: list[str]
    reason: str


class SharesData(TypedDict):
    """For whom the score is, and what counts how much in it; the sum is 1."""

    audience: str
    deep_sky: float
    moon_and_planets: float
    stops: float


class PhaseData(TypedDict):
    """A phase of the Moon and its moment."""

    phase: str
    at: str


class AssumedFigure(TypedDict):
    """What was taken for granted of the sky, and its figure."""

    code: str
    value: float


# `from` is a word of the language, so that this form can't be written as a class.
CalendarData = TypedDict(
    "CalendarData",
    {
        "format": str,
        "version": Literal[2],
        "place": PlaceOfCalendar,
        "kit_name": str,
        "from": str,
        "to": str,
        "wanted_stops": int,
        "stop_min": float,
        "shares": SharesData,
        "objects_considered": int,
        "objects_that_can_show": int,
        "best_nights": list[str],
        "nights": list[NightData],
        "moon_phases": list[PhaseData],
        "special_nights": list[SpecialNightData],
        "assumed_sky": list[AssumedFigure],
        "broken_lines": list[int],
        "assumed": list[str],
    },
)


def calendar_data(answer: CalendarAnswer) -> CalendarData:
    """Everything for programs."""
    calendar, kit = answer.calendar, answer.kit
    shares = shares_of(kit)
    return {
        "format": "axletree calendar",
        "version": 2,
        "place": {
            "name": kit.site.name,
            "latitude_deg": kit.site.latitude_deg,
            "longitude_deg": kit.site.longitude_deg,
            "time_zone": kit.site.time_zone,
        },
        "kit_name": kit.name,
        "from": calendar.nights[0].date.isoformat(),
        "to": calendar.nights[-1].date.isoformat(),
        "wanted_stops": calendar.wanted_stops,
        "stop_min": round(calendar.stop_min, 2),
        "shares": {
            "audience": audience_of(kit.habits),
            "deep_sky": round(shares.deep_sky, 3),
            "moon_and_planets": round(shares.moon_and_planets, 3),
            "stops": round(shares.stops, 3),
        },
        "objects_considered": calendar.considered,
        "objects_that_can_show": calendar.can_show,
        "best_nights": [night.date.isoformat() for night in answer.best],
        "nights": [night_data(night, kit) for night in calendar.nights],
        "moon_phases": [
            {"phase": p.name, "at": p.time.replace(microsecond=0).isoformat()}
            for p in calendar.phases
        ],
        "special_nights": [
            special_data(night, kit.site.zone, answer.sun_filters) for night in answer.special
        ],
        "assumed_sky": [
            {"code": a.what.value, "value": round(a.value, 2)} for a in calendar.assumed
        ],
        "broken_lines": [row.line for row in answer.broken_rows],
        "assumed": assumed_words(answer),
    }


def night_data(night: ScoredNight, kit: Kit) -> NightData:
    """One night for programs."""
    lit, highest = night.moon_lit, night.moon_highest_deg
    return {
        "date": night.date.isoformat(),
        "score": round(night.score, 1),
        "deep_sky": round(night.deep_sky, 1),
        "moon_and_planets": round(night.moon_and_planets, 1),
        "lift": round(night.lift, 1),
        "begin": None if night.begin is None else _moment(night.begin),
        "end": None if night.end is None else _moment(night.end),
        "end_code": night.ended_by.value,
        "ended_by": end_words(night),
        "session_h": round(night.session_h, 3),
        "dark_h": round(night.dark_h, 3),
        "moonless_h": round(night.moonless_h, 3),
        "moonless_dark_h": round(night.moonless_dark_h, 3),
        "moon_lit_fraction": None if lit is None else round(lit, 3),
        "moon_highest_deg": None if highest is None else round(highest, 1),
        "moon_up": [[_moment(a), _moment(b)] for a, b in night.moon_up],
        "stops": night.stops,
        "stop_points": round(night.stop_points, 1),
        "objects_showing": night.showing,
        "glows_showing": night.glows_showing,
        "planets": [_shown(one) for one in night.planets],
        "best": [_shown(one) for one in night.best],
        "special": [one.kind.value for one in night.special],
        "reason": reason(night, kit),
    }


def _moment(value: datetime) -> str:
    return value.replace(microsecond=0).isoformat()


def _shown(one: Shown) -> ShownData:
    return {
        "name": one.name,
        "common_name": one.common_name,
        "theme": one.theme,
        "begin": _moment(one.begin),
        "height_deg": round(one.height_deg, 1),
        "points": round(one.points, 1),
    }
