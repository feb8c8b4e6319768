"""Short ways round a library's slow start, held against the library."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.sky.arrays import distinct, quantile


@pytest.mark.parametrize("count", [1, 2, 7, 100, 2048])
def test_quantiles_and_distinct_values_are_numpys_to_the_last_digit(count: int) -> None:
    rng = np.random.default_rng(count)
    for _ in range(50):
        values = rng.normal(0.0, 3.0, count).round(int(rng.integers(0, 9)))
        share = float(rng.choice([0.0, 1.0, 0.5, 0.025, 0.1587, rng.random()]))
        assert quantile(values, share) == np.quantile(values, share)
        assert quantile(values, share, higher=True) == np.quantile(values, share, method="higher")
        assert distinct(values).tolist() == np.unique(values).tolist()
