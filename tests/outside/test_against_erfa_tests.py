"""The whole chain against the printed test values of ERFA and SOFA, and the constants of the day.

Sources: ERFA, src/t_erfa_c.c, revision of 2021 April 18 (functions named at each check); IAU SOFA
Board, SOFA Astrometry Tools, C edition, section 6, worked example; rows marked "computed" come
from pyerfa 2.0.1.5.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from axletree.sky.air.refraction import refraction_constants
from axletree.sky.directions import (
    azimuth_altitude,
    hour_angle_declination,
    parallactic_angle_deg,
    position_angle_deg,
    separation_deg,
)
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars, places_at_j2000, star_positions
from axletree.sky.time.instants import (
    SIDEREAL_DAY_S,
    SIDEREAL_DAYS_PER_DAY,
    SIDEREAL_RATE_ARCSEC_PER_S,
    Instants,
)
from axletree.sky.time.orientation import orientation

MAS = np.radians(1 / 3.6e6)
ARCSEC = 1 / 3600


def with_ut1(instants: Instants, dut1_s: float, xp_rad: float, yp_rad: float) -> Instants:
    """The same UTC with a printed UT1-UTC and polar motion in place of the table's."""
    shift = (dut1_s - instants.dut1_s) / 86400.0
    return replace(
        instants,
        ut12=instants.ut12 + shift,
        dut1_s=np.full(len(instants), dut1_s),
        xp_rad=np.full(len(instants), xp_rad),
        yp_rad=np.full(len(instants), yp_rad),
    )


def erfa_star() -> Stars:
    """The star of t_atco13: rc, dc in rad, pr, pd in rad a year, px in arcsec, rv in km/s."""
    rc, dc, pr, pd, px, rv = 2.71, 0.174, 1e-5, 5e-6, 0.1, 55.0
    return Stars.of(
        np.degrees(rc),
        np.degrees(dc),
        pm_ra_cosdec_mas_yr=pr * np.cos(dc) / MAS,
        pm_dec_mas_yr=pd / MAS,
        parallax_mas=px * 1000,
        radial_velocity_km_s=rv,
    )


def erfa_site() -> tuple[Observer, Instants]:
    observer = Observer(np.degrees(-1.2345856), np.degrees(-0.527800806), 2738.0, 731.0, 12.8, 0.59)
    instants = Instants.from_utc_jd(2456384.5, 0.969254051)
    return observer, with_ut1(instants, 0.1550675, 2.47230737e-7, 1.82640464e-6)


def test_icrs_to_observed() -> None:
    # t_atco13: aob, zob, and hob, dob, rob, eo. Ours leaves the air out of hour angle and
    # declination, so those are compared with the air off (pyerfa atco13, 0 hPa, computed).
    observer, instants = erfa_site()
    seen = star_positions(erfa_star(), instants, observer)
    assert seen.azimuth_deg[0, 0] == pytest.approx(
        np.degrees(0.09251774485485515207), abs=0.001 * ARCSEC
    )
    # At 9 degrees the one correction step inside ERFA stops 0.01" short of its own formula.
    assert seen.altitude_deg[0, 0] == pytest.approx(
        90 - np.degrees(1.407661405256499357), abs=0.02 * ARCSEC
    )
    import erfa

    no_air = erfa.atco13(
        2.71, 0.174, 1e-5, 5e-6, 0.1, 55.0, 2456384.5, 0.969254051, 0.1550675, -0.527800806,
        -1.2345856, 2738.0, 2.47230737e-7, 1.82640464e-6, 0.0, 0.0, 0.0, 0.55,
    )  # fmt: skip
    _, zob, hob, dob, rob, eo = no_air
    assert eo == pytest.approx(-0.003020548354802412839, abs=1e-12)
    assert seen.altitude_true_deg[0, 0] == pytest.approx(90 - np.degrees(zob), abs=1e-3 * ARCSEC)
    assert seen.hour_angle_h[0, 0] == pytest.approx(np.degrees(hob) / 15, abs=1e-3 * ARCSEC / 15)
    assert seen.declination_deg[0, 0] == pytest.approx(np.degrees(dob), abs=1e-3 * ARCSEC)
    assert seen.right_ascension_h[0, 0] == pytest.approx(
        np.degrees(rob - eo) / 15, abs=1e-3 * ARCSEC / 15
    )


