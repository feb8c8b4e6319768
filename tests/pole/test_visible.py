"""When the pole star comes out: against skyfield's Sun, and where no night comes."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest
from skyfield.api import load as skyfield_load
from skyfield.api import load_file, wgs84

from axletree.pole.aim.target import pole_target
from axletree.pole.aim.visible import StarNight, star_tonight, sun_depression_for
from axletree.sky.observer import Observer


def sun_altitude_by_skyfield(observer: Observer, at: datetime) -> float:
    import skyfield_data

    kernel = load_file(f"{skyfield_data.get_skyfield_data_path()}/de421.bsp")
    times = skyfield_load.timescale(builtin=True)
    here = kernel["earth"] + wgs84.latlon(
        observer.latitude_deg, observer.longitude_deg, observer.elevation_m
    )
    altitude, _, _ = here.at(times.from_datetime(at)).observe(kernel["sun"]).apparent().altaz()
    return float(altitude.degrees)


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [(38.5712, -7.9093, "Europe/Lisbon"), (-44.021, 170.462, "Pacific/Auckland")],
)
def test_star_comes_out_when_the_sun_is_eight_or_twelve_degrees_down(
    latitude: float, longitude: float, zone: str
) -> None:
    # Common practice, no source: Polaris at a Sun of -8 degrees; sigma Octantis in nautical dusk.
    observer = Observer(latitude, longitude, 300.0)
    depression = sun_depression_for(latitude > 0, "scope")
    assert depression == (8.0 if latitude > 0 else 12.0)
    tonight = star_tonight(
        observer, pole_target(observer), datetime(2026, 12, 5, 9, tzinfo=UTC), zone,
        sun_depression_deg=depression,
    )  # fmt: skip
    assert tonight.state is StarNight.COMES_OUT
    assert tonight.comes_out is not None
    assert tonight.fades is not None
    # 0.01 degrees is 3 s of time.
    for moment in (tonight.comes_out, tonight.fades):
        assert sun_altitude_by_skyfield(observer, moment) == pytest.approx(-depression, abs=0.01)
    assert tonight.comes_out < tonight.fades


def test_a_morning_asks_about_the_coming_evening() -> None:
    observer = Observer(38.5712, -7.9093)
    zone = "Europe/Lisbon"
    for hour, evening in ((10, 5), (20, 5), (2, 4)):
        at = datetime(2026, 12, 5, hour, tzinfo=UTC)
        tonight = star_tonight(observer, pole_target(observer), at, zone)
        assert tonight.comes_out is not None
        assert tonight.comes_out.day == evening


def test_no_night_above_the_polar_circle_in_june() -> None:
    # Latitude 70 on 21 June: lowest Sun at 70 - 90 + 23.44 = +3.44 degrees.
    observer = Observer(70.0, 20.0)
    tonight = star_tonight(
        observer, pole_target(observer), datetime(2026, 6, 21, 21, tzinfo=UTC), "Europe/Oslo"
    )
    assert tonight.state is StarNight.NEVER_DARK_ENOUGH
    assert tonight.comes_out is None
    assert tonight.out == ()
    assert tonight.lowest_sun_altitude_deg == pytest.approx(3.44, abs=0.02)
    # It comes back when the Sun's declination falls to 12 degrees: about 21 August (almanacs give
    # +12 degrees on 21 August, from memory).
    assert tonight.next_night is not None
    assert abs(tonight.next_night - date(2026, 8, 21)) <= timedelta(days=1)


def test_polar_night_is_dark_all_along() -> None:
    observer = Observer(82.0, 20.0)
    tonight = star_tonight(
        observer, pole_target(observer), datetime(2026, 12, 21, 12, tzinfo=UTC), "Europe/Oslo"
    )
    assert tonight.state is StarNight.DARK_ALL_ALONG
    assert tonight.comes_out is None
    assert len(tonight.out) == 1


def test_the_skyline_hides_the_star_on_the_lower_half_of_its_circle() -> None:
    observer = Observer(45.0, 10.0)
    target = pole_target(observer)
    at = datetime(2026, 12, 5, 20, tzinfo=UTC)

    def wall(height: float):
        return lambda azimuth: np.full(np.shape(azimuth), height)

    free = star_tonight(observer, target, at, "UTC", skyline=wall(30.0))
    assert free.pole_margin_deg == pytest.approx(15.0, abs=0.05)
    assert free.least_margin_deg == pytest.approx(15.0 - 0.62, abs=0.05)
    assert len(free.out) == 1
    half = star_tonight(observer, target, at, "UTC", skyline=wall(target.altitude_deg))
    assert half.pole_margin_deg == pytest.approx(0.0, abs=1e-9)
    shown = sum((b - a).total_seconds() for a, b in half.out)
    whole = sum((b - a).total_seconds() for a, b in free.out)
    assert 0 < shown < whole
    hidden = star_tonight(observer, target, at, "UTC", skyline=wall(60.0))
    assert hidden.out == ()
    assert hidden.star_margin_deg is not None
    assert hidden.star_margin_deg < -13
