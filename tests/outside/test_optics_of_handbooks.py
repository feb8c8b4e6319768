"""Telescope optics held against handbooks and textbook exercises."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from axletree.kit.errors import AxletreeError
from axletree.sky import optics
from axletree.sky.directions import angle_between_deg, vector_from_angles
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S


def test_against_astronomy_hacks_magnification_and_true_field():
    # Astronomy Hacks (O'Reilly), ch. 4 section 15: F 1200 mm, 25 mm eyepiece of 50 degrees.
    assert optics.magnification(1200, 25) == pytest.approx(48, abs=1e-9)
    assert optics.true_field_deg(1200, 25, 50) * 60 == pytest.approx(62.5, abs=0.001 * 60)
    # A Barlow of 2 doubles one and halves the other (definition).
    assert optics.magnification(1200, 25, 2) == pytest.approx(96)
    assert optics.true_field_deg(1200, 25, 50, barlow=2) == pytest.approx(62.5 / 120)


def test_true_field_from_field_stop():
    # Relation read in an eyepiece review (57.3 stop / F); exact value 2 atan(27/2400) computed.
    exact = optics.true_field_deg(1200, 32, 50, 27)
    assert exact == pytest.approx(1.2891, abs=0.00005)
    assert exact == pytest.approx(57.296 * 27 / 1200, abs=0.001)
    # An eyepiece without a known stop falls back to the rule, beside one that has it.
    both = optics.true_field_deg(1200, [25, 32], [50, 50], [np.nan, 27])
    assert both == pytest.approx([1.0417, 1.2891], abs=0.0001)


def test_against_dawes():
    # Dawes: 11.6/D(cm) = 4.56/D(inch), a club's table of limits; 0.5 per cent between the forms.
    D = np.array([60, 80, 100, 130, 150, 200])
    table = [1.933, 1.450, 1.160, 0.892, 0.773, 0.580]
    assert optics.dawes_limit_arcsec(D) == pytest.approx(table, rel=0.005)
    assert optics.dawes_limit_arcsec(25.4) == pytest.approx(4.56, rel=0.005)


def test_against_rayleigh():
    # 1.22 lambda/D at 550 nm; 5.45/D(inch) in the same table, 138/D(mm) beside it.
    D = np.array([60, 100, 150, 200])
    limit = optics.rayleigh_limit_arcsec(D)
    assert limit == pytest.approx([2.307, 1.384, 0.923, 0.692], abs=0.0006)
    assert limit == pytest.approx([2.300, 1.380, 0.920, 0.690], rel=0.005)
    assert optics.rayleigh_limit_arcsec(25.4) == pytest.approx(5.45, rel=0.005)


def test_limiting_magnitude_two_rules():
    # 9.1 + 5 log D(inch): page of telescope limits; 2 + 5 log D(mm): common rule, from memory.
    D = np.array([100, 150, 200])
    assert optics.limiting_magnitude(D, "inches") == pytest.approx([12.08, 12.96, 13.58], abs=0.01)
    assert optics.limiting_magnitude(D) == pytest.approx([12.00, 12.88, 13.51], abs=0.01)
    with pytest.raises(AxletreeError, match="there are millimetres, inches"):
        optics.limiting_magnitude(100, "feet")


def test_exit_pupil():
    # Relations read in a page of formulae: eyepiece / f-ratio and D / M.
    assert optics.exit_pupil_mm(100, optics.magnification(800, 25)) == pytest.approx(3.125)
    assert optics.exit_pupil_mm(200, 100) == pytest.approx(2.0)


def test_drift_through_a_field():
    # t = FOV / (15.04107" cos dec); exact arcs differ by 0.005 s at 60 degrees.
    fields, decs = [1, 0.5, 1, 0.5], [0, 0, 60, 45]
    expected = [239.345, 119.672, 478.689, 169.242]
    assert optics.drift_time_s(fields, decs) == pytest.approx(expected, abs=0.01)
    assert optics.drift_time_s(1, -60) == pytest.approx(478.689, abs=0.01)


def test_against_observing_guide_field_from_drift():
    # An observing guide's drift example: Aldebaran at +16 30', 120 s -> 28'51".
    width_arcsec = 120 * optics.drift_arcsec_per_s(16.5)
    assert width_arcsec == pytest.approx(28 * 60 + 51, abs=1.5)
    assert optics.drift_time_s(width_arcsec / 3600, 16.5) == pytest.approx(120, abs=0.01)


@given(
    radius=st.floats(0.05, 2.0),
    declination=st.floats(-89.5, 89.5),
)
def test_drift_to_the_edge_ends_on_the_edge(radius, declination):
    # By vectors on the sphere: after that time the star is `radius` from where it was.
    seconds = float(optics.drift_to_edge_s(radius, declination))
    if np.isinf(seconds):
        assert 2 * (90 - abs(declination)) <= radius * 1.0001
        return
    turn = seconds * SIDEREAL_RATE_ARCSEC_PER_S / 3600
    gone = angle_between_deg(
        vector_from_angles(0, declination), vector_from_angles(turn, declination)
    )
    assert gone == pytest.approx(radius, abs=1e-9)


def test_a_followed_field_never_empties():
    assert np.isinf(optics.drift_time_s(0.5, 10, 0.0))


def test_pixel_scale():
    # 206265" in a radian (definition): 3.76 um at 560 mm.
    assert optics.pixel_scale_arcsec(3.76, 560) == pytest.approx(206264.806 * 3.76e-3 / 560)