def test_context_and_refraction_constants() -> None:
    # t_apco13: along, eral, refa, refb; t_refco. Interpolated orientation: 1e-9 rad = 0.0002".
    observer, instants = erfa_site()
    context = orientation(instants, observer).astrom[0]
    assert context["along"] == pytest.approx(-0.5278008060295995733, abs=1e-12)
    assert context["eral"] == pytest.approx(2.617608909189664000, abs=1e-11)
    a, b = refraction_constants(observer)
    assert a == pytest.approx(2.014187785940396921e-4, abs=1e-15)
    assert b == pytest.approx(-2.361408314943696227e-7, abs=1e-18)
    humid = Observer(0.0, 0.0, 0.0, 800.0, 10.0, 0.9, wavelength_um=0.4)
    a, b = refraction_constants(humid)
    assert a == pytest.approx(2.264949956241415009e-4, abs=1e-15)
    assert b == pytest.approx(-2.598658261729343970e-7, abs=1e-18)


def test_icrs_to_intermediate_place() -> None:
    # t_atci13: ri 2.710121572968696744, di 0.1729371367219539137, eo -0.002900618712657375647 at
    # TT 2456165.5 + 0.401182685. Seen from the Earth's centre.
    instants = Instants.from_tt_jd(2456165.5, 0.401182685)
    turned = orientation(instants, None)
    import erfa

    ri, di = erfa.atciq(*places_at_j2000(erfa_star()), turned.astrom)
    assert ri[0] == pytest.approx(2.710121572968696744, abs=1e-9)
    assert di[0] == pytest.approx(0.1729371367219539137, abs=1e-9)
    assert turned.origins_rad[0] == pytest.approx(-0.002900618712657375647, abs=1e-10)


def test_sofa_cookbook_star() -> None:
    # SOFA Astrometry Tools, section 6: topocentric place 14 34 20.2570287, -12 34 36.141207;
    # azimuth and zenith distances computed with pyerfa from the same inputs.
    star = Stars.of(
        (14 + 34 / 60 + 16.81183 / 3600) * 15,
        -(12 + 31 / 60 + 10.3965 / 3600),
        pm_ra_cosdec_mas_yr=-354.45,
        pm_dec_mas_yr=595.35,
        parallax_mas=164.99,
    )
    observer = Observer(
        -(15 + 57 / 60 + 42.8 / 3600), -(5 + 41 / 60 + 54.2 / 3600), 625.0, 952.0, 18.5, 0.83
    )
    utc = Instants.from_utc_jd(2456384.5, (23 * 3600 + 15 * 60 + 43.55) / 86400)
    instants = with_ut1(utc, 0.1550675, 50.995 * MAS, 376.723 * MAS)
    seen = star_positions(star, instants, observer)
    origins_h = np.degrees(orientation(instants, observer).origins_rad[0]) / 15
    expected_ra = 14 + 34 / 60 + 20.2570287 / 3600
    assert seen.right_ascension_h[0, 0] + origins_h == pytest.approx(expected_ra, abs=3e-5 / 3600)
    assert seen.declination_deg[0, 0] == pytest.approx(
        -(12 + 34 / 60 + 36.141207 / 3600), abs=3e-4 * ARCSEC
    )
    assert seen.azimuth_deg[0, 0] == pytest.approx(91.3916135, abs=1e-6)
    assert 90 - seen.altitude_true_deg[0, 0] == pytest.approx(42.7636359, abs=1e-6)
    assert 90 - seen.altitude_deg[0, 0] == pytest.approx(42.7500413, abs=1e-6)


def test_motion_between_epochs() -> None:
    # t_pmsafe: 1.234, 0.789, 1e-5, -2e-5 rad/yr, px 1e-2", rv 10 km/s, J1991.25 -> J2000.
    stars = Stars.of(
        np.degrees(1.234),
        np.degrees(0.789),
        pm_ra_cosdec_mas_yr=1e-5 * np.cos(0.789) / MAS,
        pm_dec_mas_yr=-2e-5 / MAS,
        parallax_mas=10.0,
        radial_velocity_km_s=10.0,
        epoch_year=1991.25,
    )
    # ERFA's own test starts at JD 2400000.5 + 48348.5625, which is J1991.25 exactly.
    ra, dec, *_ = places_at_j2000(stars)
    assert ra[0] == pytest.approx(1.234087484501017061, abs=1e-11)
    assert dec[0] == pytest.approx(0.7888249982450468567, abs=1e-11)


