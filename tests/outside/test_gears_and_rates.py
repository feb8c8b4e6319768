"""Worms, drive rates and alt-azimuth rates held against published and independent values."""

from __future__ import annotations

import dataclasses

import erfa
import numpy as np
import pytest

from axletree.mount.follow import altaz_rates, gearing, rates
from axletree.sky.air.refraction import refraction_constants
from axletree.sky.catalogue.objects import find
from axletree.sky.directions import parallactic_angle_deg
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions, see_body
from axletree.sky.positions.ephemeris import load_ephemeris
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import (
    SIDEREAL_DAY_S,
    SIDEREAL_DAYS_PER_DAY,
    SIDEREAL_RATE_ARCSEC_PER_S,
    Instants,
)
from axletree.sky.time.orientation import orientation

# --- worms

WORMS = [  # teeth, degrees a turn, sidereal seconds, solar seconds
    (90, 4.0, 957.379, 960.0),
    (100, 3.6, 861.641, 864.0),
    (135, 2.66667, 638.253, 640.0),
    (144, 2.5, 598.362, 600.0),
    (180, 2.0, 478.689, 480.0),
    (288, 1.25, 299.181, 300.0),
    (360, 1.0, 239.345, 240.0),
    (435, 0.827586, 198.078, 198.621),
]


@pytest.mark.parametrize(("teeth", "degrees", "sidereal_s", "solar_s"), WORMS)
def test_worm_turns(teeth, degrees, sidereal_s, solar_s):
    # 86164.0905 s over the teeth (Aoki et al. 1982 for the day); 0.002 s for the printed digits.
    assert gearing.seconds_per_turn(teeth) == pytest.approx(sidereal_s, abs=0.002)
    assert gearing.degrees_per_turn(teeth) == pytest.approx(degrees, abs=1e-5)
    # The solar clock's 24 h over the teeth follows from a turn at the Sun's rate.
    at_sun = 60.0 / float(gearing.turns_per_minute(teeth, 1.0, rates.SOLAR_RATE))
    assert at_sun == pytest.approx(solar_s, abs=0.001)


def test_against_a_forum_calculation_with_360_teeth():
    # A forum's drive calculation: 86164.091 s makes 0.004178075 deg/s of wheel and 1.5041 deg/s
    # of worm.
    wheel = gearing.degrees_per_turn(360) / gearing.seconds_per_turn(360)
    assert wheel == pytest.approx(0.004178075, abs=1e-9)
    assert 360 / gearing.seconds_per_turn(360) == pytest.approx(1.5041, abs=5e-5)


# --- rates


def test_against_aoki_and_iers_sidereal_day():
    # Aoki et al. 1982, A&A 105, 359, and the IERS page on the length of day.
    assert SIDEREAL_DAYS_PER_DAY == 1.002737909350795
    assert pytest.approx(86164.09053083, abs=1e-6) == SIDEREAL_DAY_S
    assert pytest.approx(15.0410686, abs=1e-6) == SIDEREAL_RATE_ARCSEC_PER_S
    # The stellar day is 8.4 ms longer: 15.0410672"/s.
    assert pytest.approx(15.0410672, abs=1e-6) == 1296000 / 86164.0989037
    assert pytest.approx(1296000 / 86164.0989037, abs=2e-6) == SIDEREAL_RATE_ARCSEC_PER_S
    # Earth's rotation in radians a second (WGS-84 and IERS conventions).
    assert np.radians(SIDEREAL_RATE_ARCSEC_PER_S / 3600) == pytest.approx(7.292115e-5, abs=1e-10)
    # The star clock gains 235.909 s a day.
    assert pytest.approx(235.909, abs=0.001) == 86400 - SIDEREAL_DAY_S
    assert pytest.approx(0.985647, abs=1e-6) == 86400 * SIDEREAL_RATE_ARCSEC_PER_S / 3600 - 360


def test_mean_lunar_rate():
    # From the Moon's sidereal mean motion 13.176396 deg/day: 14.4921"/s, 24.84120 h.
    assert pytest.approx(14.4921, abs=0.0005) == rates.LUNAR_RATE
    assert pytest.approx(89428.3, abs=0.5) == 1296000 / rates.LUNAR_RATE
    assert pytest.approx(24.84120, abs=0.0002) == 1296000 / rates.LUNAR_RATE / 3600


def _geocentric_rates(name, step_h):
    """Hour-angle rate and declination rate from the Earth's centre through 2026, arcsec/s."""
    instants = Instants.from_utc_jd(2461041.5, np.arange(0, 365, step_h / 24))
    here = Observer(0.0, 0.0, 0.0, pressure_hpa=0.0)
    places = []
    for shift in (-60.0, 60.0):
        moments = instants.plus(shift)
        turned = orientation(moments, here)
        centre = dataclasses.replace(turned, observer_au=np.zeros_like(turned.observer_au))
        seen = see_body(name, moments, centre, load_ephemeris())
        places.append(erfa.c2s(seen.cirs))
    # From the intermediate origin right ascension grows without precession, as Earth's angle does.
    (ra0, dec0), (ra1, dec1) = places
    gain = np.degrees((ra1 - ra0 + np.pi) % (2 * np.pi) - np.pi) * 3600 / 120
    era = 1296000 / 86164.0989037
    return era - gain, np.degrees(dec1 - dec0) * 3600 / 120


