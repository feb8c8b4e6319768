"""The ERFA routines below the sky, held against print: motion, precession, observed places.

These rows have no function of ours in front of them (the sky goes from catalogue to apparent
place in one step); they guard the installed library.
"""

from __future__ import annotations

import erfa
import numpy as np
import pytest

DEG = np.pi / 180.0
ARCSEC = DEG / 3600.0


def _hms(hours: int, minutes: int, seconds: float) -> float:
    return (hours + minutes / 60 + seconds / 3600) * 15 * DEG


def _dms(degrees: int, minutes: int, seconds: float) -> float:
    sign = -1 if degrees < 0 else 1
    return sign * (abs(degrees) + minutes / 60 + seconds / 3600) * DEG


@pytest.mark.parametrize(
    ("year", "hms", "dms"),
    [(1000, (6, 45, 47.16), (-16, 22, 56.0)), (0, (6, 46, 25.09), (-16, 3, 0.8)),
     (-1000, (6, 47, 2.67), (-15, 43, 12.3)), (-2000, (6, 47, 39.91), (-15, 23, 30.6)),
     (-10000, (6, 52, 25.72), (-12, 50, 6.7))],
)  # fmt: skip
def test_space_motion_of_sirius(year: int, hms, dms) -> None:
    # Meeus, Astronomical Algorithms, 2nd ed. 1998, example 21.d, p. 141.
    ra, dec = _hms(6, 45, 8.871), -16.716108 * DEG
    made = erfa.starpm(
        ra, dec, -0.03847 * 15 * ARCSEC, -1.2053 * ARCSEC, 1 / 2.64, -7.6,
        2451545.0, 0.0, 2451545.0 + (year - 2000) * 365.25, 0.0,
    )  # fmt: skip
    assert made[0] == pytest.approx(_hms(*hms), abs=0.01 * 15 * ARCSEC)
    assert made[1] == pytest.approx(_dms(*dms), abs=0.1 * ARCSEC)


def test_annual_precession_of_regulus() -> None:
    # Meeus 1998, example 21.a, p. 132: +3.207 s and -17.71 arcsec a year, J2000 towards 1978.
    ra, dec = _hms(10, 8, 22.3), _dms(11, 58, 2)
    turn = erfa.pmat76(2451545.0, 365.25) @ erfa.pmat76(2451545.0, -365.25).T
    moved = turn @ erfa.s2c(ra, dec)
    a, d = erfa.c2s(moved)
    assert (a - ra) / ARCSEC / 15 / 2 == pytest.approx(3.207, abs=0.001)
    assert (d - dec) / ARCSEC / 2 == pytest.approx(-17.71, abs=0.01)


def test_mean_place_of_theta_persei() -> None:
    # Meeus 1998, example 21.b, p. 135, IAU 1976 precession; proper motion for 28.86705 years.
    years = 28.86705
    ra = _hms(2, 44, 11.986) + 0.03425 * 15 * ARCSEC * years
    dec = _dms(49, 13, 42.48) - 0.0895 * ARCSEC * years
    moved = erfa.pmat76(2462088.69, 0.0) @ erfa.s2c(ra, dec)
    a, d = erfa.c2s(moved)
    assert a == pytest.approx(_hms(2, 46, 11.331), abs=0.002 * 15 * ARCSEC)
    assert d == pytest.approx(_dms(49, 20, 54.54), abs=0.02 * ARCSEC)


def test_nutation_and_aberration_of_theta_persei() -> None:
    # Meeus 1998, example 23.a, p. 152: nutation 15.843 and 6.217, aberration 30.045 and 6.697.
    jd = 2462088.69
    ra, dec = _hms(2, 46, 11.331), _dms(49, 20, 54.54)
    mean = erfa.s2c(ra, dec)
    a, d = erfa.c2s(erfa.nutm80(jd, 0.0) @ mean)
    assert (a - ra) / ARCSEC == pytest.approx(15.843, abs=0.05)
    assert (d - dec) / ARCSEC == pytest.approx(6.217, abs=0.05)
    _, velocity = erfa.epv00(jd, 0.0)
    v = erfa.pmat76(jd, 0.0) @ np.asarray(velocity["v"]) * 149597870.7 / 86400 / 299792.458
    a, d = erfa.c2s(mean + v)
    assert (a - ra) / ARCSEC == pytest.approx(30.045, abs=0.1)
    assert (d - dec) / ARCSEC == pytest.approx(6.697, abs=0.1)


def test_observed_place_from_intermediate_place() -> None:
    # ERFA, t_erfa_c.c (revision 2021 April 18), t_atio13.
    made = erfa.atio13(
        2.710121572969038991, 0.1729371367218230438, 2456384.5, 0.969254051, 0.1550675,
        -0.527800806, -1.2345856, 2738.0, 2.47230737e-7, 1.82640464e-6, 731.0, 12.8, 0.59, 0.55,
    )  # fmt: skip
    expected = (
        0.09233952224895122499, 1.407758704513549991, -0.09247619879881698140,
        0.1717653435756234676, 2.710085107988480746,
    )  # fmt: skip
    assert np.allclose(made, expected, rtol=0, atol=1e-12)


def test_moon_and_planet_series_and_obliquity() -> None:
    # ERFA, t_erfa_c.c: t_moon98, t_plan94, t_obl06, t_gmst06, t_gst06a, t_era00.
    moon = erfa.moon98(2400000.5, 43999.9)
    place = [-2.601295959971044180e-3, 6.139750944302742189e-4, 2.640794528229828909e-4]
    assert np.allclose(moon["p"], place, rtol=0, atol=1e-11)
    mercury = erfa.plan94(2400000.5, 43999.9, 1)
    place = [0.2945293959257430832, -0.2452204176601049596, -0.1615427700571978153]
    assert np.allclose(mercury["p"], place, rtol=0, atol=1e-11)
    assert erfa.obl06(2400000.5, 54388.0) == pytest.approx(0.4090749229387258204, abs=1e-12)
    gmst = erfa.gmst06(2400000.5, 53736.0, 2400000.5, 53736.0)
    assert gmst == pytest.approx(1.754174971870091203, abs=1e-12)
    gast = erfa.gst06a(2400000.5, 53736.0, 2400000.5, 53736.0)
    assert gast == pytest.approx(1.754166137675019159, abs=1e-12)
    assert erfa.era00(2400000.5, 54388.0) == pytest.approx(0.4022837240028158102, abs=1e-12)
