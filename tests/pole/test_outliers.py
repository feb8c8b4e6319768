"""The one measurement that contradicts all others: one rule, against scipy's chi-square."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2 as chi2_of_scipy

from axletree.pole.solution.combine import combine
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.outliers import Without, odd_one

RATHER = 2.0 * np.log(1000.0)


@pytest.mark.parametrize("dof", [1, 2, 5])
def test_the_others_must_agree_as_honest_noise_does(dof: int) -> None:
    limit = float(chi2_of_scipy.isf(0.01, dof))
    rivals = [Without(1e4, dof), Without(2e4, dof)]
    assert odd_one([*rivals, Without(0.999 * limit, dof)]) == 2
    assert odd_one([*rivals, Without(1.001 * limit, dof)]) is None


def test_a_rival_must_be_a_thousand_times_less_likely() -> None:
    """Likelihoods of normal errors go as exp(-chi2 / 2)."""
    best = Without(1.0, 2)
    for factor, found in ((999.0, None), (1001.0, 1)):
        assert odd_one([Without(1.0 + 2.0 * np.log(factor), 2), best]) == found


def test_nobody_can_tell_without_freedom_or_trials() -> None:
    assert odd_one([]) is None
    assert odd_one([Without(0.0, 0), Without(99.0, 0)]) is None
    assert odd_one([Without(0.5, 1)]) == 0


@pytest.mark.parametrize(("apart", "left"), [(8.0, (2,)), (3.0, ())])
def test_measurements_are_left_out_by_the_same_rule(apart: float, left: tuple[int, ...]) -> None:
    sharp = np.eye(2)
    every = [AxisEstimate(0.0, 0.0, sharp), AxisEstimate(0.5, 0.0, sharp)]
    found = combine([*every, AxisEstimate(apart, 0.0, sharp)])
    assert found.left_out == left
