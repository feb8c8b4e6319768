"""Stars of many rows at once stand where each stands alone."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from skyfield.api import Star, load, load_file, wgs84
from skyfield_data import get_skyfield_data_path

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.kit.reading.table import Row
from axletree.pole.rows.reading import places_of
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of

AT = datetime(2026, 12, 5, 20, 30, tzinfo=UTC)


def row(number: int, **cells: str) -> Row:
    return Row("x", number, cells, False)


def test_each_row_has_its_own_star_and_time() -> None:
    """Against skyfield 1.x with DE421, its own precession, nutation and UT1: 0.02 degrees is far
    more than both differ, and far less than a minute of time."""
    observer = observer_of(demo_kit().site)
    names = ["Vega", "Capella", "Vega", "Hamal"]
    times = [AT + timedelta(minutes=7 * k) for k in range(4)]
    placed = places_of([row(k, star=n) for k, n in enumerate(names)], times, observer)
    clock = load.timescale(builtin=True)
    bodies = load_file(f"{get_skyfield_data_path()}/de421.bsp")
    here = bodies["earth"] + wgs84.latlon(observer.latitude_deg, observer.longitude_deg)
    for name, at, found in zip(names, times, placed, strict=True):
        thing = find(name)
        star = Star(ra_hours=thing.ra_deg / 15.0, dec_degrees=thing.dec_deg)
        hour, declination, _ = here.at(clock.from_datetime(at)).observe(star).apparent().hadec()
        assert found.hour_angle_h * 15.0 == pytest.approx(hour.hours * 15.0, abs=0.02)
        assert found.declination_deg == pytest.approx(declination.degrees, abs=0.02)
        assert (found.name, found.at) == (thing.name, at)


def test_what_a_row_says_itself_is_kept_and_the_first_below_is_refused() -> None:
    observer = observer_of(demo_kit().site)
    said = row(1, hour_angle_h="1.5", declination_deg="20")
    half = row(2, star="Vega", declination_deg="38.0")
    placed = places_of([said, half], [None, AT], observer)
    assert (placed[0].hour_angle_h, placed[0].declination_deg) == (1.5, 20.0)
    assert placed[1].declination_deg == 38.0
    below = row(3, star="Canopus")
    with pytest.raises(AxletreeError, match=r"line 3: .*Canopus stands .* below the horizon"):
        places_of([said, below, row(4, star="Acrux")], [None, AT, AT], observer)