def test_horizon_and_equator() -> None:
    # t_hd2ae, t_ae2hd, t_hd2pa: pure trigonometry; hd2ae's elevation and azimuth in radians.
    az, alt = azimuth_altitude(np.degrees(1.1) / 15, np.degrees(1.2), np.degrees(0.3))
    assert np.radians(az) == pytest.approx(5.916889243730066194, abs=1e-12)
    assert np.radians(alt) == pytest.approx(0.4472186304990486228, abs=1e-12)
    H, dec = hour_angle_declination(np.degrees(5.5), np.degrees(1.1), np.degrees(0.7))
    assert np.radians(H * 15) == pytest.approx(0.5933291115507309663, abs=1e-12)
    assert np.radians(dec) == pytest.approx(0.9613934761647817620, abs=1e-12)
    q = parallactic_angle_deg(np.degrees(1.1) / 15, np.degrees(1.2), np.degrees(0.3))
    assert np.radians(q) == pytest.approx(1.906227428001995580, abs=1e-12)


def test_separation_and_position_angle() -> None:
    # t_seps, t_pas.
    a, b = (np.degrees(1.0), np.degrees(0.1)), (np.degrees(0.2), np.degrees(-3.0))
    assert np.radians(separation_deg(*a, *b)) == pytest.approx(2.346722016996998842, abs=1e-12)
    angle = position_angle_deg(*a, np.degrees(0.2), np.degrees(-1.0))
    assert np.radians(angle) == pytest.approx(2 * np.pi - 2.724544922932270424, abs=1e-12)


def at_greenwich(ut1_jd: float, tt_minus_ut1_s: float) -> float:
    """Apparent sidereal time at longitude 0 in radians, at a given UT1."""
    instants = Instants.from_tt_jd(ut1_jd, tt_minus_ut1_s / 86400)
    exact = replace(
        instants, ut11=np.array([ut1_jd]), ut12=np.zeros(1), xp_rad=np.zeros(1), yp_rad=np.zeros(1)
    )
    turned = orientation(exact, Observer(0.0, 0.0))
    return float(turned.sidereal_time_rad[0] % (2 * np.pi))


def test_apparent_sidereal_time() -> None:
    # t_gst06a: MJD 53736.0, UT1 = TT. Half-way between the days of our cubic: 0.0004" allowed.
    assert at_greenwich(2453736.5, 0.0) == pytest.approx(1.754166137675019159, abs=2e-9)
    # J. Meeus, Astronomical Algorithms, 2nd ed. 1998, ex. 12.a: 13h10m46.1351s in 1987; his
    # nutation of 1980 and ours of 2000 differ by 0.004 s.
    hours = at_greenwich(2446895.5, 55.8) * 12 / np.pi
    assert hours == pytest.approx(13 + 10 / 60 + 46.1351 / 3600, abs=0.01 / 3600)
    # Computed with pyerfa, TT-UT1 69.2 s: 2026 January 1 and July 1, 0h UT1.
    assert at_greenwich(2461041.5, 69.2) * 12 / np.pi == pytest.approx(6.7108149, abs=1e-6)
    assert at_greenwich(2461222.5, 69.2) * 12 / np.pi == pytest.approx(18.6043422, abs=1e-6)


def test_sidereal_constants() -> None:
    # S. Aoki et al. 1982, A&A 105, 359, and IERS Conventions.
    assert SIDEREAL_DAYS_PER_DAY == 1.002737909350795
    assert pytest.approx(86164.09053083, abs=1e-6) == SIDEREAL_DAY_S
    assert pytest.approx(15.0410686, abs=1e-6) == SIDEREAL_RATE_ARCSEC_PER_S
    assert pytest.approx(235.909, abs=1e-3) == 86400 - SIDEREAL_DAY_S
    assert pytest.approx(0.985647, abs=1e-6) == 360 * (SIDEREAL_DAYS_PER_DAY - 1)


def test_the_sky_turns_at_the_sidereal_rate() -> None:
    # The same constants, now of our own hour angles: a fixed direction near the equator for a
    # day. What precession and nutation add in a day is under 0.01 s.
    star = Stars.of(0.0, 0.0)
    start = Instants.from_utc_jd(2461041.5)
    observer = Observer(40.0, 0.0, pressure_hpa=0.0)
    pair = star_positions(star, start.plus([0.0, SIDEREAL_DAY_S]), observer).hour_angle_h[0]
    assert (pair[1] - pair[0]) * 3600 == pytest.approx(0.0, abs=0.02)
