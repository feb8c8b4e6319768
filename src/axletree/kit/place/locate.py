"""Which one place is meant by a name, coordinates or a geo: URI?"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.place.coordinates import parse_location
from axletree.kit.place.find import find_places, time_zone_at


def holds_coordinates(words: str) -> bool:
    """Whether the words are coordinates or a geo: URI (RFC 5870), not a name."""
    return words.strip()[:4].lower() == "geo:" or sum(c.isdigit() for c in words) >= 2


def no_such_place(name: str) -> AxletreeError:
    """The refusal of a name that the list doesn't have."""
    return AxletreeError(
        f"no place called '{name}' in the list; give coordinates, like \"38.57, -7.91\""
    )


def locate(place: str) -> tuple[float, float, float | None, str]:
    """Latitude, longitude (degrees), elevation (m) and zone of a place by name or coordinates.

    Coordinates may be decimal, sexagesimal or a geo: URI (RFC 5870). Of several places with the
    same name the most populous is meant; 'name, country' chooses another.
    """
    if holds_coordinates(place):
        latitude, longitude, elevation = parse_location(place)
        return latitude, longitude, elevation, time_zone_at(latitude, longitude)
    found = find_places(place, limit=1)
    if not found:
        raise no_such_place(place)
    best = found[0]
    return best.latitude_deg, best.longitude_deg, best.elevation_m, best.time_zone
