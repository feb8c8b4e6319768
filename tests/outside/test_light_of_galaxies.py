"""How light gathers inwards, held against scipy's integrals of the published profiles."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from scipy.special import gammainc

from axletree.evening.seeing.light_profile import PARTS, half_light, inner_parts, light_within


@pytest.mark.parametrize("part", [*PARTS, 1.0])
def test_exponential_disc_and_bulge(part: float) -> None:
    """K. C. Freeman 1970: I = I0 exp(-r/h), 21.65 in the middle, 25 at the isophote; bulges of
    S. Courteau et al. 1996, half-light radius 0.13 h. Integrated numerically here."""
    h = 1.0 / ((25.0 - 21.65) / (2.5 * math.log10(math.e)))

    def light(scale: float) -> float:
        total, _ = quad(lambda r: r * math.exp(-r / scale), 0.0, 60.0 * scale)
        inner, _ = quad(lambda r: r * math.exp(-r / scale), 0.0, part)
        return inner / total

    # An exponential holds half of its light within 1.678 scale lengths.
    bulge = light(0.13 * h / 1.678)
    for shape, share in (("early spiral", 0.30), ("late spiral", 0.08)):
        expected = share * bulge + (1.0 - share) * light(h)
        assert light_within(shape, part) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("part", [*PARTS, 1.0])
def test_elliptical(part: float) -> None:
    """G. de Vaucouleurs 1948: I = Ie exp(-7.669 ((r/re)^1/4 - 1)); the light within is the
    incomplete gamma function of order 8."""
    expected = float(gammainc(8.0, 7.669 * (part * 3.5) ** 0.25))
    assert light_within("elliptical", part) == pytest.approx(expected, rel=1e-9)
    assert float(gammainc(8.0, 7.669)) == pytest.approx(0.5, abs=1e-3)


@pytest.mark.parametrize("part", PARTS)
def test_globular_and_lit_nebula(part: float) -> None:
    """H. C. Plummer 1911: surface density (1 + r^2/a^2)^-2. A nebula lit from its middle: light
    falls as the inverse square, flat within a tenth."""
    a = 0.25
    inner, _ = quad(lambda r: r * (1.0 + r * r / a / a) ** -2, 0.0, part)
    total, _ = quad(lambda r: r * (1.0 + r * r / a / a) ** -2, 0.0, math.inf)
    assert light_within("globular", part) == pytest.approx(inner / total, rel=1e-6)
    inner, _ = quad(lambda r: r / (r * r + 0.01), 0.0, part)
    total, _ = quad(lambda r: r / (r * r + 0.01), 0.0, 1.0)
    assert light_within("lit from inside", part) == pytest.approx(inner / total, rel=1e-6)


def test_half_light_and_order() -> None:
    for shape in ("late spiral", "early spiral", "elliptical", "globular", "lit from inside"):
        assert light_within(shape, half_light(shape)) == pytest.approx(0.5, abs=1e-9)
        shares = [share for _, share in inner_parts(shape)]
        assert shares == sorted(shares)
        # Inner parts are brighter than the whole, or there would be no point in trying them.
        assert all(share > part**2 for part, share in inner_parts(shape))
