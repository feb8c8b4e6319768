"""Which places on the Earth have this name, or these coordinates?"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.place.coordinates import parse_location
from axletree.kit.place.find import Place, find_places, time_zone_at
from axletree.kit.place.locate import holds_coordinates, no_such_place


@dataclass(frozen=True)
class PlaceRequest:
    """A name, coordinates or a geo: URI (RFC 5870), and how many matches to give at most."""

    words: str
    limit: int = 10


@dataclass(frozen=True)
class Located:
    """A point of the Earth without a name; `elevation_m` is None where it isn't told."""

    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None
    time_zone: str


@dataclass(frozen=True)
class PlaceAnswer:
    """Named places, best first; or the one point that coordinates tell."""

    places: tuple[Place, ...] = ()
    point: Located | None = None


def place(request: PlaceRequest) -> PlaceAnswer:
    """The places that are meant. Refuses a limit below 1, and what is no known place."""
    if request.limit < 1:
        raise AxletreeError("the limit must be at least 1")
    if holds_coordinates(request.words):
        latitude_deg, longitude_deg, elevation_m = parse_location(request.words)
        zone = time_zone_at(latitude_deg, longitude_deg)
        return PlaceAnswer(point=Located(latitude_deg, longitude_deg, elevation_m, zone))
    found = find_places(request.words, limit=request.limit)
    if not found:
        raise no_such_place(request.words)
    return PlaceAnswer(places=tuple(found))
