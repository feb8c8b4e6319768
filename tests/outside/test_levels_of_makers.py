"""Vials and slopes: held against the makers' convention of an angle for 2 mm of travel."""

from __future__ import annotations

import pytest

from axletree.ground.level.legs import (
    slope_mm_per_m,
    vial_radius_mm,
)


@pytest.mark.parametrize(
    ("arcmin", "radius_mm"), [(8.0, 859.4), (30.0, 229.2), (20.0 / 60.0, 20630.0)]
)
def test_sensitivity_and_radius(arcmin: float, radius_mm: float) -> None:
    """B5: the convention 'angle per 2 mm' of makers of vials; radius = 2 mm / angle."""
    assert vial_radius_mm(arcmin) == pytest.approx(radius_mm, rel=1e-3)


def test_five_degrees_as_a_slope() -> None:
    """B6: 87.5 mm in a metre (87 printed)."""
    assert slope_mm_per_m(5.0) == pytest.approx(87.49, rel=1e-3)
