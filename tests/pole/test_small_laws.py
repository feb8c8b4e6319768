"""Small laws of the polar axis: chances, radii and defaults, against scipy and drawn points."""

from __future__ import annotations

from datetime import UTC, datetime
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import norm

from axletree.pole.correct.advice import chance_within as chance_of_estimate
from axletree.pole.drift.solve import crossing_drift_arcsec
from axletree.pole.enough.chance import chance_within
from axletree.pole.frames.one_run import default_sigmas_arcsec
from axletree.pole.photographs.listed import listed_around
from axletree.pole.photographs.looking import about_the_pole
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.catalogue.stars import hipparcos_table
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants


@pytest.mark.parametrize("sigma", [0.4, 2.0, 30.0])
def test_an_error_along_a_line_is_a_normals_middle(sigma: float) -> None:
    for radius in (0.3, 1.0, 25.0):
        middle = norm.cdf(radius / sigma) - norm.cdf(-radius / sigma)
        assert chance_within(radius, sigma, 1e-6) == pytest.approx(middle, abs=1e-9)
        assert chance_within(radius, 1e-6, sigma) == pytest.approx(middle, abs=1e-9)


@pytest.mark.parametrize("values", [(0.0, 0.0), (3.0, -4.0), (-9.0, 2.0)])
def test_the_chance_of_a_slanting_estimate_is_that_of_drawn_axes(
    values: tuple[float, float],
) -> None:
    """400,000 axes by numpy: a share's own error is under 0.0008."""
    covariance = np.array([[36.0, -14.0], [-14.0, 9.0]])
    estimate = AxisEstimate(*values, np.linalg.inv(covariance))
    drawn = np.random.default_rng(6).multivariate_normal(values, covariance, 400_000)
    for radius in (2.0, 6.0, 12.0):
        share = float((np.hypot(*drawn.T) <= radius).mean())
        assert chance_of_estimate(estimate, radius) == pytest.approx(share, abs=0.003)


def test_from_the_middle_to_the_edge_is_half_a_field() -> None:
    """By hand: half of 40 arcminutes is 1200 arcseconds."""
    assert crossing_drift_arcsec(40.0) == 1200.0
    assert crossing_drift_arcsec(40.0, 1.0) == 2400.0


@pytest.mark.parametrize("size_px", [(6000, 4000), (1000, 3000)])
def test_a_shift_at_the_rms_radius_of_the_frame(size_px: tuple[int, int]) -> None:
    """Points that fill a rectangle lie, in the root mean square, so far from its middle (drawn)."""
    wide, high = size_px
    wcs = SimpleNamespace(width_px=wide, height_px=high, random_error_deg=None)
    frame = SimpleNamespace(wcs=wcs, scale_arcsec=4.0)
    across, about = default_sigmas_arcsec(frame)  # type: ignore[arg-type]
    assert across == pytest.approx(0.8)  # a fifth of a pixel
    rng = np.random.default_rng(2)
    x, y = rng.uniform(-wide / 2, wide / 2, 200_000), rng.uniform(-high / 2, high / 2, 200_000)
    away_arcsec = 4.0 * np.sqrt(np.mean(x * x + y * y))
    assert about == pytest.approx(np.degrees(across / away_arcsec) * 3600.0, rel=0.005)


@pytest.mark.parametrize("latitude", [48.0, -35.0])
def test_the_axis_of_a_rough_set_up_points_to_the_pole(latitude: float) -> None:
    where = about_the_pole(Observer(latitude, 0.0)).direction
    assert np.linalg.norm(where) == pytest.approx(1.0, abs=1e-12)
    assert np.degrees(np.arcsin(where[2])) == pytest.approx(abs(latitude), abs=1e-9)
    assert np.sign(where[1]) == np.sign(latitude)


def test_ninety_degrees_around_is_all_of_the_sky() -> None:
    """As many as the list holds to that magnitude, and about half of them within 89.9 degrees."""
    at = Instants.from_datetime(datetime(2026, 8, 12, 21, tzinfo=UTC))
    here, up = Observer(48.0, 16.0), np.array([0.0, 0.0, 1.0])
    everyone = int((hipparcos_table()["magnitude_v"] <= 4.0).sum())
    whole, half = (
        len(listed_around(up, radius, 4.0, at, here).stars.ra_deg) for radius in (90.0, 89.9)
    )
    assert whole == pytest.approx(everyone, rel=0.02)
    assert 0.4 < half / whole < 0.6