def test_true_lunar_rate_through_2026():
    # Computed with skyfield and DE440, geocentric: 14.321 ... 14.491 (mean) ... 14.582"/s and up
    # to 16.7"/min in declination.
    rate, dec = _geocentric_rates("moon", 3.0)
    assert np.min(rate) == pytest.approx(14.321, abs=0.005)
    assert np.max(rate) == pytest.approx(14.582, abs=0.005)
    assert np.mean(rate) == pytest.approx(14.491, abs=0.005)
    assert np.max(np.abs(dec)) * 60 == pytest.approx(16.7, abs=0.1)


def test_true_solar_rate_through_2026():
    # Computed with skyfield and DE440: 14.9948 ... 15.0037"/s; the mean Sun makes 15.
    rate, _ = _geocentric_rates("sun", 12.0)
    assert np.min(rate) == pytest.approx(14.9948, abs=0.0002)
    assert np.max(rate) == pytest.approx(15.0037, abs=0.0002)
    assert np.mean(rate) == pytest.approx(rates.SOLAR_RATE, abs=0.0003)


def test_topocentric_lunar_rate_stays_in_the_known_band():
    # Computed with skyfield and DE440 at latitude 45, altitude over 20 deg, 2026: 14.34-14.75.
    here = Observer(45.0, 0.0, 0.0, pressure_hpa=0.0)
    moon = find("Moon")
    seen = []
    for k in range(150):
        moment = Instants.from_utc_jd(2461041.5, k * 2.43)
        if body_positions("moon", moment, here).altitude_true_deg[0, 0] > 20:
            seen.append(rates.object_rates(moon, moment, here).true)
    assert len(seen) > 30
    assert 14.33 < min(seen) < 14.45
    assert 14.66 < max(seen) < 14.76
    assert np.mean(seen) == pytest.approx(14.61, abs=0.03)


AIR = Observer(40.0, 0.0, 0.0, pressure_hpa=1010.0, temperature_c=10.0)


@pytest.mark.parametrize("latitude", [15.0, 40.0, 60.0, -44.0])
def test_refracted_rate_at_the_meridian(latitude):
    # E. S. King's average rate, 15.0369"/s, is from memory; w (1 - k) with k = 57.98" gives
    # 15.0368 for 1010 hPa and 10 C on the equator at the meridian, at every latitude.
    here = dataclasses.replace(AIR, latitude_deg=latitude)
    rate, drift = rates.refracted_rate(0.0, 0.0, here)
    assert rate == pytest.approx(15.0368, abs=0.0003)
    assert pytest.approx(rate, abs=0.0003) == rates.KING_RATE
    assert 1296000 / rate == pytest.approx(86188.3, abs=1.5)
    assert drift == pytest.approx(0, abs=1e-6)


def first_order_rate(H, d, latitude, k_arcsec):
    """rate = w (1 - k [cos f (cos f cos d + sin f sin d cos H) / (cos d sin^2 h)
    - cot f tan d cos H]), for refraction k tan z; h the altitude, f the latitude."""
    H, d, f = np.radians(15.0 * H), np.radians(d), np.radians(latitude)
    sin_h = np.sin(f) * np.sin(d) + np.cos(f) * np.cos(d) * np.cos(H)
    first = np.cos(f) * (np.cos(f) * np.cos(d) + np.sin(f) * np.sin(d) * np.cos(H))
    bracket = first / (np.cos(d) * sin_h**2) - np.tan(d) * np.cos(H) / np.tan(f)
    return SIDEREAL_RATE_ARCSEC_PER_S * (1.0 - np.radians(k_arcsec / 3600.0) * bracket)


def test_refracted_rate_against_the_first_order():
    # E. S. King 1931, form from memory: the series for refraction k tan z. ERFA's law has a small
    # cubic term and the series stops at k, so they part slowly towards the horizon.
    k = float(np.degrees(refraction_constants(AIR)[0]) * 3600)
    H, d = np.meshgrid(np.linspace(-4, 4, 9), np.linspace(-10, 70, 9))
    exact, _ = rates.refracted_rate(H, d, AIR)
    series = first_order_rate(H, d, 40.0, k)
    away = np.abs(exact - series)
    slower = np.abs(exact - SIDEREAL_RATE_ARCSEC_PER_S)
    high = rates.azimuth_altitude(H, d, 40.0)[1] > 25
    assert np.max(away[high]) < 0.0004
    assert np.max(slower[high]) > 0.004  # the effect itself is ten times larger
    south = dataclasses.replace(AIR, latitude_deg=-40.0)
    mirrored, _ = rates.refracted_rate(H, -d, south)
    assert mirrored == pytest.approx(exact, abs=1e-9)


