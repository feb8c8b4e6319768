"""The compass: held against the World Magnetic Model's own test file and other models."""

from __future__ import annotations

import math
from datetime import UTC, datetime

import numpy as np
import pytest

from axletree.ground.magnetism import (
    bearing_to_pole_deg,
    declination_sigma_deg,
    magnetic_field,
    zone_of,
)

# M1-M13: WMM2025_FINAL_TEST_VALUES.txt (NOAA NCEI and British Geological Survey, 2024).
# year, height km, latitude, longitude, D deg, I deg, H nT; sigma and zone follow from H.
WMM_ROWS = [
    (2025.0, 28, 89, -121, -99.77, 88.47, 1504, 3.61, "blackout"),
    (2025.0, 48, 80, -96, -29.91, 87.77, 2164, 2.52, "caution"),
    (2025.0, 65, 43, 93, 0.50, 64.10, 24301, 0.342, "usual"),
    (2025.0, 51, -33, 109, -5.49, -67.50, 21838, 0.359, "usual"),
    (2025.0, 39, -59, -8, -15.75, -58.55, 14918, 0.447, "usual"),
    (2025.0, 3, -50, -103, 27.96, -54.89, 22106, 0.357, "usual"),
    (2025.0, 66, 14, 143, -0.19, 12.82, 35004, 0.303, "usual"),
    (2025.5, 44, 33, -118, 11.10, 57.89, 23679, 0.346, "usual"),
    (2025.5, 22, -37, 140, 9.28, -68.62, 21689, 0.361, "usual"),
    (2025.5, 50, -70, -133, 57.21, -71.94, 16657, 0.416, "usual"),
    (2026.0, 74, -57, 3, -22.51, -58.65, 14362, 0.458, "usual"),
    (2026.0, 69, 23, 63, 1.17, 35.92, 34566, 0.304, "usual"),
    (2026.0, 83, 86, -46, -30.61, 86.84, 3000, 1.82, "caution"),
]


@pytest.mark.parametrize("row", WMM_ROWS, ids=[f"M{i}" for i in range(1, 14)])
def test_against_the_models_own_test_file(row: tuple[float, ...]) -> None:
    year, km, latitude, longitude, D, I, H, sigma, zone = row  # noqa: E741
    field = magnetic_field(latitude, longitude, km * 1000.0, year)
    # The file prints two decimals and whole nanoteslas.
    assert field.declination_deg == pytest.approx(D, abs=0.006)
    assert field.inclination_deg == pytest.approx(I, abs=0.006)
    assert field.horizontal_nt == pytest.approx(H, abs=0.6)
    assert field.declination_sigma_deg == pytest.approx(sigma, abs=0.006)
    assert field.zone == zone
    assert field.valid


@pytest.mark.parametrize(
    ("horizontal", "sigma"),
    [(40000, 0.293), (30000, 0.317), (20000, 0.375), (15000, 0.445), (10000, 0.601),
     (6000, 0.940), (2000, 2.721)],
)  # fmt: skip
def test_declination_error_of_the_technical_report(horizontal: float, sigma: float) -> None:
    """M24: sigma_D^2 = 0.26^2 + (5417/H)^2, WMM2025 technical report, as coded publicly."""
    assert declination_sigma_deg(horizontal) == pytest.approx(sigma, abs=0.0006)


def test_zones_of_the_military_specification() -> None:
    """M26: blackout under 2000 nT, caution under 6000 nT (WMM reports, MIL-PRF-89500B)."""
    assert zone_of(1999.9) == "blackout"
    assert zone_of(2000.0) == "caution"
    assert zone_of(5999.9) == "caution"
    assert zone_of(6000.0) == "usual"


def test_the_models_years() -> None:
    """M27: epoch 2025.0, valid to the end of 2029. Outside it answers, flagged and widened."""
    here = (38.57, -7.91, 292.0)
    inside = magnetic_field(*here, 2030.0)
    assert inside.valid
    assert inside.years_outside == 0.0
    for year, years in ((2024.9, 0.1), (2031.0, 1.0), (2045.0, 15.0)):
        outside = magnetic_field(*here, year)
        assert not outside.valid
        assert outside.years_outside == pytest.approx(years)
        assert outside.declination_sigma_deg > declination_sigma_deg(outside.horizontal_nt)
    late, later = (magnetic_field(*here, y).declination_sigma_deg for y in (2031.0, 2045.0))
    assert later > late


def test_against_a_numeric_softwares_manual() -> None:
    """M28: Natick, worked in the manual of a numeric package (page 'wrldmagm'): D, I, H, F."""
    field = magnetic_field(42.283, -71.35, 1000.0, datetime(2028, 7, 4, tzinfo=UTC))
    assert field.declination_deg == pytest.approx(-13.6891, abs=0.0005)
    assert field.inclination_deg == pytest.approx(65.9899, abs=0.0005)
    assert field.horizontal_nt == pytest.approx(20727, abs=1)
    assert field.total_nt == pytest.approx(50940, abs=1)


@pytest.mark.parametrize(
    ("latitude", "longitude", "declination"),
    [(51.4769, 0, 1.21), (42.36, -71.06, -13.95), (-33.87, 151.21, 12.82),
     (-33.93, 18.42, -26.74), (64.15, -21.94, -11.13), (40.4, -3.7, 0.62)],
)  # fmt: skip
def test_six_cities_in_the_middle_of_2026(
    latitude: float, longitude: float, declination: float
) -> None:
    """M29, computed with pygeomag."""
    field = magnetic_field(latitude, longitude, 0.0, 2026.5)
    assert field.declination_deg == pytest.approx(declination, abs=0.02)


def test_another_model_agrees_within_a_few_sigma() -> None:
    """The International Geomagnetic Reference Field by `ppigrf`, a model of other data.

    Both describe the core field; where the level field is strong they differ by a fraction of
    the stated error, which also holds the crust.
    """
    import ppigrf

    rng = np.random.default_rng(7)
    when = datetime(2026, 6, 1)
    checked = 0
    for sine, longitude in zip(
        rng.uniform(-0.97, 0.97, 60), rng.uniform(-180, 180, 60), strict=True
    ):
        latitude = math.degrees(math.asin(sine))
        east, north, _ = (float(np.squeeze(v)) for v in ppigrf.igrf(longitude, latitude, 0.0, when))
        field = magnetic_field(latitude, longitude, 0.0, when.replace(tzinfo=UTC))
        if field.zone != "usual":
            continue
        checked += 1
        other = math.degrees(math.atan2(east, north))
        turn = (field.declination_deg - other + 180.0) % 360.0 - 180.0
        assert abs(turn) < field.declination_sigma_deg
    assert checked > 50


def test_bearing_of_the_elevated_pole() -> None:
    """Trade's rule, no source: east declination is subtracted from a true bearing."""
    assert bearing_to_pole_deg(40.0, 10.0) == 350.0
    assert bearing_to_pole_deg(40.0, -10.0) == 10.0
    assert bearing_to_pole_deg(-44.0, 24.7) == pytest.approx(155.3)
    assert bearing_to_pole_deg(0.0, 2.0) == 358.0
