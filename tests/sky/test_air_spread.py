"""How well refraction is known, against a ray through the air and against plain arithmetic."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

from axletree.sky.air.refraction import refraction_from_apparent_deg
from axletree.sky.air.spread import CAUSES, refraction_parts_deg, refraction_sigma_deg
from axletree.sky.observer import Observer

sys.path.insert(0, str(Path(__file__).parents[1] / "pole"))

from low_air import ray_arcsec

AIRS = [(1013.25, 15.0), (1035.0, -15.0), (985.0, 38.0)]


@pytest.mark.parametrize(("pressure", "warm"), AIRS)
@pytest.mark.parametrize("altitude", [5.0, 6.0, 7.0, 9.0, 12.0])
def test_the_forms_own_lack_is_that_against_a_ray(pressure, warm, altitude):
    """Within a fifth and a tenth of an arcsecond: it falls from 24 to 0.3 arcseconds."""
    here = Observer(45.0, 0.0, 0.0, pressure, warm)
    lack = ray_arcsec(altitude, pressure, warm) - 3600.0 * float(
        refraction_from_apparent_deg(altitude, here)
    )
    said = 3600.0 * float(refraction_parts_deg(altitude, here)[CAUSES.index("form")])
    assert said == pytest.approx(lack, rel=0.22, abs=0.1)


@pytest.mark.parametrize("altitude", [3.0, 4.0])
def test_below_five_degrees_it_is_no_less(altitude):
    lack = ray_arcsec(altitude, 1013.25, 15.0) - 3600.0 * float(
        refraction_from_apparent_deg(altitude, Observer(45.0, 0.0))
    )
    said = 3600.0 * float(refraction_parts_deg(altitude, Observer(45.0, 0.0))[-1])
    assert 0.8 * lack < said < 1.3 * lack


def test_a_layer_of_cold_air_at_the_ground_changes_less_than_that():
    """Five degrees warmer above the first hundred metres: the form's share holds that as well."""
    for altitude in (5.0, 7.0, 9.0):
        layer = ray_arcsec(altitude, 1013.25, 10.0, inversion_c=5.0) - ray_arcsec(
            altitude, 1013.25, 10.0
        )
        said = 3600.0 * float(refraction_parts_deg(altitude, Observer(45.0, 0.0))[-1])
        assert abs(layer) < 0.2 * said


def test_by_hand_at_30_degrees():
    """Refraction 98.8 arcseconds, going as P over T: 20 K of 288.15 and 1 % when nothing is
    given, 3 K and 0.3 % when both are."""
    wide = float(refraction_sigma_deg(30.0, Observer(45.0, 0.0))) * 3600.0
    assert wide == pytest.approx(98.8 * np.hypot(20.0 / 288.15, 0.01), rel=0.02)
    narrow = Observer(45.0, 0.0, 0.0, 1013.25, 15.0)
    assert float(refraction_sigma_deg(30.0, narrow)) * 3600.0 == pytest.approx(
        98.8 * np.hypot(3.0 / 288.15, 0.003), rel=0.02
    )
    half = Observer(45.0, 0.0, 0.0, temperature_c=15.0)
    assert narrow.temperature_c == half.temperature_c
    assert refraction_sigma_deg(30.0, narrow) < refraction_sigma_deg(30.0, half)
    assert refraction_sigma_deg(30.0, half) < refraction_sigma_deg(30.0, Observer(45.0, 0.0))


@pytest.mark.parametrize("warm", [-90.0, 60.0])
def test_it_falls_with_altitude_also_at_the_edges_of_what_air_may_be(warm):
    h = np.linspace(5.0, 90.0, 200)
    sigma = refraction_sigma_deg(h, Observer(45.0, 0.0, 0.0, 300.0, warm))
    assert sigma.shape == h.shape
    assert np.all(np.diff(sigma) < 0)
    assert sigma[-1] == pytest.approx(0.0, abs=1e-9)


def test_without_air_nothing_is_unknown():
    assert not refraction_parts_deg([3.0, 40.0], Observer(45.0, 0.0, pressure_hpa=0.0)).any()