def test_without_air_the_rate_is_sidereal():
    none = dataclasses.replace(AIR, pressure_hpa=0.0)
    rate, drift = rates.refracted_rate([-5.0, 0.0, 3.0], [-20.0, 10.0, 80.0], none)
    assert rate == pytest.approx(SIDEREAL_RATE_ARCSEC_PER_S, abs=1e-7)
    assert drift == pytest.approx(0, abs=1e-7)


def test_a_star_moves_at_the_rate_of_its_place():
    # Two ways to one number: the catalogue star through time, and a fixed place through hours.
    star, moment = find("Aldebaran"), Instants.from_utc_jd(2461380.5, 0.95)
    at = object_positions([star], moment, AIR)
    got = rates.object_rates(star, moment, AIR)
    rate, drift = rates.refracted_rate(at.hour_angle_h[0, 0], at.declination_deg[0, 0], AIR)
    assert got.seen == pytest.approx(float(rate), abs=3e-5)  # aberration changes by a little
    assert got.seen_declination == pytest.approx(float(drift), abs=3e-5)
    assert got.true == pytest.approx(SIDEREAL_RATE_ARCSEC_PER_S, abs=3e-5)


# --- alt-azimuth


def test_against_slalib_altaz():
    # P. T. Wallace, SUN/67, sla_ALTAZ: test case HA 0.7, Dec -0.7, latitude -0.65 (radians).
    H, d, f = 0.7 * 12 / np.pi, np.degrees(-0.7), np.degrees(-0.65)
    got = altaz_rates.altaz_rates(H, d, f, 1.0)
    assert np.radians(got.azimuth_deg) == pytest.approx(4.400560746660174, abs=1e-12)
    assert got.azimuth == pytest.approx(-0.2015438937145421, abs=1e-12)
    assert np.radians(got.altitude_deg) == pytest.approx(1.026646506651396, abs=1e-12)
    assert got.altitude == pytest.approx(-0.7576920683826450, abs=1e-12)
    assert got.turn == pytest.approx(0.4717832355365627, abs=1e-12)
    pa = np.radians(parallactic_angle_deg(H, d, f))
    assert pa == pytest.approx(1.707639969653937, abs=1e-12)


def test_alt_azimuth_rates_are_the_slopes_of_the_angles():
    # Differences of the positions themselves.
    H = np.linspace(-5, 5, 11) + 0.123
    step = 1e-5
    got = altaz_rates.altaz_rates(H, 23.0, 38.5, 1.0)
    after = altaz_rates.altaz_rates(H + step, 23.0, 38.5, 1.0)
    before = altaz_rates.altaz_rates(H - step, 23.0, 38.5, 1.0)
    across = 2 * step * 15.0
    assert (after.azimuth_deg - before.azimuth_deg) / across == pytest.approx(got.azimuth, abs=1e-5)
    slope = (after.altitude_deg - before.altitude_deg) / across
    assert slope == pytest.approx(got.altitude, abs=1e-5)


def test_azimuth_rate_at_culmination():
    # From the same form, latitude 40: 1, 5 and 10 degrees from the zenith.
    z = np.array([1.0, 5.0, 10.0])
    got = altaz_rates.altaz_rates(0.0, 40.0 - z, 40.0).azimuth
    assert got == pytest.approx([669.8, 141.4, 75.0], abs=0.2)


def test_zenith_zone():
    # z = w cos f / v, latitude 40: 0.5, 1, 2, 4 degrees a second.
    zone = altaz_rates.zenith_zone_deg(40.0, [0.5, 1.0, 2.0, 4.0])
    assert zone == pytest.approx([0.367, 0.183, 0.092, 0.046], abs=0.002)
    # The azimuth rate at its rim on the meridian is that speed.
    at_rim = altaz_rates.altaz_rates(0.0, 40.0 - zone, 40.0).azimuth / 3600
    assert at_rim == pytest.approx([0.5, 1.0, 2.0, 4.0], rel=1e-9)


@pytest.mark.parametrize(("declination", "limit"), [(39.95, 0.5), (40.02, 1.0), (40.0, 2.0)])
def test_time_behind_at_the_zenith_against_a_stepped_axis(declination, limit):
    # Independent: an axis that is moved a tenth of a second at a time, as fast as it may.
    step = 0.1
    t = np.arange(-1800.0, 1800.0, step)
    H = t * SIDEREAL_RATE_ARCSEC_PER_S / 15 / 3600
    wanted = np.unwrap(altaz_rates.altaz_rates(H, declination, 40.0).azimuth_deg, period=360)
    at, behind = wanted[0], 0.0
    for target in wanted:
        move = np.clip(target - at, -limit * step, limit * step)
        at += move
        behind += step if abs(target - at) > 1e-9 else 0.0
    got = altaz_rates.culmination(declination, 40.0, limit)
    assert got.behind_s == pytest.approx(behind, abs=0.5)


def test_through_the_zenith_has_no_bound():
    assert np.isinf(altaz_rates.altaz_rates(0.0, 40.0, 40.0).azimuth)
    easy = altaz_rates.culmination(-20.0, 40.0, 1.0)
    assert easy.behind_s == 0.0
    assert easy.closest_deg == 60.0
