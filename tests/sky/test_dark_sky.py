"""The night sky without Moon, against the published formula worked by hand."""

from __future__ import annotations

import pytest

from axletree.sky.air.brightness import dark_sky_nanolamberts, nanolamberts


def test_the_dark_sky_towards_the_horizon():
    """K. Krisciunas and B. E. Schaefer 1991, PASP 103, 1033, equations 1 to 3.

    79.0 nanolamberts at the zenith (V = 21.587), k = 0.172, zenith distance 60 degrees:
    X = (1 - 0.96 sin^2 60)^-0.5 = 1.8898; 79.0 x 10^(-0.4 x 0.172 x 0.8898) x 1.8898 = 129.7.
    """
    zenith = 21.587
    assert float(nanolamberts(zenith)) == pytest.approx(79.0, rel=0.01)
    assert float(dark_sky_nanolamberts(30.0, zenith, 0.172)) == pytest.approx(129.7, rel=0.01)
    assert float(dark_sky_nanolamberts(90.0, zenith, 0.172)) == pytest.approx(79.0, rel=0.01)
