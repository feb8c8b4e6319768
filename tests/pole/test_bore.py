"""Looking through a hollow axis: rays through two rims, traced one by one in the test."""

from __future__ import annotations

import math

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.pole.aim.bore import bore_of


def light_through(angle_deg: float, d: float, length: float, eye: float, pupil: float) -> float:
    """Part of a pupil centred on the bore that parallel rays at this angle reach, traced."""
    rng = np.random.default_rng(5)
    r = pupil / 2 * np.sqrt(rng.random(200_000))
    a = rng.random(200_000) * 2 * np.pi
    x, y = r * np.cos(a), r * np.sin(a)
    slope = math.tan(math.radians(angle_deg))
    near = np.hypot(x + slope * eye, y) < d / 2
    far = np.hypot(x + slope * (eye + length), y) < d / 2
    return float(np.mean(near & far))


def test_field_edges_against_traced_rays() -> None:
    bore = bore_of(22.0, 180.0, eye_distance_mm=18.0, eye_pupil_mm=6.0)
    half = light_through(bore.field_deg / 2, 22.0, 180.0, 18.0, 6.0)
    # a curved rim leaves a little less than half
    assert half == pytest.approx(0.5, abs=0.06)
    assert light_through(bore.full_field_deg / 2 - 0.01, 22.0, 180.0, 18.0, 6.0) == 1.0
    assert light_through(bore.full_field_deg / 2 + 0.2, 22.0, 180.0, 18.0, 6.0) < 1.0


def test_off_centre_part_and_error() -> None:
    bore = bore_of(20.0, 200.0, eye_distance_mm=18.0)
    # 10 mm at 218 mm is 2.626 degrees; 37.7' of it is 0.239.
    assert bore.radius_arcmin == pytest.approx(math.degrees(math.atan(10 / 218)) * 60)
    assert bore.off_centre(37.7) == pytest.approx(0.2393, abs=1e-4)
    # an eye 1 mm off sees the axis turned by atan(1/218)
    assert bore.centring_sigma_arcmin == pytest.approx(15.77, abs=0.01)
    assert bore.sigma_arcmin(37.7) > bore.centring_sigma_arcmin
    narrow = bore_of(5.0, 300.0)
    assert narrow.off_centre(69.0) > 1.0  # the star stays outside
    assert narrow.full_field_deg == 0.0


def test_impossible_bores_are_refused() -> None:
    with pytest.raises(AxletreeError, match="bore_length_mm"):
        bore_of(20.0, 0.0)
