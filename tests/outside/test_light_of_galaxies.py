"""How light gathers inwards, held against scipy's integrals of the published profiles and against
what the catalogue itself says of galaxies."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import gamma, gammainc, gammaincinv

from axletree.evening.seeing.light_profile import PARTS, light_within, sersic_b
from axletree.sky.catalogue.deep_sky import deep_sky
from axletree.sky.catalogue.object_light import light_of


@pytest.mark.parametrize("index", [0.5, 1.0, 1.7, 2.4, 4.0])
def test_sersic_against_the_incomplete_gamma_function(index: float) -> None:
    """L(x) = P(2n, b x^(1/n)), b such that L(1) = 1/2: scipy. The series for b of L. Ciotti and
    G. Bertin 1999 is good to 2e-3 at n = 0.5 and 1e-4 from n = 1 on."""
    b = float(gammaincinv(2.0 * index, 0.5))
    assert float(sersic_b(index)) == pytest.approx(b, abs=2e-3 if index < 1.0 else 2e-4)
    expected = gammainc(2.0 * index, b * np.array(PARTS) ** (1.0 / index))
    assert light_within(index, PARTS) == pytest.approx(expected, abs=1e-3)


def test_an_exponential_disc_by_integration() -> None:
    """n = 1 is K. C. Freeman's exponential disc (1970, ApJ 160, 811), h = re / 1.678."""
    h = 1.0 / 1.678347
    for part in PARTS:
        inner, _ = quad(lambda r: r * math.exp(-r / h), 0.0, part)
        assert float(light_within(1.0, part)) == pytest.approx(inner / h**2, abs=2e-4)


def test_globular_clusters_by_integration() -> None:
    """H. C. Plummer 1911: surface density (1 + r^2/a^2)^-2, half of the light within a."""
    total, _ = quad(lambda r: r * (1.0 + r * r) ** -2, 0.0, math.inf)
    for part in PARTS:
        inner, _ = quad(lambda r: r * (1.0 + r * r) ** -2, 0.0, part)
        assert float(light_within(math.nan, part)) == pytest.approx(inner / total, rel=1e-6)


def test_the_isophote_is_where_the_catalogue_has_it() -> None:
    """Of galaxies to V 11.5 the profile, with all the light that B says, comes down to 25
    mag/arcsec2 at the catalogued isophote (HyperLEDA through OpenNGC): within one magnitude for 9
    of 10, in the middle within 0.2, and within it lies nearly all the light."""
    table = deep_sky()
    light = light_of([str(name) for name in table.catalogue_id])
    bright = (table.kind == "galaxy") & (light.magnitude_v <= 11.5)
    bright &= np.isfinite(table.magnitude_b)
    assert bright.sum() > 600
    n = light.profile_index[bright]
    half = light.half_light_arcmin[bright] * 30.0
    edge = table.size_major_arcmin[bright] * 30.0
    b = gammaincinv(2.0 * n, 0.5)
    area = 2.0 * np.pi * n * half**2 * light.axis_ratio[bright] * np.exp(b) * b ** (-2.0 * n)
    at_half = table.magnitude_b[bright] + 2.5 * np.log10(area * gamma(2.0 * n))
    at_edge = at_half + 2.5 / math.log(10.0) * b * ((edge / half) ** (1.0 / n) - 1.0)
    assert (np.abs(at_edge - 25.0) < 1.0).mean() > 0.9
    assert float(np.median(at_edge)) == pytest.approx(25.0, abs=0.2)
    assert float(np.median(light_within(n, edge / half))) > 0.8


def test_colours_of_galaxies() -> None:
    """Integrated B-V of galaxies runs from 0.3 to 1.1 (G. de Vaucouleurs et al. 1991, from memory):
    after the check by colour none is left outside by more than the scatter."""
    table = deep_sky()
    v = light_of([str(name) for name in table.catalogue_id]).magnitude_v
    known = (table.kind == "galaxy") & np.isfinite(v + table.magnitude_b)
    colour = (table.magnitude_b - v)[known]
    assert known.sum() > 3000
    assert colour.min() > 0.0
    assert colour.max() < 1.4


def test_half_light_radii_of_harris() -> None:
    """W. E. Harris 1996, edition 2010 (from memory): M13 1.69, M15 1.00, Omega Centauri 5.00."""
    radii = light_of(["NGC 6205", "NGC 7078", "NGC 5139"]).half_light_arcmin / 2.0
    assert radii == pytest.approx([1.69, 1.00, 5.00])


def test_stars_of_clusters() -> None:
    """The Pleiades' brightest stars are V 2.9 to 5.7, Praesepe's begin at 6.3 (Hipparcos)."""
    tenth = light_of(["Mel 22", "NGC 2632"]).tenth_star_v
    assert tenth == pytest.approx([5.7, 6.8], abs=0.2)
