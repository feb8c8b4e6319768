"""What does a program get to know about places? Keys carry units."""

from __future__ import annotations

from typing import Literal, NotRequired

from typing_extensions import TypedDict

from axletree.stages.kit.place import PlaceAnswer


class PlaceRow(TypedDict):
    """One place; what is told by coordinates has no name, country and population."""

    name: NotRequired[str]
    country: NotRequired[str]
    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None
    time_zone: str
    population: NotRequired[int]


class PlaceData(TypedDict):
    """The answer of `axletree place`, best match first."""

    version: Literal[1]
    places: list[PlaceRow]


def place_data(answer: PlaceAnswer) -> PlaceData:
    """The answer for programs."""
    rows: list[PlaceRow] = [
        {
            "name": place.name,
            "country": place.country,
            "latitude_deg": place.latitude_deg,
            "longitude_deg": place.longitude_deg,
            "elevation_m": place.elevation_m,
            "time_zone": place.time_zone,
            "population": place.population,
        }
        for place in answer.places
    ]
    point = answer.point
    if point is not None:
        rows.append(
            {
                "latitude_deg": point.latitude_deg,
                "longitude_deg": point.longitude_deg,
                "elevation_m": point.elevation_m,
                "time_zone": point.time_zone,
            }
        )
    return {"version": 1, "places": rows}
