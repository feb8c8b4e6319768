"""What does a program get to know about the crossings of satellites? Keys carry units."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from typing_extensions import TypedDict

from axletree.evening.special.crossings import CrossingsTonight
from axletree.sky.satellites.crossings import Crossing, CrossingMoment
from axletree.tell.satellites.text import crossing_words, satellite_notes


class CrossingMomentData(TypedDict):
    """Where a satellite stands at a moment of its crossing, as seen; magnitude None: not known."""

    what: str
    at: str
    azimuth_deg: float
    altitude_deg: float
    distance_km: float
    magnitude: float | None


class CrossingData(TypedDict):
    """One crossing: begin, highest and end; `error_s` one standard deviation of the times."""

    name: str
    number: int
    moments: list[CrossingMomentData]
    brightest_mag: float | None
    age_days: float
    old: bool
    error_s: float
    words: str


class TooOldData(TypedDict):
    """A satellite whose elements are too many days from the evening."""

    name: str
    number: int
    age_days: float


class SatellitesData(TypedDict):
    """When visitors can look up; `more` crossings are left out, fainter or lower."""

    crossings: list[CrossingData]
    more: int
    too_old: list[TooOldData]
    notes: list[str]


def satellites_data(tonight: CrossingsTonight | None, zone: ZoneInfo) -> SatellitesData | None:
    """The whole of it for programs; None where the kit names no satellites."""
    if tonight is None:
        return None
    return {
        "crossings": [_crossing(one, zone) for one in tonight.crossings],
        "more": tonight.more,
        "too_old": [
            {"name": one.name, "number": one.number, "age_days": round(one.age_days, 1)}
            for one in tonight.too_old
        ],
        "notes": satellite_notes(tonight),
    }


def _crossing(one: Crossing, zone: ZoneInfo) -> CrossingData:
    light = one.brightest_mag
    return {
        "name": one.name,
        "number": one.number,
        "moments": [_moment(m, zone) for m in (one.begin, one.highest, one.end)],
        "brightest_mag": None if light is None else round(light, 1),
        "age_days": round(one.age_days, 2),
        "old": one.old,
        "error_s": round(one.error_s, 1),
        "words": crossing_words(one, zone),
    }


def _moment(moment: CrossingMoment, zone: ZoneInfo) -> CrossingMomentData:
    return {
        "what": moment.kind.value,
        "at": moment.time.astimezone(zone).isoformat(timespec="seconds"),
        "azimuth_deg": round(moment.azimuth_deg, 1),
        "altitude_deg": round(moment.altitude_deg, 1),
        "distance_km": round(moment.distance_km),
        "magnitude": None if moment.magnitude is None else round(moment.magnitude, 1),
    }
