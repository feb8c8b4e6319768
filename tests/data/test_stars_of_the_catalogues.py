"""Are the stars where the catalogues and handbooks put them, and as bright?"""

from __future__ import annotations

import erfa
import numpy as np
import pytest
from astropy.coordinates import SkyCoord, get_constellation

from axletree.sky.catalogue.objects import find, pole_stars, star_object, stars
from axletree.sky.catalogue.stars import gap_table, hipparcos_table

MAS = np.radians(1 / 3.6e6)
J2000 = 2451545.0


def back_to_hipparcos_epoch(hip: int) -> tuple[float, float, float, float]:
    """Right ascension, declination (rad) and proper motions (mas/yr) at J1991.25."""
    star = star_object(hip)
    assert star.ra_deg is not None
    assert star.dec_deg is not None
    ra, dec = np.radians([star.ra_deg, star.dec_deg])
    ra1, dec1, pmr1, pmd1, _, _ = erfa.pmsafe(
        ra, dec, star.pm_ra_cosdec_mas_yr * MAS / np.cos(dec), star.pm_dec_mas_yr * MAS,
        star.parallax_mas / 1000, star.radial_velocity_km_s,
        J2000, 0.0, J2000, -8.75 * 365.25,
    )  # fmt: skip
    return ra1, dec1, pmr1 * np.cos(dec1) / MAS, pmd1 / MAS


def test_polaris_against_the_new_reduction() -> None:
    """P3: van Leeuwen 2007, CDS I/311, HIP 11767; tolerance 0.1 mas and the digits stored."""
    ra, dec, pmra, pmdec = back_to_hipparcos_epoch(11767)
    assert abs(ra - 0.6622851337) * np.cos(dec) < 0.1 * MAS
    assert abs(dec - 1.5579531082) < 0.1 * MAS
    assert pmra == pytest.approx(44.48, abs=0.02)
    assert pmdec == pytest.approx(-11.85, abs=0.02)
    assert star_object(11767).parallax_mas == pytest.approx(7.54, abs=0.005)


def test_polaris_against_the_first_hipparcos_catalogue() -> None:
    """P2: ESA 1997, SP-1200; the two reductions differ by less than a milliarcsecond here."""
    ra, dec, *_ = back_to_hipparcos_epoch(11767)
    assert abs(np.degrees(ra) - 37.94614689) * np.cos(dec) * 3.6e6 < 1.0
    assert abs(np.degrees(dec) - 89.26413805) * 3.6e6 < 1.0
    assert hipparcos_magnitude(11767) == pytest.approx(1.97, abs=0.02)


def test_polaris_distance_from_the_pole_of_2000() -> None:
    """P4: 44.153 arcminutes, computed with ERFA from the 1997 catalogue."""
    polaris = find("Polaris")
    assert polaris.dec_deg is not None
    assert (90 - polaris.dec_deg) * 60 == pytest.approx(44.153, abs=0.005)


def test_sigma_octantis() -> None:
    """P15: J2000 21h08m46.864s -88 57 23.40, V 5.42-5.47 (encyclopaedia page); I/311 motion."""
    star = find("σ Octantis")
    assert star.catalogue_id == "HIP 104382"
    assert star.ra_deg is not None
    assert star.dec_deg is not None
    expected_ra, expected_dec = (21 + 8 / 60 + 46.864 / 3600) * 15, -(88 + 57 / 60 + 23.40 / 3600)
    assert abs(star.ra_deg - expected_ra) * np.cos(np.radians(88.96)) * 3600 < 0.05
    assert abs(star.dec_deg - expected_dec) * 3600 < 0.05
    assert star.magnitude_v == pytest.approx(5.445, abs=0.03)
    assert star.pm_ra_cosdec_mas_yr == pytest.approx(25.75, abs=0.02)
    assert star.pm_dec_mas_yr == pytest.approx(4.98, abs=0.02)
    assert star.parallax_mas == pytest.approx(11.61, abs=0.005)
    assert (90 + star.dec_deg) * 60 == pytest.approx(62.610, abs=0.005)


