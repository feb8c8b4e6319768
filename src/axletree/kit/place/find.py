"""Where is the place that a person names or gives in figures?

Public: ``Place``, ``find_places(text, limit)``, ``time_zone_at(latitude_deg, longitude_deg)``;
figures are read by ``axletree.kit.place.coordinates.parse_location``.  Names come from
a cut of GeoNames (CC BY 4.0, see data/SOURCES.md); nothing is asked of a network.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from axletree.data import data_path
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.spelling import fold


@dataclass(frozen=True)
class Place:
    """A place by name.  ``region`` is the first division of the country, '' if unknown.

    ``latitude_deg`` north and ``longitude_deg`` east positive, WGS-84.  ``elevation_m`` is None
    where the source has none, which is nearly everywhere.
    """

    name: str
    country: str
    country_code: str
    region: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None
    time_zone: str
    population: int


def find_places(text: str, limit: int = 10) -> list[Place]:
    """Places of this name, best first: the whole name before its beginning, large before small.

    Capitals, accents and spaces make no difference; names in other languages count ('Wien',
    'Vienne').  After a comma a country or region narrows the search: 'Vienna, US',
    'Vienna, Virginia'.  Places of 5,000 people and more are known.  An unknown name gives [].
    """
    name, *rest = (part.strip() for part in text.split(","))
    wanted = fold(name)
    if not wanted:
        raise AxletreeError("no place named: give a name such as 'Évora' or 'Vienna, Austria'")
    narrowing = [fold(part) for part in rest if fold(part)]
    found: list[Place] = []
    # The printed name stands first, behind '|;': its beginning is worth more than another's.
    for pattern in (f";{wanted};", f"|;{wanted}", f";{wanted}"):
        if found and pattern == f";{wanted}":
            break
        for line in _lines_with(pattern.encode()):
            place = _place(line)
            if place not in found and all(_lies_in(place, where) for where in narrowing):
                found.append(place)
                if len(found) == limit:
                    return found
    return found


def time_zone_at(latitude_deg: float, longitude_deg: float) -> str:
    """IANA time zone of a point, from the polygons that the package tzfpy carries.

    At sea a zone of whole hours ('Etc/GMT+2'); refuses a point that is not on the Earth.
    """
    import tzfpy

    if not (-90 <= latitude_deg <= 90 and -180 <= longitude_deg <= 180):
        raise AxletreeError(
            f"latitude {latitude_deg:g}, longitude {longitude_deg:g} is not on the Earth: latitude"
            " must lie within -90..90 and longitude within -180..180"
        )
    zone = str(tzfpy.get_tz(longitude_deg, latitude_deg))
    return zone or "Etc/UTC"


def place_rows() -> bytes:
    """The rows of the list, a place a line, as they are kept."""
    return _data()[_heads()[3] :]


@cache
def _data() -> bytes:
    return data_path("places.txt").read_bytes()


@cache
def _heads() -> tuple[dict[str, str], list[str], list[str], int]:
    """Country names by code, regions, zones, and where the places begin."""
    at, heads = 0, []
    for _ in range(3):
        end = _data().index(b"\n", at)
        heads.append(_data()[at:end].decode().split("|")[1:])
        at = end + 1
    countries = dict(entry.split("=", 1) for entry in heads[0])
    return countries, heads[1], heads[2], at


def _lines_with(pattern: bytes) -> Iterator[str]:
    data, at = _data(), _heads()[3]
    while (hit := data.find(pattern, at)) >= 0:
        start, end = data.rfind(b"\n", 0, hit) + 1, data.index(b"\n", hit)
        yield data[start:end].decode()
        at = end


def _place(line: str) -> Place:
    countries, regions, zones, _ = _heads()
    name, country, region, lat, lon, elevation, people, zone, _names = line.split("|")
    return Place(
        name=name,
        country=countries[country],
        country_code=country,
        region=regions[int(region)],
        latitude_deg=float(lat),
        longitude_deg=float(lon),
        elevation_m=float(elevation) if elevation else None,
        time_zone=zones[int(zone)],
        population=int(people),
    )


def _lies_in(place: Place, where: str) -> bool:
    names = {fold(place.country), fold(place.country_code), fold(place.region)}
    return where in names or (len(where) > 3 and any(name.startswith(where) for name in names))
