"""The chance that an aim lies in a field, against other ways of taking the same integral."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import multivariate_normal, ncx2

from axletree.find.chance import in_field


@pytest.mark.parametrize("radius", [0.01, 0.3, 1.0, 5.0])
def test_equal_errors_and_no_offset_are_rayleighs_law(radius: float) -> None:
    assert in_field([0, 0], np.eye(2) * 0.25, radius) == pytest.approx(
        1.0 - math.exp(-(radius**2) / 0.5), abs=1e-6
    )


@pytest.mark.parametrize("offset", [0.0, 0.4, 1.7])
@pytest.mark.parametrize("radius", [0.2, 1.0])
def test_an_offset_is_scipys_noncentral_chi_squared(offset: float, radius: float) -> None:
    sigma, turn = 0.5, math.radians(33.0)
    mean = [offset * math.cos(turn), offset * math.sin(turn)]
    expected = ncx2.cdf((radius / sigma) ** 2, 2, (offset / sigma) ** 2 + 1e-300)
    assert in_field(mean, np.eye(2) * sigma**2, radius) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(
    ("sx", "sy", "rho", "mean"),
    [(0.5, 0.1, 0.0, (0.2, 0.1)), (1.0, 0.3, 0.8, (-0.4, 0.3)), (0.2, 0.2, -0.9, (0.0, 0.3)),
     (3.0, 0.05, 0.3, (0.5, 0.2))],
)  # fmt: skip
def test_slanting_errors_are_drawn_points(
    sx: float, sy: float, rho: float, mean: tuple[float, float]
) -> None:
    """400,000 points by scipy: a binomial share's error is under 0.0008."""
    covariance = np.array([[sx * sx, rho * sx * sy], [rho * sx * sy, sy * sy]])
    points = multivariate_normal(mean, covariance).rvs(400_000, random_state=5)
    share = float((np.hypot(points[:, 0], points[:, 1]) <= 0.6).mean())
    assert in_field(mean, covariance, 0.6) == pytest.approx(share, abs=0.003)


def test_one_direction_without_error_is_a_line() -> None:
    """Along a chord of half length 0.8 the chance is an error function."""
    covariance = np.diag([0.25, 0.0])
    assert in_field([0.0, 0.6], covariance, 1.0) == pytest.approx(
        math.erf(0.8 / (0.5 * math.sqrt(2.0))), abs=1e-3
    )
    assert in_field([0.0, 1.1], covariance, 1.0) == 0.0


def test_no_error_at_all_is_yes_or_no() -> None:
    assert in_field([0.5, 0.0], np.zeros((2, 2)), 0.6) == 1.0
    assert in_field([0.7, 0.0], np.zeros((2, 2)), 0.6) == 0.0
    assert in_field([50.0, 0.0], np.eye(2), 0.6) == 0.0