@pytest.mark.parametrize(
    ("name", "ra", "dec", "pmra", "pmdec", "parallax", "rv"),
    [
        ("Vega", 279.23473479, 38.78368896, 200.94, 286.23, 130.23, -20.6),
        ("Polaris", 37.95456067, 89.26410897, 44.48, -11.85, 7.54, -17.4),
        ("Sirius", 101.28715533, -16.71611586, -546.01, -1223.07, 379.21, -5.5),
        ("Arcturus", 213.9153003, 19.18240916, -1093.39, -2000.06, 88.83, -5.19),
    ],
)
def test_star_inputs_of_the_end_to_end_rows(
    name: str, ra: float, dec: float, pmra: float, pmdec: float, parallax: float, rv: float
) -> None:
    """Outside values, section 16: J2000 ICRS (from memory); motions as I/311, whose change in
    8.75 years is up to 0.05 mas/yr for Sirius."""
    star = find(name)
    assert star.ra_deg is not None
    assert star.dec_deg is not None
    assert abs(star.ra_deg - ra) * np.cos(np.radians(dec)) * 3.6e6 < 2.0
    assert abs(star.dec_deg - dec) * 3.6e6 < 2.0
    assert star.pm_ra_cosdec_mas_yr == pytest.approx(pmra, abs=0.06)
    assert star.pm_dec_mas_yr == pytest.approx(pmdec, abs=0.06)
    assert star.parallax_mas == pytest.approx(parallax, abs=0.005)
    assert star.radial_velocity_km_s == pytest.approx(rv, abs=0.005)


def hipparcos_magnitude(hip: int) -> float:
    table = hipparcos_table()
    return float(table["magnitude_v"][table["number"] == hip][0])


@pytest.mark.parametrize(
    ("hip", "v", "bv"),
    [
        (91262, 0.03, 0.00),  # Vega
        (97649, 0.77, 0.22),  # Altair
        (21421, 0.86, 1.54),  # Aldebaran
        (65474, 0.98, -0.23),  # Spica
        (37826, 1.14, 1.00),  # Pollux
        (57632, 2.14, 0.09),  # Denebola
        (102098, 1.25, 0.09),  # Deneb
        (49669, 1.35, -0.11),  # Regulus
        (9884, 2.00, 1.15),  # Hamal
        (62956, 1.77, -0.02),  # Alioth
        (72607, 2.08, 1.47),  # Kochab
        (8102, 3.50, 0.72),  # Tau Ceti
        (16537, 3.73, 0.88),  # Epsilon Eridani
        (100064, 3.57, 0.88),  # Alpha2 Capricorni
        (48002, 3.01, 0.27),  # Upsilon Carinae, joint light
    ],
)
def test_v_from_hp_against_johnson_photometry(hip: int, v: float, bv: float) -> None:
    """Bright Star Catalogue, 5th ed. (from memory).  The formula claims 0.02 mag; the stars of
    the first magnitude were hard for the satellite's detector, hence 0.06."""
    table = hipparcos_table()
    row = table[table["number"] == hip][0]
    assert row["magnitude_v"] == pytest.approx(v, abs=0.06)
    if hip != 48002:
        assert row["colour_bv"] == pytest.approx(bv, abs=0.03)


def test_the_reddest_stars_are_not_sent_away_by_the_cubic() -> None:
    """TX Piscium V about 5.0, Mu Cephei about 4.1 (variable-star handbooks, from memory)."""
    assert hipparcos_magnitude(117245) == pytest.approx(5.0, abs=0.2)
    assert hipparcos_magnitude(107259) == pytest.approx(4.1, abs=0.3)
    table = hipparcos_table()
    assert np.nanmax(table["colour_bv"]) > 4  # such stars are there, and none is thrown out


def test_as_many_naked_eye_stars_as_the_handbooks_count() -> None:
    """The Bright Star Catalogue, all stars to about 6.5, has 9,096; to 6.0 about 5,000 and to
    2.0 about 48 (common practice, no source for the last two)."""
    assert len(stars(6.5)) == pytest.approx(9096, rel=0.03)
    assert len(stars(6.0)) == pytest.approx(5000, rel=0.03)
    assert len(stars(2.0)) == pytest.approx(48, abs=3)


def test_the_brightest_are_the_brightest() -> None:
    """Sirius, Canopus, Arcturus (or Alpha Centauri), in that order (common practice)."""
    assert list(stars(0.0).number[:2]) == [32349, 30438]
    assert {69673, 71683} == set(stars(0.0).number[2:4].tolist())
    both = stars(9.0)
    assert np.all(np.diff(both.magnitude_v) >= 0)
    assert both.magnitude_v[-1] <= 9.0001


