"""What lies at the edge of what is accepted, or is taken when nothing is said."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from astropy.time import Time
from astropy.utils.iers import LeapSeconds
from astropy_iers_data import IERS_LEAP_SECOND_FILE

from axletree.kit.errors import AxletreeError
from axletree.sky.air.refraction import almanac_refraction_deg, refraction_from_apparent_deg
from axletree.sky.bulk.windows import windows
from axletree.sky.catalogue.stars import stars
from axletree.sky.events.rise_and_set import darkness_of, sun_altitude_deg
from axletree.sky.observer import Observer
from axletree.sky.optics import magnification
from axletree.sky.positions.bodies import body_positions
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.time.earth_rotation import (
    earth_rotation_at,
    earth_rotation_table,
    leap_seconds_known_to_mjd,
)
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night, nights_between
from axletree.tell.shared.text import rotation_words


@pytest.mark.parametrize(
    ("key", "there", "nowhere"),
    [
        # World Meteorological Organization, archive of extremes: -89.2 C (1983), 56.7 C (1913),
        # 1083.8 hPa (1968, at sea level). Land: -430 m (the Dead Sea's shore) to 8,849 m.
        ("temperature_c", (-89.2, 56.7), (-91.0, 61.0)),
        ("pressure_hpa", (0.0, 1083.8), (-0.1, 1101.0)),
        ("elevation_m", (-430.0, 8849.0), (-501.0, 9001.0)),
        # Either way of counting longitudes, but no way round the Earth and more.
        ("longitude_deg", (-180.0, 360.0), (-180.1, 360.1)),
        ("latitude_deg", (-90.0, 90.0), (-90.1, 90.1)),
        ("relative_humidity", (0.0, 1.0), (-0.01, 1.01)),
    ],
)
def test_every_place_on_earth_is_accepted_and_no_other(
    key: str, there: tuple[float, float], nowhere: tuple[float, float]
) -> None:
    spot = {"latitude_deg": 10.0, "longitude_deg": 20.0}
    for value in there:
        assert getattr(Observer(**{**spot, key: value}), key) == value
    for value in nowhere:
        with pytest.raises(AxletreeError, match=key):
            Observer(**{**spot, key: value})


def test_below_the_horizon_refraction_fades_evenly() -> None:
    # The almanac's form as printed down to 1 degree below the horizon, then a straight line to
    # nothing at 4 degrees below: what the docstring promises, no source.
    air = Observer(45.0, 0.0, 0.0, 1010.0, 10.0)
    last = float(almanac_refraction_deg(-1.0))
    found = refraction_from_apparent_deg([-1.0, -1.75, -2.5, -4.0, -5.0], air)
    assert found == pytest.approx([last, 0.75 * last, 0.5 * last, 0.0, 0.0], abs=1e-12)


def test_a_night_is_sampled_every_minute() -> None:
    night = Night.of(date(2026, 11, 25), "Europe/Lisbon")
    assert len(night.instants()) == 24 * 60


def test_stars_for_the_naked_eye() -> None:
    # D. Hoffleit and C. Jaschek 1982, The Bright Star Catalogue, 4th ed.: 9,096 stars, nearly all
    # of them to V 6.5. A magnitude fainter there are nearly three times as many.
    assert len(stars().magnitude_v) == pytest.approx(9096, rel=0.05)


def test_julian_years_against_astropy() -> None:
    moments = [2451545.0, 2461371.3, 2415020.25]
    found = Instants.from_tt_jd(np.array(moments)).julian_year
    assert found == pytest.approx(Time(moments, format="jd", scale="tt").jyear, abs=1e-9)


def test_the_kernel_stops_a_day_short_of_its_start_and_at_its_end() -> None:
    # Light from Neptune is on its way for four hours, so that the first day can't be answered.
    kernel = load_ephemeris()
    kernel.check(Instants.from_tt_jd(np.array([kernel.start_jd + 1.01, kernel.stop_jd - 0.01])))
    for jd in (kernel.start_jd + 0.99, kernel.stop_jd + 0.01):
        with pytest.raises(AxletreeError, match="are known from"):
            kernel.check(Instants.from_tt_jd(np.array([2461000.5, jd])))


def test_the_last_day_of_the_table_is_named() -> None:
    table = earth_rotation_table()
    last = Time(table.mjd[-1], format="mjd", scale="utc").strftime("%d %B %Y").lstrip("0")
    note = rotation_words(earth_rotation_at(np.array([table.mjd[-1] + 100.0]))[3])
    assert f"predicted only to {last};" in note
    first = Time(table.mjd[0], format="mjd", scale="utc").strftime("%d %B %Y").lstrip("0")
    assert f"tabulated only from {first};" in rotation_words(
        earth_rotation_at(np.array([table.mjd[0] - 9.0]))[3]
    )


def test_no_bodies_have_no_looks() -> None:
    instants = Night.of(date(2026, 11, 25), "Europe/Lisbon").instants(3600.0)
    nothing = body_positions((), instants, Observer(38.6, -7.9))
    for name in ("distance_au", "diameter_arcsec", "phase_angle_deg", "magnitude_v"):
        assert getattr(nothing, name).shape == (0, 24)


@pytest.mark.parametrize("altitude", [-1.01, 89.91, float("nan")])
def test_windows_near_the_zenith_are_refused(altitude: float) -> None:
    night = Night.of(date(2026, 11, 25), "Europe/Lisbon")
    with pytest.raises(AxletreeError, match=r"between -1 and 89\.9"):
        windows(stars(1.0), [night], Observer(38.6, -7.9), altitude)
    windows(stars(1.0), [night], Observer(38.6, -7.9), [-1.0, 89.9][altitude > 0])


def test_the_end_of_the_leap_seconds_against_astropy() -> None:
    expires = LeapSeconds.from_iers_leap_seconds(IERS_LEAP_SECOND_FILE).expires
    assert leap_seconds_known_to_mjd() == pytest.approx(expires.mjd, abs=1e-9)


def test_leap_seconds_are_spoken_of_once_they_are_uncertain() -> None:
    table, known = earth_rotation_table(), leap_seconds_known_to_mjd()
    assert table.predicted_from_mjd + 1.0 < known - 1.0  # else this table shows nothing
    assert rotation_words(earth_rotation_at(np.array([known - 1.0]))[3]) == ""
    until = Time(known, format="mjd", scale="utc").strftime("%d %B %Y").lstrip("0")
    note = rotation_words(earth_rotation_at(np.array([known - 1.0, known + 1.0]))[3])
    assert f"Leap seconds are announced only to {until}:" in note


@pytest.mark.parametrize("latitude", [57.0, -12.0])
def test_the_lowest_sun_of_each_night_by_looking_every_minute(latitude: float) -> None:
    observer = Observer(latitude, 10.0)
    nights = nights_between(date(2026, 3, 18), date(2026, 3, 20), "UTC")  # 0.4 degrees a day
    for night, found in zip(nights, darkness_of(nights, observer, 18.0), strict=True):
        every = sun_altitude_deg(night.instants(60.0), observer)
        # The Sun moves by less than 0.0001 degrees within half a minute of its lowest.
        assert found.lowest_sun_altitude_deg == pytest.approx(every.min(), abs=3e-4)


def test_magnification_of_the_shortest_eyepieces() -> None:
    assert magnification(1000.0, 0.8) == pytest.approx(1250.0)
    for nothing in (0.0, -5.0, float("nan")):
        with pytest.raises(AxletreeError, match="greater than 0"):
            magnification(1000.0, nothing)
