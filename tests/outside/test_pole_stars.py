"""The pole stars and the refracted pole, against published and independently computed values.

Sources are named at each check. "Meeus" is J. Meeus, Astronomical Algorithms, 2nd ed. 1998.
"""

from __future__ import annotations

from datetime import UTC, datetime

import erfa
import numpy as np
import pytest

from axletree.pole.aim.scope_orientation import plane_arcmin
from axletree.pole.aim.target import (
    mean_place,
    mean_pole_distance_arcmin,
    pole_star,
    pole_target,
    ring_year,
)
from axletree.pole.aim.view import pole_view
from axletree.sky.directions import azimuth_altitude
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import star_positions
from axletree.sky.time.instants import Instants

NO_AIR_AT_POLE = Observer(90.0, 0.0, 0.0, pressure_hpa=0.0)
NO_AIR_AT_SOUTH_POLE = Observer(-90.0, 0.0, 0.0, pressure_hpa=0.0)


def apparent_distance_arcmin(north: bool, instants: Instants) -> np.ndarray:
    """Apparent pole distance as seen from the geographic pole: no diurnal aberration there."""
    observer = NO_AIR_AT_POLE if north else NO_AIR_AT_SOUTH_POLE
    seen = star_positions(pole_star(north).place, instants, observer)
    return (90.0 - np.abs(seen.declination_deg[0])) * 60.0


def days(first: datetime, count: int) -> Instants:
    return Instants.grid(first, count=count, step_s=86400.0)


def test_polaris_is_the_new_reduction_of_hipparcos() -> None:
    # F. van Leeuwen 2007, catalogue I/311, HIP 11767 at J1991.25: 0.6622851337 and
    # 1.5579531082 rad, motions +44.48 and -11.85 mas/yr, parallax 7.54 mas. The list keeps
    # J2000.0 and single precision for the motions: 0.02 mas/yr, 0.2 mas.
    star = pole_star(True).place
    assert star.pm_ra_cosdec_mas_yr[0] == pytest.approx(44.48, abs=0.02)
    assert star.pm_dec_mas_yr[0] == pytest.approx(-11.85, abs=0.02)
    assert star.parallax_mas[0] == pytest.approx(7.54, abs=0.01)
    ra, dec = np.radians(star.ra_deg[0]), np.radians(star.dec_deg[0])
    mas = np.radians(1 / 3.6e6)
    back = erfa.pmsafe(
        ra, dec, 44.48 * mas / np.cos(dec), -11.85 * mas, 0.00754, -17.4,
        2451545.0, 0.0, 2451545.0, -8.75 * 365.25,
    )  # fmt: skip
    assert erfa.seps(back[0], back[1], 0.6622851337, 1.5579531082) < 1.0 * mas
    # ESA 1997, SP-1200: 37.94614689, +89.26413805 at J1991.25; the two reductions differ by mas.
    first = np.radians([37.94614689, 89.26413805])
    assert erfa.seps(back[0], back[1], *first) < 5.0 * mas


def test_polaris_mean_distance_through_two_centuries() -> None:
    # Computed with ERFA from van Leeuwen 2007 and IAU 2006; tolerance 0.02'.
    by_year = {
        1900: 73.569, 1950: 58.278, 2000: 44.154, 2010: 41.576, 2020: 39.119, 2025: 37.943,
        2026: 37.713, 2027: 37.484, 2030: 36.807, 2040: 34.671, 2050: 32.743, 2075: 29.100,
        2100: 27.635, 2102: 27.626, 2110: 27.754,
    }  # fmt: skip
    got = mean_pole_distance_arcmin(list(by_year), True)
    np.testing.assert_allclose(got, list(by_year.values()), atol=0.02)
    # Meeus, exercise p. 136: +88 46 26.18 (B1900), +89 27 15.38 (J2050), +89 32 22.18 (J2100),
    # with FK5 motions; 0.02' allows for them (0.2").
    published = [(1899.9995, 88, 46, 26.18), (2050.0, 89, 27, 15.38), (2100.0, 89, 32, 22.18)]
    for year, d, m, s in published:
        distance = 60.0 * (90.0 - d - m / 60.0 - s / 3600.0)
        assert float(mean_pole_distance_arcmin(year, True)) == pytest.approx(distance, abs=0.02)
    # ESA 1997, SP-1200, carried to J2000: 44.153'.
    assert float(mean_pole_distance_arcmin(2000.0, True)) == pytest.approx(44.153, abs=0.005)


