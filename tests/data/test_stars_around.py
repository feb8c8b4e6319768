"""Stars to V 10, found by patch of sky."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.catalogue.star_counts import stars_to
from axletree.sky.catalogue.stars import StarArrays, pole_stars, stars
from axletree.sky.catalogue.stars_around import faint_table, stars_around

# Stars of the whole sky up to V, a square degree: C. W. Allen, Astrophysical Quantities, 3rd ed.,
# section 117 (log N), from memory; 10 % leaves room for his rounding and for how V was got.
LOG_PER_SQUARE_DEGREE = {7.0: -0.44, 8.0: 0.02, 9.0: 0.47, 10.0: 0.92}
WHOLE_SKY_SQUARE_DEG = 41252.96


def whole_sky() -> StarArrays:
    return stars_around(0.0, 90.0, 90.0).joined(stars_around(0.0, -90.0, 90.0))


@pytest.mark.parametrize("limit_mag", LOG_PER_SQUARE_DEGREE)
def test_as_many_stars_as_the_handbook_counts(limit_mag: float) -> None:
    expected = 10.0 ** LOG_PER_SQUARE_DEGREE[limit_mag] * WHOLE_SKY_SQUARE_DEG
    found = int((whole_sky().magnitude_v <= limit_mag).sum())
    assert found == pytest.approx(expected, rel=0.10)


@pytest.mark.parametrize("limit_mag", [4.0, 5.0, 6.0])
def test_the_handbooks_bright_stars_are_those_of_hipparcos(limit_mag: float) -> None:
    """Its counts go on where no list reaches; where Hipparcos is complete they agree to 5 %."""
    found = int((whole_sky().magnitude_v <= limit_mag).sum())
    assert stars_to(limit_mag) == pytest.approx(found, rel=0.05)


def test_the_bright_list_is_part_of_it() -> None:
    """Every star of the list to V 6.5, once."""
    bright, all_of_them = stars(6.5), whole_sky()
    listed = all_of_them.number[all_of_them.number > 0]
    assert len(np.unique(listed)) == len(listed)
    assert set(bright.number) <= set(listed)


def test_the_caps_are_the_pole_stars() -> None:
    for north in (True, False):
        cap = stars_around(0.0, 90.0 if north else -90.0, 5.9)
        assert len(cap) >= len(pole_stars(north, 5.9))


@pytest.mark.parametrize(
    ("ra_deg", "dec_deg", "radius_deg"),
    [(83.8, -5.4, 3.0), (0.1, 0.2, 2.0), (359.9, -30.4, 4.0), (120.0, 87.5, 4.0),
     (10.0, -89.9, 1.0), (200.0, 60.0, 25.0), (45.0, 84.0, 6.0)],
)  # fmt: skip
def test_a_patch_is_what_a_look_at_every_star_finds(
    ra_deg: float, dec_deg: float, radius_deg: float
) -> None:
    """Against the whole files, each star's separation by the formula of great circles."""
    table = faint_table()
    ra, dec = table["ra"] * (2 * np.pi / 2.0**32), table["dec"] * (2 * np.pi / 2.0**32)
    listed = stars(10.0)
    ra = np.concatenate([np.radians(listed.ra_deg), ra])
    dec = np.concatenate([np.radians(listed.dec_deg), dec])
    v = np.concatenate([listed.magnitude_v, table["v"] / 1000.0])
    a, d = np.radians(ra_deg), np.radians(dec_deg)
    half = np.sin((dec - d) / 2) ** 2 + np.cos(dec) * np.cos(d) * np.sin((ra - a) / 2) ** 2
    inside = 2 * np.arcsin(np.sqrt(half)) <= np.radians(radius_deg)
    assert inside.any()
    found = stars_around(ra_deg, dec_deg, radius_deg)
    assert len(found) == int(inside.sum())
    assert np.all(np.diff(found.magnitude_v) >= 0.0)
    np.testing.assert_allclose(found.magnitude_v, np.sort(v[inside]), atol=1e-6)


def test_a_limit_cuts_the_faint_ones_off() -> None:
    all_of_them, some = stars_around(283.4, 33.0, 3.0), stars_around(283.4, 33.0, 3.0, 8.0)
    assert 0 < len(some) == int((all_of_them.magnitude_v <= 8.0).sum()) < len(all_of_them)


def test_a_number_leads_back_to_its_row() -> None:
    """As its words say: rows of the file counted from -1, so that row -1 - number is the star."""
    found = stars_around(200.0, 60.0, 5.0)
    faint = found.number < 0
    assert faint.sum() > 100
    rows = faint_table()[-1 - found.number[faint]]
    np.testing.assert_allclose(rows["ra"] * (360 / 2.0**32), found.ra_deg[faint], atol=1e-9)
    np.testing.assert_allclose(rows["v"] / 1000.0, found.magnitude_v[faint], atol=1e-9)


def test_companions_of_bright_stars_are_there() -> None:
    """Rigel's companion, 9.5 arcseconds and V 6.8; Mizar's, 14.4 and 3.9 (WDS, from memory)."""
    for ra_deg, dec_deg, magnitude, apart in (
        (78.6345, -8.2016, 6.8, 9.5),
        (200.9814, 54.9254, 3.9, 14.4),
    ):
        near = stars_around(ra_deg, dec_deg, 0.01)
        assert len(near) == 2
        assert near.magnitude_v[1] == pytest.approx(magnitude, abs=0.25)
        east = (near.ra_deg[1] - near.ra_deg[0]) * np.cos(np.radians(dec_deg))
        separation = np.hypot(east, near.dec_deg[1] - near.dec_deg[0]) * 3600.0
        assert separation == pytest.approx(apart, abs=1.5)  # the motion from 2000 to 2016 is in it


@pytest.mark.parametrize("radius_deg", [0.0, -1.0, 90.1, float("nan")])
def test_a_radius_that_is_none_is_refused(radius_deg: float) -> None:
    with pytest.raises(AxletreeError, match="radius"):
        stars_around(0.0, 0.0, radius_deg)