def test_bright_stars_that_hipparcos_lacks_are_filled_in() -> None:
    """Xi Ursae Majoris (4.3 and 4.8) and Xi Scorpii (4.9 each) have no place in the new reduction;
    handbook places, from memory; 15 arcseconds, since Gaia's place is that of 2016."""
    bright, alone = stars(5.0), stars(5.0, hipparcos_only=True)
    for ra, dec in ((169.545, 31.529), (241.092, -11.373)):
        for some, count in ((bright, 2), (alone, 0)):
            off = np.hypot((some.ra_deg - ra) * np.cos(np.radians(dec)), some.dec_deg - dec)
            assert np.sum(off < 15 / 3600) == count
    assert not alone.from_gaia.any()


def test_no_star_stands_twice() -> None:
    """Every Gaia star is at least 15 arcseconds from every Hipparcos star at 2016.0."""
    from scipy.spatial import cKDTree

    hip, gap = hipparcos_table(), gap_table()
    years = 16.0
    dec = hip["dec_deg"] + hip["pm_dec_mas_yr"] * years / 3.6e6
    ra = hip["ra_deg"] + hip["pm_ra_cosdec_mas_yr"] * years / 3.6e6 / np.cos(np.radians(dec))
    chord, _ = cKDTree(_vectors(ra, dec)).query(_vectors(gap["ra_deg"], gap["dec_deg"]))
    assert np.degrees(chord.min()) * 3600 > 14.9
    assert len(np.unique(hip["number"])) == len(hip)
    assert len(np.unique(gap["number"])) == len(gap)


def test_companions_do_not_carry_the_light_of_their_pair() -> None:
    """Sigma Orionis: the fourth-magnitude star stands there once; so does Theta1 Orionis."""
    near = stars(5.0)
    for ra, dec in ((84.6865, -2.6), (83.8186, -5.3897)):
        off = np.hypot((near.ra_deg - ra) * np.cos(np.radians(dec)), near.dec_deg - dec)
        assert np.sum(off < 30 / 3600) == 1


def test_the_polar_caps_are_filled_to_magnitude_10() -> None:
    """Star counts grow by 2.3 to 3.2 times a magnitude around V 8-10 (Allen's Astrophysical
    Quantities, mean over the sky, from memory); Hipparcos alone stops growing."""
    for north in (True, False):
        counts = [len(pole_stars(north, 6.0, limit)) for limit in (8.0, 9.0, 10.0)]
        assert 2.2 < counts[1] / counts[0] < 3.6
        assert 2.2 < counts[2] / counts[1] < 3.6
        alone = sum(~pole_stars(north, 6.0, 10.0).from_gaia)
        assert alone < 0.6 * counts[2]


def test_pole_stars_are_within_the_radius_and_the_right_pole() -> None:
    north, south = pole_stars(True, 3.0, 9.0), pole_stars(False, 3.0, 9.0)
    assert north.dec_deg.min() >= 87
    assert south.dec_deg.max() <= -87
    assert north.number[0] == 11767
    assert 104382 in south.number


def test_constellations_against_the_boundaries_in_astropy() -> None:
    bright = stars(3.0)
    places = SkyCoord(bright.ra_deg, bright.dec_deg, unit="deg")
    assert list(get_constellation(places, short_name=True)) == list(bright.constellation)


def test_arrays_have_one_length_and_finite_motions() -> None:
    some = stars(8.0)
    for name in ("ra_deg", "dec_deg", "pm_ra_cosdec_mas_yr", "pm_dec_mas_yr", "parallax_mas",
                 "radial_velocity_km_s", "epoch_year", "magnitude_v"):  # fmt: skip
        column = getattr(some, name)
        assert column.shape == (len(some),)
        assert np.all(np.isfinite(column))
    assert np.all((some.ra_deg >= 0) & (some.ra_deg < 360))
    assert np.all(some.epoch_year == 2000.0)
    assert len(some.take(some.magnitude_v < 1)) == len(stars(0.9999))


def _vectors(ra_deg: np.ndarray, dec_deg: np.ndarray) -> np.ndarray:
    ra, dec = np.radians(ra_deg), np.radians(dec_deg)
    return np.stack([np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)], axis=-1)