def test_polaris_mean_right_ascension() -> None:
    # Computed with ERFA: 2025 3.0740, 2026 3.0993, 2027 3.1249, 2030 3.2036 h; 0.002 h.
    ra, _ = mean_place([2025, 2026, 2027, 2030], True)
    np.testing.assert_allclose(ra, [3.0740, 3.0993, 3.1249, 3.2036], atol=0.002)


def test_polaris_closest_mean_approach() -> None:
    # Computed with ERFA: 2102.1 at 27.626' (a secondary page gives 27.6', 2098-2102).
    years = np.arange(2090.0, 2110.0, 0.05)
    distance = mean_pole_distance_arcmin(years, True)
    assert years[np.argmin(distance)] == pytest.approx(2102.1, abs=0.1)
    assert distance.min() == pytest.approx(27.626, abs=0.02)


def test_polaris_closest_apparent_approach() -> None:
    # Meeus, Mathematical Astronomy Morsels, as quoted on secondary pages: 24 March 2100, 27'09".
    # Tolerance 2 days, 2".
    span = days(datetime(2099, 1, 1, tzinfo=UTC), 800)
    distance = apparent_distance_arcmin(True, span)
    k = int(np.argmin(distance))
    found = span.to_datetimes()[k]
    assert abs((found - datetime(2100, 3, 24, tzinfo=UTC)).total_seconds()) < 2 * 86400
    assert distance[k] * 60 == pytest.approx(27 * 60 + 9, abs=2.0)


def test_polaris_apparent_distance_in_2026() -> None:
    # Computed with ERFA, daily, geocentric: least 37.08' (31 Dec), most 37.76' (25 Jul); 0.01'.
    span = days(datetime(2026, 1, 1, tzinfo=UTC), 365)
    distance = apparent_distance_arcmin(True, span)
    dates = span.to_datetimes()
    assert distance.min() == pytest.approx(37.08, abs=0.01)
    assert distance.max() == pytest.approx(37.76, abs=0.01)
    assert dates[int(np.argmin(distance))].month == 12
    assert abs((dates[int(np.argmax(distance))] - datetime(2026, 7, 25, tzinfo=UTC)).days) <= 4
    # The polar scope's number is the same one.
    view = pole_view(NO_AIR_AT_POLE, datetime(2026, 7, 25, tzinfo=UTC))
    assert view.pole_distance_arcmin == pytest.approx(37.76, abs=0.01)


def test_polaris_greatest_elongation() -> None:
    # sin A = cos d / cos phi (surveying texts), values computed with ERFA for 2026 July 1;
    # tolerance 0.001 degrees.
    span = Instants.grid(datetime(2026, 7, 1, tzinfo=UTC), count=1440)
    expected = {30.0: 0.7262, 40.0: 0.8210, 51.4769: 1.0098, 60.0: 1.2579}
    for latitude, azimuth in expected.items():
        observer = Observer(latitude, 0.0, 0.0, pressure_hpa=0.0)
        seen = star_positions(pole_star(True).place, span, observer)
        assert seen.azimuth_deg[0][seen.azimuth_deg[0] < 180].max() == pytest.approx(
            azimuth, abs=0.001
        )


def test_second_order_term_of_the_pole_stars_altitude() -> None:
    # Bowditch 1977, art. 2027: alt - lat = -(p / 2) sin p tan(lat) six hours from the meridian:
    # p 37.7', latitude 45: -0.2067'; tolerance 0.002'. The picture must show that drop, too.
    azimuth, altitude = azimuth_altitude(6.0, 90.0 - 37.7 / 60.0, 45.0)
    assert float(altitude - 45.0) * 60 == pytest.approx(-0.2067, abs=0.002)
    target = pole_target(Observer(45.0, 0.0, 0.0, pressure_hpa=0.0))
    right, up = plane_arcmin(azimuth, altitude, target)
    # Seen on the plane around the pole the star is level with it, to the west.
    assert float(right) == pytest.approx(-37.7, abs=0.002)
    assert float(up) == pytest.approx(0.0, abs=1e-6)


