"""What the tests against other libraries share."""

from __future__ import annotations

import warnings
from collections.abc import Iterator

import pytest


@pytest.fixture
def astropy_offline() -> Iterator[None]:
    """Astropy with the tables that its package ships, whatever their age; its doubts unprinted
    (ERFA's 'dubious year' from 2028 on)."""
    from astropy.utils import iers

    with (
        iers.conf.set_temp("auto_download", False),
        iers.conf.set_temp("auto_max_age", None),
        iers.conf.set_temp("iers_degraded_accuracy", "ignore"),
        warnings.catch_warnings(),
    ):
        warnings.simplefilter("ignore")
        yield
