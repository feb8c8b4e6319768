"""Are places found by name, as people write them, and their time zones right?"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from timezonefinder import TimezoneFinder

from axletree.data import data_path
from axletree.kit.errors import AxletreeError
from axletree.kit.place.find import find_places, time_zone_at


@pytest.mark.parametrize(
    ("text", "country", "latitude", "longitude", "zone"),
    [
        ("Évora", "PT", 38.57, -7.91, "Europe/Lisbon"),
        ("evora", "PT", 38.57, -7.91, "Europe/Lisbon"),
        ("ÉVORA", "PT", 38.57, -7.91, "Europe/Lisbon"),
        ("Vienna", "AT", 48.21, 16.37, "Europe/Vienna"),
        ("Wien", "AT", 48.21, 16.37, "Europe/Vienna"),
        ("Vienne, Austria", "AT", 48.21, 16.37, "Europe/Vienna"),
        ("Vienna, Virginia", "US", 38.90, -77.27, "America/New_York"),
        ("Vienna, US", "US", 38.90, -77.27, "America/New_York"),
        ("Lisboa", "PT", 38.72, -9.13, "Europe/Lisbon"),
        ("München", "DE", 48.14, 11.58, "Europe/Berlin"),
        ("Munich", "DE", 48.14, 11.58, "Europe/Berlin"),
        ("Tromsø", "NO", 69.65, 18.96, "Europe/Oslo"),
        ("Tromso", "NO", 69.65, 18.96, "Europe/Oslo"),
        ("Łódź", "PL", 51.77, 19.46, "Europe/Warsaw"),
        ("lodz", "PL", 51.77, 19.46, "Europe/Warsaw"),
        ("São Paulo", "BR", -23.55, -46.63, "America/Sao_Paulo"),
        ("東京", "JP", 35.69, 139.69, "Asia/Tokyo"),
        ("Москва", "RU", 55.75, 37.62, "Europe/Moscow"),
        ("Alice Springs", "AU", -23.70, 133.88, "Australia/Darwin"),
        ("Quito", "EC", -0.22, -78.51, "America/Guayaquil"),
        ("Longyearbyen", "SJ", 78.22, 15.65, "Arctic/Longyearbyen"),
        ("Lake Tekapo", "NZ", -44.00, 170.48, "Pacific/Auckland"),
        ("Tekapo", "NZ", -44.00, 170.48, "Pacific/Auckland"),
    ],
)
def test_the_first_answer_is_the_place_meant(
    text: str, country: str, latitude: float, longitude: float, zone: str
) -> None:
    """Coordinates of atlases (from memory), 0.06 degree: where a town's middle is, is taste."""
    first = find_places(text)[0]
    assert first.country_code == country
    assert first.latitude_deg == pytest.approx(latitude, abs=0.06)
    assert first.longitude_deg == pytest.approx(longitude, abs=0.06)
    assert first.time_zone == zone


def test_what_comes_back_for_the_demo_places() -> None:
    evora = find_places("Évora")[0]
    assert (evora.name, evora.country, evora.region) == ("Évora", "Portugal", "Évora")
    assert evora.population > 40_000
    assert evora.elevation_m is None
    assert find_places("Lake Tekapo")[0].elevation_m == 710


def test_large_places_come_first_and_the_limit_holds() -> None:
    many = find_places("San", limit=7)
    assert len(many) == 7
    assert len(find_places("Vienna", limit=2)) == 2
    same = [place for place in find_places("Springfield", 10) if place.name == "Springfield"]
    assert len(same) >= 5
    assert [p.population for p in same] == sorted((p.population for p in same), reverse=True)


def test_the_beginning_of_a_name_is_enough() -> None:
    assert find_places("Reykjav")[0].name == "Reykjavík"


def test_an_unknown_name_gives_nothing_and_no_name_is_refused() -> None:
    assert find_places("Nowhereville-under-Nothing") == []
    assert find_places("Vienna, Peru") == []
    for empty in ("", "  ", "!?", ", US"):
        with pytest.raises(AxletreeError, match="no place named"):
            find_places(empty)


def test_a_name_can_not_smuggle_in_the_separators_of_the_file() -> None:
    assert find_places(";;;Évora|") == find_places("Évora")


def some_places(count: int) -> list[tuple[float, float, str]]:
    """Seeded choice from the whole list: latitude, longitude, GeoNames' zone."""
    lines = data_path("places.txt").read_text(encoding="utf-8").splitlines()
    zones = lines[2].split("|")[1:]
    picks = np.random.default_rng(5870).choice(np.arange(3, len(lines)), count, replace=False)
    rows = [lines[at].split("|") for at in picks]
    return [(float(row[3]), float(row[4]), zones[int(row[7])]) for row in rows]


def clock(zone: str) -> tuple[object, ...]:
    """What the zone's clocks show through the year 2026."""
    info = ZoneInfo(zone)
    return tuple(datetime(2026, month, 15, 12, tzinfo=info).utcoffset() for month in range(1, 13))


def test_time_zones_on_200_land_points_against_timezonefinder() -> None:
    """Zones of one clock count as the same (Europe/Vienna, Europe/Berlin near the border); one
    point in a hundred may lie on a border that one of the two packages has simplified."""
    finder = TimezoneFinder()
    points = some_places(200)
    differing = [
        (lat, lon) for lat, lon, _ in points
        if clock(time_zone_at(lat, lon)) != clock(str(finder.timezone_at(lat=lat, lng=lon)))
    ]  # fmt: skip
    assert len(differing) <= 2, differing


def test_zones_of_the_list_against_the_polygons() -> None:
    points = some_places(200)
    differing = [p for p in points if clock(time_zone_at(p[0], p[1])) != clock(p[2])]
    assert len(differing) <= 2, differing


def test_zone_at_sea_and_off_the_earth() -> None:
    """Nautical zones, 15 degrees wide, with the signs of POSIX (common practice, no source)."""
    assert time_zone_at(0, -30) == "Etc/GMT+2"
    with pytest.raises(AxletreeError, match="not on the Earth"):
        time_zone_at(95, 0)
    with pytest.raises(AxletreeError, match="not on the Earth"):
        time_zone_at(float("nan"), 0)