def test_sigma_octantis_is_in_its_place() -> None:
    # Gaia / IAU via an encyclopaedia page: J2000 21h08m46.864s -88 57' 23.40", V 5.42-5.47;
    # van Leeuwen 2007: motions +25.75, +4.98 mas/yr, parallax 11.61 mas.
    star = pole_star(False)
    assert star.hip == 104382
    ra = np.radians((21 + 8 / 60 + 46.864 / 3600) * 15)
    dec = np.radians(-(88 + 57 / 60 + 23.40 / 3600))
    away = erfa.seps(np.radians(star.place.ra_deg[0]), np.radians(star.place.dec_deg[0]), ra, dec)
    assert np.degrees(away) * 3600 < 0.05
    assert 5.40 <= star.magnitude_v <= 5.48
    assert star.place.pm_ra_cosdec_mas_yr[0] == pytest.approx(25.75, abs=0.6)
    assert star.place.parallax_mas[0] == pytest.approx(11.4, abs=0.3)


def test_sigma_octantis_distances() -> None:
    # Computed with ERFA: mean 1900 ... 2050, tolerance 0.02'; least 43.26' in 1866.6 (a secondary
    # page says about 45' in the 1870s).
    by_year = {
        1900: 44.723, 2000: 62.610, 2025: 68.987, 2026: 69.252, 2030: 70.316, 2050: 75.777,
    }  # fmt: skip
    got = mean_pole_distance_arcmin(list(by_year), False)
    np.testing.assert_allclose(got, list(by_year.values()), atol=0.02)
    years = np.arange(1800.0, 1950.0, 0.1)
    distance = mean_pole_distance_arcmin(years, False)
    assert years[np.argmin(distance)] == pytest.approx(1866.6, abs=1.0)
    assert distance.min() == pytest.approx(43.26, abs=0.1)


def test_sigma_octantis_apparent_in_2026() -> None:
    # Computed with ERFA, daily: 68.96' to 69.63'; 0.02'. Right ascension about 21.49-21.52 h, to
    # 0.01 h (a hundredth of an hour is 11" here).
    span = days(datetime(2026, 1, 1, tzinfo=UTC), 365)
    distance = apparent_distance_arcmin(False, span)
    assert distance.min() == pytest.approx(68.96, abs=0.02)
    assert distance.max() == pytest.approx(69.63, abs=0.02)
    seen = star_positions(pole_star(False).place, span, NO_AIR_AT_SOUTH_POLE)
    assert seen.right_ascension_h.min() == pytest.approx(21.49, abs=0.01)
    assert seen.right_ascension_h.max() == pytest.approx(21.52, abs=0.01)


@pytest.mark.parametrize("sign", [1, -1])
def test_lift_of_the_refracted_pole(sign: int) -> None:
    # True pole at 20/30/40/50/60 degrees: 2.63/1.67/1.15/0.81/0.56' computed with ERFA's constants
    # (1010 hPa, 10 C); 2.74/1.75/1.21/0.85/0.59' by Saemundsson 1986, which is about 4 % high.
    by_erfa = [2.63, 1.67, 1.15, 0.81, 0.56]
    by_saemundsson = [2.74, 1.75, 1.21, 0.85, 0.59]
    latitudes = [20, 30, 40, 50, 60]
    for latitude, a, b in zip(latitudes, by_erfa, by_saemundsson, strict=True):
        observer = Observer(sign * latitude, 0.0, 0.0, pressure_hpa=1010.0, temperature_c=10.0)
        seen, true = pole_target(observer), pole_target(observer, true_pole=True)
        assert seen.lift_arcmin == pytest.approx(a, abs=0.006)
        assert seen.lift_arcmin == pytest.approx(b, abs=0.12)
        assert (seen.altitude_deg - true.altitude_deg) * 60 == pytest.approx(seen.lift_arcmin)
        assert seen.azimuth_deg == (0.0 if sign > 0 else 180.0)


def test_the_pole_on_the_horizon_is_lifted_by_half_a_degree() -> None:
    # Nautical Almanac (from 2004), true altitude 0: about 29' at 1010 hPa, 10 C (Saemundsson
    # 28.98'); models differ by 1.5' there.
    target = pole_target(Observer(0.0, 0.0, 0.0, pressure_hpa=1010.0, temperature_c=10.0))
    assert target.lift_arcmin == pytest.approx(28.98, abs=1.5)


def test_year_of_an_engraved_ring() -> None:
    # Inverse of the table above: 41.576' was right in 2010, 39.119' in 2020; 68.987' in 2025.
    assert ring_year(41.576, True) == pytest.approx(2010, abs=0.1)
    assert ring_year(39.119, True) == pytest.approx(2020, abs=0.1)
    assert ring_year(68.987, False) == pytest.approx(2025, abs=0.1)
    assert ring_year(90.0, True) is None
