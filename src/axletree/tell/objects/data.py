"""What does a program get to know about the objects that show, and one object's year?

Keys carry units; codes stand beside sentences, in the same order.
"""

from __future__ import annotations

import math
from typing import Literal

from typing_extensions import TypedDict

from axletree.evening.objects.listing import Listed
from axletree.evening.seeing.grades import visibility_of
from axletree.evening.year.best_nights import NightOf
from axletree.sky.catalogue.constellations import constellation_name
from axletree.stages.night.best_nights import BestNightsAnswer
from axletree.stages.night.objects import ObjectsAnswer
from axletree.tell.objects.text import happens_words, notes_words, reason_words, side_words
from axletree.tell.orbit.data import OrbitData, orbit_data
from axletree.tell.room.data import SideInShort, sides_data
from axletree.tell.seeing.text import sky_words, visibility_words


class ListedData(TypedDict):
    """One object at its best moment."""

    name: str
    also_called: list[str]
    catalogue_id: str
    kind: str
    constellation: str | None
    magnitude_v: float | None
    magnitude_guessed: bool
    size_arcmin: float | None
    separation_arcsec: float | None
    points: float
    margin_mag: float | None
    sight_code: str
    sight: str
    shows_from: str | None
    shows_until: str | None
    best_at: str
    altitude_deg: float
    azimuth_deg: float
    eyepiece: str
    magnification: float
    exit_pupil_mm: float
    true_field_deg: float
    must_see: bool
    better_side: str | None
    side_reason: str | None
    side_reason_code: str | None
    sides: list[SideInShort]
    why: str
    orbit: OrbitData | None
    tonight: str


class AssumedSkyData(TypedDict):
    """What was taken for granted of the sky, and its figure."""

    code: str
    value: float


# `from` is a word of the language, so that this form can't be written as a class.
ObjectsData = TypedDict(
    "ObjectsData",
    {
        "version": Literal[1],
        "from": str,
        "until": str,
        "site": str,
        "sky_brightness_mag_arcsec2": float,
        "extinction_mag_per_airmass": float,
        "observer": str,
        "limit_mag": float,
        "matching": int,
        "above_skyline": int,
        "showing": int,
        "unknown": int,
        "objects": list[ListedData],
        "assumed_sky": list[AssumedSkyData],
        "assumed": list[str],
        "broken_lines": list[int],
        "notes": list[str],
    },
)

Season = TypedDict("Season", {"from": str, "until": str})


class NightOfObject(TypedDict):
    """One night of the object; altitude and margin are null where it doesn't show."""

    date: str
    score: float
    evening_h: float
    night_h: float
    altitude_deg: float | None
    margin_mag: float | None
    best_at: str | None
    moon_up: bool


class BestNightsData(TypedDict):
    """The year of one object: seasons, best nights, every night."""

    version: Literal[1]
    object: str
    kind: str
    site: str
    seasons: list[Season]
    best_nights: list[NightOfObject]
    nights: list[NightOfObject]


def objects_data(answer: ObjectsAnswer) -> ObjectsData:
    """The list for programs."""
    listing, times, sky = answer.listing, answer.times, answer.sky
    return {
        "version": 1,
        "from": times[0].isoformat(),
        "until": times[-1].isoformat(),
        "site": answer.kit.site.name,
        "sky_brightness_mag_arcsec2": round(sky.zenith_mag_arcsec2, 2),
        "extinction_mag_per_airmass": round(sky.extinction_mag, 3),
        "observer": answer.kit.habits.observer,
        "limit_mag": round(listing.limit_mag, 2),
        "matching": listing.matching,
        "above_skyline": listing.up,
        "showing": listing.seen,
        "unknown": listing.unknown,
        "objects": [_listed(row, answer) for row in listing.rows],
        "assumed_sky": [{"code": a.what.value, "value": round(a.value, 2)} for a in sky.assumed],
        "assumed": [sky_words(assumed) for assumed in sky.assumed],
        "broken_lines": [row.line for row in answer.broken_rows],
        "notes": notes_words(answer),
    }


def _listed(row: Listed, answer: ObjectsAnswer) -> ListedData:
    target, times = row.target, answer.times
    seen = [k for k, shown in enumerate(row.shows) if shown]
    visibility = visibility_of(row.margin_mag)
    return {
        "name": target.name,
        "also_called": list(target.common_names),
        "catalogue_id": target.catalogue_id,
        "kind": target.kind,
        "constellation": constellation_name(target.constellation),
        "magnitude_v": target.magnitude_v,
        "magnitude_guessed": target.magnitude_guessed,
        "size_arcmin": target.size_major_arcmin,
        "separation_arcsec": target.separation_arcsec,
        "points": round(row.points, 1),
        "margin_mag": _known(row.margin_mag, 2),
        "sight_code": visibility.value,
        "sight": visibility_words(visibility),
        "shows_from": times[seen[0]].isoformat() if seen else None,
        "shows_until": times[seen[-1]].isoformat() if seen else None,
        "best_at": times[row.best].isoformat(),
        "altitude_deg": round(row.altitude_deg, 2),
        "azimuth_deg": round(row.azimuth_deg, 2),
        "eyepiece": row.eyepiece,
        "magnification": round(row.magnification, 1),
        "exit_pupil_mm": round(row.exit_pupil_mm, 2),
        "true_field_deg": round(row.true_field_deg, 3),
        "must_see": row.must,
        "better_side": (row.choice.better or None) if row.choice else None,
        "side_reason": side_words(row, answer.kit),
        "side_reason_code": row.choice.reason.value if row.choice else None,
        "sides": sides_data(row.choice) if row.choice else [],
        "why": reason_words(row, times, answer.kit),
        "orbit": orbit_data(target),
        "tonight": happens_words(row, times, answer.kit),
    }


def _known(value: float, places: int) -> float | None:
    return round(value, places) if math.isfinite(value) else None


def best_nights_data(answer: BestNightsAnswer, count: int) -> BestNightsData:
    """The year for programs, with its `count` best nights."""
    year = answer.year
    return {
        "version": 1,
        "object": year.target.name,
        "kind": year.target.kind,
        "site": answer.kit.site.name,
        "seasons": [{"from": a.isoformat(), "until": b.isoformat()} for a, b in year.seasons],
        "best_nights": [_night(night) for night in year.best(count)],
        "nights": [_night(night) for night in year.nights],
    }


def _night(night: NightOf) -> NightOfObject:
    return {
        "date": night.date.isoformat(),
        "score": round(night.score, 1),
        "evening_h": round(night.evening_h, 2),
        "night_h": round(night.night_h, 2),
        "altitude_deg": _known(night.altitude_deg, 1),
        "margin_mag": _known(night.margin_mag, 2),
        "best_at": night.best.isoformat() if night.best else None,
        "moon_up": night.moon,
    }
