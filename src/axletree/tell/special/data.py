"""What does a program get to know about what makes a night special?"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from typing_extensions import TypedDict

from axletree.evening.special.of_kit import is_great
from axletree.sky.special.kinds import Figure, NamedMoment, SpecialNight
from axletree.tell.special.text import special_caution, special_title, special_words


class SpecialMomentData(TypedDict):
    """One moment with its error, and where the thing stands then (degrees, as seen)."""

    what: str
    at: str
    error_s: float
    altitude_deg: float
    azimuth_deg: float
    seen: bool
    limb: str | None


class SpecialFigureData(TypedDict):
    """One figure with its error; its unit stands in its name."""

    what: str
    value: float
    error: float


class SpecialNightData(TypedDict):
    """One thing that makes a night special: kind and figures as codes, and told in `words`."""

    kind: str
    date: str
    bodies: list[str]
    greatest: SpecialMomentData
    moments: list[SpecialMomentData]
    figures: list[SpecialFigureData]
    nights: list[str]
    grazing: bool
    great: bool
    title: str
    words: str
    caution: str


def special_data(night: SpecialNight, zone: ZoneInfo, sun_filters: bool) -> SpecialNightData:
    """All of it for programs; `caution` is '' but for what is looked at beside the Sun."""
    return {
        "kind": night.kind.value,
        "date": night.day.isoformat(),
        "bodies": list(night.bodies),
        "greatest": _moment(night.greatest, zone),
        "moments": [_moment(m, zone) for m in night.moments],
        "figures": [_figure(f) for f in night.figures],
        "nights": [day.isoformat() for day in night.nights],
        "grazing": night.grazing,
        "great": is_great(night),
        "title": special_title(night, zone),
        "words": special_words(night, zone),
        "caution": special_caution(night, sun_filters),
    }


def _moment(moment: NamedMoment, zone: ZoneInfo) -> SpecialMomentData:
    at: datetime = moment.time.astimezone(zone).replace(microsecond=0)
    return {
        "what": moment.kind.value,
        "at": at.isoformat(),
        "error_s": round(moment.doubt_s, 1),
        "altitude_deg": round(moment.altitude_deg, 1),
        "azimuth_deg": round(moment.azimuth_deg, 1),
        "seen": moment.seen,
        "limb": None if moment.limb is None else moment.limb.value,
    }


def _figure(figure: Figure) -> SpecialFigureData:
    return {
        "what": figure.kind.value,
        "value": round(figure.value, 4),
        "error": round(figure.error, 4),
    }
