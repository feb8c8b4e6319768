"""Circle readings of an imperfect mount against the textbook's first-order forms and exact values.

Forms: reading minus true, dDec = u cos H - v sin H, dHA = (u sin H + v cos H) tan dec, cone
c sec dec, non-perpendicularity -/+ i tan dec, opposite on the other tube side. W. Chauvenet,
A Manual of Spherical and Practical Astronomy, 1876, vol. 2 pp. 367-390, and E. C. Pickering 1886,
pp. 195-201, as cited by M. A. Covington, Astrophotography for the Amateur, 2nd ed. 1999, App. B
(page numbers secondary). Exact values of the same rows: rotation matrices, computed.
"""

from __future__ import annotations

import numpy as np
import pytest

from axletree.mount.rig.kinematics import align, axis_angles, circle_readings, pointing

LATITUDE = 40.0


def _errors(axes, side, H, d):
    """Reading minus true, declination and hour angle, arcminutes."""
    read_h, read_d = circle_readings(axes, *axis_angles(axes, side, H, d))
    dh = (np.asarray(read_h) - H + 12.0) % 24.0 - 12.0
    return float(read_d - d) * 60.0, float(dh) * 15.0 * 60.0


@pytest.mark.parametrize(
    ("H", "d", "dec_exact", "dec_first", "hour_exact", "hour_first"),
    [
        (0.0, 0.0, 10.000, 10.000, 0.058, 0.0),  # X1
        (0.0, 40.0, 9.951, 10.000, 16.881, 16.782),  # X2
        (-6.0, 0.0, 20.000, 20.000, 0.0, 0.0),  # X3
        (6.0, 0.0, -20.000, -20.000, 0.0, 0.0),  # X4
    ],
)
@pytest.mark.parametrize("side", ["east", "west"])
def test_axis_ten_high_and_twenty_east(H, d, dec_exact, dec_first, hour_exact, hour_first, side):
    axes = align(LATITUDE, high_arcmin=10.0, east_arcmin=20.0)
    dec, hour = _errors(axes, side, H, d)
    assert dec == pytest.approx(dec_first, abs=0.1)
    assert hour == pytest.approx(hour_first, abs=0.1)
    # The exact values to their last digit, twice the rounding of the second order in the hour
    # angle, where the row's zero of hours is defined to first order only.
    assert dec == pytest.approx(dec_exact, abs=0.002)
    assert hour == pytest.approx(hour_exact, abs=0.06)


@pytest.mark.parametrize("d", [0.0, 30.0, 60.0])
@pytest.mark.parametrize(("side", "sign"), [("east", 1.0), ("west", -1.0)])
def test_cone_of_five_reads_c_sec_dec(d, side, sign):
    # X8 east, X10 on the other side; 0.01 arcmin.
    dec, hour = _errors(align(LATITUDE, cone_arcmin=5.0), side, 0.0, d)
    assert hour == pytest.approx(sign * 5.0 / np.cos(np.radians(d)), abs=0.01)
    assert dec == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize("d", [0.0, 30.0, 60.0])
@pytest.mark.parametrize(("side", "sign"), [("east", -1.0), ("west", 1.0)])
def test_lean_of_five_reads_i_tan_dec(d, side, sign):
    # X9 east, X11 on the other side; 0.01 arcmin.
    dec, hour = _errors(align(LATITUDE, lean_arcmin=5.0), side, 0.0, d)
    assert hour == pytest.approx(sign * 5.0 * np.tan(np.radians(d)), abs=0.01)
    assert dec == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize(
    ("fault", "hour_exact"),
    [
        ({"cone_arcmin": 5.0}, {0: 5.000, 30: 5.774, 60: 10.000, 80: 28.793}),  # X8
        ({"lean_arcmin": 5.0}, {0: 0.0, 30: -2.887, 60: -8.660, 80: -28.356}),  # X9
    ],
)
def test_exact_values_turn_the_star_by_the_fault(fault, hour_exact):
    """The exact columns turn a star's vector by the fault: the mount with the opposite fault.

    In that sense, from the circles to the sky, they agree to their last digit, declination
    (0, -0.002, -0.006, -0.021) included.
    """
    axes = align(LATITUDE, **{name: -value for name, value in fault.items()})
    dec_exact = {0: 0.0, 30: -0.002, 60: -0.006, 80: -0.021}
    for d, hour in hour_exact.items():
        _, H, seen = pointing(axes, -6.0, -(90.0 - d))
        assert float(H) * 15.0 * 60.0 == pytest.approx(hour, abs=0.0006)
        assert (float(seen) - d) * 60.0 == pytest.approx(dec_exact[d], abs=0.0006)


def test_the_other_side_is_equal_and_opposite():
    for fault in ({"cone_arcmin": 5.0}, {"lean_arcmin": 5.0}):
        for latitude in (40.0, -40.0):
            axes = align(latitude, **fault)
            for d in (-30.0, 10.0, 55.0):
                east, west = (_errors(axes, side, 1.5, d) for side in ("east", "west"))
                assert east[1] == pytest.approx(-west[1], abs=1e-6)
                assert east[0] == pytest.approx(west[0], abs=1e-6)
