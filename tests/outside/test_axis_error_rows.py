"""The axis-error models against published and independently computed values.

Rows of the project's reference table: A1-A13 (drift of a misaligned axis), X1-X4 and X8-X11
(circle readings of an imperfect mount), K10 (rate about the refracted pole), C24 (circle through
three points), D1 and D3 (pictures with celestial coordinates from astropy's own tests).
"""

from __future__ import annotations

import warnings
from pathlib import Path

import astropy
import numpy as np
import pytest
from astropy.io import fits
from astropy.wcs import WCS

from axletree.axis.circles import circle_readings, pointed_angles
from axletree.axis.frame import mount_angles, seen_vectors
from axletree.pole.drift.solve import drift_arcsec
from axletree.pole.enough.rough import DRIFT_ARCSEC_PER_MIN_PER_ARCMIN
from axletree.pole.frames.attitude import circle_centre
from axletree.pole.picture.fits_header import read_headers
from axletree.pole.picture.frame_file import pixel_scale_arcsec
from axletree.pole.picture.wcs import directions, longitude_latitude, read_wcs
from axletree.sky.directions import position_angle_deg, vector_from_angles
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_DAYS_PER_DAY

SOLAR_MINUTE_S = 60.0 / SIDEREAL_DAYS_PER_DAY  # in which the sky turns by 15 arcminutes exactly


def airless(latitude: float) -> Observer:
    return Observer(latitude, 0.0, pressure_hpa=0.0)


def drift(high, east, hour, dec, seconds, latitude=0.0) -> float:
    return float(drift_arcsec(high, east, hour, dec, seconds, airless(latitude)))


# --- A: drift ------------------------------------------------------------------------------------


def test_a1_largest_drift_per_arcminute():
    """Derived: sidereal rate times one arcminute; 0.26252"/min, 1.3126" in 5, 2.625" in 10 min."""
    assert -drift(0, 1, -60 / 7200, 0, 60) == pytest.approx(0.26252, abs=0.0005)
    assert -drift(0, 1, -300 / 7200, 0, 300) == pytest.approx(1.3126, abs=0.0005)
    assert -drift(0, 1, -600 / 7200, 0, 600) == pytest.approx(2.625, abs=0.0005)
    assert abs(DRIFT_ARCSEC_PER_MIN_PER_ARCMIN - 0.26252) < 0.0005


def test_a2_per_degree():
    """Published in a mailing list of astrophotographers as 15.7" a minute per degree."""
    assert -drift(0, 60, -30 / 3600, 0, 60) == pytest.approx(15.7510, abs=0.001)
    half = SOLAR_MINUTE_S / 7200
    assert -drift(0, 60, -half, 0, SOLAR_MINUTE_S) == pytest.approx(15.7080, abs=0.001)


def test_a3_inverse_constant():
    """3.81 in common circulation: arcminutes of error for a drift of 1" a minute."""
    assert 1.0 / -drift(0, 1, -30 / 3600, 0, 60) == pytest.approx(3.8093, abs=0.0005)


def test_a4_thirty_minutes_two_arcminutes():
    """M. A. Covington 1999, Astrophotography for the Amateur, 2nd ed., App. B: 15.7"."""
    # 30 solar minutes, centred on the meridian; and starting there.
    t = 30 * SOLAR_MINUTE_S
    assert -drift(0, 2, -0.25, 0, t) == pytest.approx(15.7, abs=0.05)
    assert -drift(0, 2, 0.0, 0, t) == pytest.approx(15.663, abs=0.005)


@pytest.mark.parametrize(
    ("error_arcmin", "angle_deg", "minutes", "expected"),
    [(2, 86.25, 30, 15.6968), (60, 89.875, 1, 15.7072), (1, 89.375, 5, 1.30897),
     (15, 82.5, 60, 234.946)],
)  # fmt: skip
def test_a5_exact_drift_function(error_arcmin, angle_deg, minutes, expected):
    """Covington 1999, App. B: change of arccos(sin d cos e + cos d sin e cos h), d = 0."""
    # h counts from the meridian that the axis leans to; an axis too high leans to hour angle 0.
    found = drift(error_arcmin, 0, angle_deg / 15.0, 0, minutes * SOLAR_MINUTE_S, 40.0)
    assert -found == pytest.approx(expected, abs=0.001)


@pytest.mark.parametrize(("latitude", "expected"), [(0, -1.3126), (40, -1.0055), (51.5, -0.8171)])
def test_a6_azimuth_error_counts_by_the_cosine_of_latitude(latitude, expected):
    """Vector model: axis 1' east along the horizon, star on equator and meridian, 5 minutes."""
    east = np.cos(np.radians(latitude))
    found = drift(0, east, -150 / 3600, 0, 300, latitude)
    assert found == pytest.approx(expected, abs=0.001)
    assert drift(0, 1, -150 / 3600, 0, 300, latitude) == pytest.approx(-1.3126, abs=0.001)


@pytest.mark.parametrize("latitude", [0.0, 40.0, 65.0])
def test_a7_altitude_error_six_hours_away(latitude):
    """Vector model: axis 1' high, star on the equator, H = -6 h north, +6 h south; 1.3126"."""
    assert drift(1, 0, -6 - 150 / 3600, 0, 300, latitude) == pytest.approx(1.3126, abs=0.001)
    assert drift(1, 0, 6 - 150 / 3600, 0, 300, latitude) == pytest.approx(-1.3126, abs=0.001)


def test_a8_direction_rules():
    """J. Scheiner 1897, Die Photographie der Gestirne, p. 100: south at the meridian, axis east of
    the pole; north in the east, axis too high. The southern hemisphere mirrors them."""
    for seconds in (60, 1800):
        assert drift(0, 5, -0.1, 10, seconds, 45) < 0
        assert drift(5, 0, -5.5, 10, seconds, 45) > 0
        assert drift(0, 5, -0.1, -10, seconds, -45) > 0
        assert drift(5, 0, -5.5, -10, seconds, -45) < 0


@pytest.mark.parametrize("declination", [0, 30, 60])
def test_a9_the_rate_does_not_depend_on_declination(declination):
    """Scheiner 1897, p. 100; 1' of error on the meridian, 5 minutes."""
    found = drift(0, 1, -150 / 3600, declination, 300, 40)
    assert found == pytest.approx(-1.3126, abs=0.001)


def field_turn_deg(error_arcmin: float, minutes: float, declination: float, hour: float) -> float:
    """Turn of the field about a star: position angle of a close neighbour in the mount's frame
    against that in the sky's, from exact mount angles."""
    watcher = airless(40.0)
    turned = []
    for t in (0.0, minutes * 60.0):
        H = hour + t * SIDEREAL_DAYS_PER_DAY / 3600.0
        seen = seen_vectors([H, H], [declination, declination + 0.001], watcher)
        h, d = mount_angles(seen, 0.0, error_arcmin, watcher)
        turned.append(float(position_angle_deg(-15 * h[0], d[0], -15 * h[1], d[1])))
    return (turned[1] - turned[0] + 180.0) % 360.0 - 180.0


def test_a10_to_a12_field_rotation():
    """R. N. Hook, JBAA, Feb 1989, as quoted: trail E t F A / (45000 cos d) micrometres, 1.3 um for
    E 10', t 5 min, F 300 mm, A 3 deg, d 41; exact vector maximum 0.004843 deg of turn."""
    worst = max(abs(field_turn_deg(10, 5, 41, h)) for h in np.linspace(-6, 6, 97))
    assert worst == pytest.approx(0.004843, rel=0.01)
    assert worst == pytest.approx(
        10 / 60 * np.radians(5 * 60 * 15.0410686 / 3600) / np.cos(np.radians(41)), rel=0.01
    )
    trail_um = 300e3 * np.tan(np.radians(3)) * np.radians(worst)
    assert trail_um == pytest.approx(1.325, rel=0.01)
    assert 10 * 5 * 300 * 3 / (45000 * np.cos(np.radians(41))) == pytest.approx(trail_um, rel=0.01)
    # 45018.6 is the exact constant: one arcminute, one minute, near the pole's meridian.
    turn = max(abs(field_turn_deg(1, 1, 0, h)) for h in np.linspace(-6, 6, 97))
    constant = 1.0 / (1e3 * np.radians(1) * np.radians(turn))
    assert constant == pytest.approx(45018.6, rel=0.002)


def test_a13_the_constant_is_per_arcminute_not_per_degree():
    """A secondary page gives 0.262 E with E in degrees; it holds for arcminutes."""
    assert -drift(0, 1, -30 / 3600, 0, 60) == pytest.approx(0.262, abs=0.001)
    assert -drift(0, 60, -30 / 3600, 0, 60) != pytest.approx(0.262, abs=1.0)


# --- X: circle readings --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("hour", "declination", "d_dec", "d_hour"),
    [(0, 0, 10.000, 0.058), (0, 40, 9.951, 16.881), (-6, 0, 20.0, 0.0), (6, 0, -20.0, 0.0)],
)
def test_x1_to_x4_axis_high_10_east_20(hour, declination, d_dec, d_hour):
    """Computed with rotation matrices; first order u cos H - v sin H, (u sin H + v cos H) tan d."""
    watcher = airless(45.0)
    h, d = mount_angles(seen_vectors(hour, declination, watcher), 10.0, 20.0, watcher)
    assert (float(d) - declination) * 60 == pytest.approx(d_dec, abs=0.1)
    assert (float(h) - hour) * 900 == pytest.approx(d_hour, abs=0.1)


@pytest.mark.parametrize(
    ("declination", "d_dec", "d_hour"),
    [(0, 0.0, 5.000), (30, -0.002, 5.774), (60, -0.006, 10.000), (80, -0.021, 28.793)],
)
def test_x8_x10_cone(declination, d_dec, d_hour):
    """Computed with rotation matrices; first order c sec d, opposite on the other tube side.

    The row's change of declination is that of where the tube points (a cone always brings it
    nearer the equator), so a reading of a star at that declination is larger by as much.
    """
    for side in (1.0, -1.0):
        shown_h, shown_d = circle_readings(0.0, declination, side, cone_arcmin=5.0)
        assert float(shown_h) * 900 == pytest.approx(side * d_hour, abs=0.01)
        assert (float(shown_d) - declination) * 60 == pytest.approx(-d_dec, abs=0.01)
        at_h, at_d = pointed_angles(0.0, declination, side, cone_arcmin=5.0)
        assert float(at_h) * 900 == pytest.approx(-side * d_hour, abs=0.01)
        assert (float(at_d) - declination) * 60 == pytest.approx(d_dec, abs=0.01)


@pytest.mark.parametrize(
    ("declination", "d_dec", "d_hour"),
    [(0, 0.0, 0.0), (30, -0.002, -2.887), (60, -0.006, -8.660), (80, -0.021, -28.356)],
)
def test_x9_x11_axes_not_square(declination, d_dec, d_hour):
    """Computed with rotation matrices; first order -i tan d, opposite on the other tube side."""
    for side in (1.0, -1.0):
        shown_h, _ = circle_readings(0.0, declination, side, lean_arcmin=5.0)
        assert float(shown_h) * 900 == pytest.approx(side * d_hour, abs=0.01)
        _, at_d = pointed_angles(0.0, declination, side, lean_arcmin=5.0)
        assert (float(at_d) - declination) * 60 == pytest.approx(d_dec, abs=0.01)


@pytest.mark.parametrize("slip", [-120.0, 5.0, 90.0])
@pytest.mark.parametrize("declination", [-40, 0, 30, 60])
def test_a_slipped_declination_circle_changes_sign_with_the_side(declination, slip):
    """J. N. Lockyer 1878, Stargazing: Past and Present, ch. XXI, as the table of rows has it.

    The mean of both sides is free of the slip, half their difference is it; the hour circle's
    index doesn't change sign.
    """
    shown = {
        side: circle_readings(
            1.0, declination, side, index_hour_arcmin=30.0, index_declination_arcmin=slip
        )
        for side in (1.0, -1.0)
    }
    (east_h, east_d), (west_h, west_d) = shown[1.0], shown[-1.0]
    assert float(east_d + west_d) / 2.0 == pytest.approx(declination, abs=1e-9)
    assert float(east_d - west_d) * 30.0 == pytest.approx(slip, abs=1e-9)
    assert (float(east_h) - 1.0) * 900.0 == pytest.approx(30.0, abs=1e-9)
    assert (float(west_h) - 1.0) * 900.0 == pytest.approx(30.0, abs=1e-9)
    for side, (hour, dec) in shown.items():
        back = pointed_angles(
            hour, dec, side, index_hour_arcmin=30.0, index_declination_arcmin=slip
        )
        assert float(back[0]) == pytest.approx(1.0, abs=1e-9)
        assert float(back[1]) == pytest.approx(declination, abs=1e-9)


@pytest.mark.parametrize(("side", "sign"), [(1.0, 1.0), (-1.0, -1.0)])
@pytest.mark.parametrize(("declination", "cone_h"), [(0, 5.000), (30, 5.774), (60, 10.000)])
def test_x8_x10_with_a_slipped_circle(declination, cone_h, side, sign):
    """The faults' own rows stand whatever the circle slipped by: 5' of cone, 90' of slip."""
    hour, dec = circle_readings(
        0.0, declination, side, cone_arcmin=5.0, index_declination_arcmin=90.0
    )
    assert float(hour) * 900 == pytest.approx(sign * cone_h, abs=0.01)
    assert (float(dec) - declination) * 60 == pytest.approx(sign * 90.0, abs=0.01)


# --- K10: the rate about the refracted pole -------------------------------------------------------


@pytest.mark.parametrize("latitude", [30.0, 50.0, -40.0])
def test_k10_rate_of_the_refracted_pole(latitude):
    """E. S. King 1931: 15.0369"/s on average (from memory); here first order w (1 - k)."""
    watcher = Observer(latitude, 0.0, pressure_hpa=1010.0, temperature_c=10.0)
    step = 30.0 * SIDEREAL_DAYS_PER_DAY / 3600.0
    h, _ = mount_angles(seen_vectors([-step, step], [0.0, 0.0], watcher), 0.0, 0.0, watcher)
    rate = float(h[1] - h[0]) * 54000.0 / 60.0
    assert rate == pytest.approx(15.0368, abs=0.0003)
    period = 360.0 * 3600.0 / rate
    assert period == pytest.approx(86188.3, abs=1.7)


# --- C24: the circle through three points --------------------------------------------------------


def test_c24_circle_through_three_points():
    """J. Meeus 1998, Astronomical Algorithms, ch. 20: diameter 4 deg 15' 49"."""
    points = vector_from_angles(
        [190.0 + 15 / 60 * (41 - 40) + 8.63 / 240, 190.0 + 15 / 60 * 12 + 5.21 / 240,
         190.0 - 15 / 60 * 1 + 28.11 / 240],
        [-(5 + 37 / 60 + 54.2 / 3600), -(4 + 22 / 60 + 26.2 / 3600), -(1 + 50 / 60 + 3.7 / 3600)],
    )  # fmt: skip
    centre, radius = circle_centre(points)
    assert 2 * radius * 3600 == pytest.approx(4 * 3600 + 15 * 60 + 49, abs=1.0)
    assert np.degrees(np.arccos(points @ centre)) == pytest.approx(radius, abs=1e-9)


# --- D1, D3: pictures with celestial coordinates -------------------------------------------------


def picture(name: str) -> Path:
    return Path(astropy.__file__).parent / name


def measured(path: Path):
    """Centre (degrees), scales along x and y, position angles of +y and +x, parity."""
    wcs = read_wcs(read_headers(path)[0])
    x, y = wcs.centre_px
    lon, lat = longitude_latitude(wcs, [x, x, x + 1], [y, y + 1, y])
    up = float(position_angle_deg(lon[0], lat[0], lon[1], lat[1]))
    right = float(position_angle_deg(lon[0], lat[0], lon[2], lat[2]))
    return wcs, (float(lon[0]), float(lat[0])), up, right


def test_d1_sky_survey_picture():
    """astropy's test file dss.14.29.56-62.41.05.fits.gz; figures computed with astropy 8.0.2."""
    path = picture("wcs/tests/data/dss.14.29.56-62.41.05.fits.gz")
    wcs, centre, up, right = measured(path)
    assert centre == pytest.approx((217.4836638, -62.6851633), abs=1e-6)
    # The row's scale is that of the plate's own plane, 2.7 degrees from its centre; on the sky
    # astropy's separations of neighbouring pixels give 1.69923" and 1.69967".
    assert pixel_scale_arcsec(wcs) == pytest.approx((1.69979 + 1.69997) / 2, rel=3e-4)
    assert pixel_scale_arcsec(wcs) == pytest.approx((1.69923 + 1.69967) / 2, rel=1e-5)
    assert up == pytest.approx(1.5507, abs=0.01)
    assert right == pytest.approx(271.53, abs=0.01)
    assert not wcs.mirrored


def test_d3_picture_with_sip():
    """astropy's test file sip-wcs.fits (TAN-SIP); figures computed with astropy 8.0.2."""
    path = picture("nddata/tests/data/sip-wcs.fits")
    wcs, centre, up, right = measured(path)
    assert centre == pytest.approx((280.5461081, 0.1125927), abs=1e-6)
    assert pixel_scale_arcsec(wcs) == pytest.approx((0.55792 + 0.55787) / 2, rel=1e-4)
    assert up == pytest.approx(9.3795, abs=0.01)
    assert right == pytest.approx(99.22, abs=0.01)
    assert wcs.mirrored


@pytest.mark.parametrize(
    "name",
    ["wcs/tests/data/dss.14.29.56-62.41.05.fits.gz",
     "io/fits/hdu/compressed/tests/data/m13.fits", "nddata/tests/data/sip-wcs.fits",
     "io/fits/tests/data/checksum.fits", "wcs/tests/data/j94f05bgq_flt.fits",
     "wcs/tests/data/header_newlines.fits"],
)  # fmt: skip
def test_pictures_of_astropys_own_tests_read_alike(name):
    """The same files read by astropy: every direction within 0.002" (FK4 the worst)."""
    path = picture(name)
    for part, header in enumerate(read_headers(path)):
        wcs = read_wcs(header)
        if wcs is None:
            continue
        x, y = np.meshgrid(
            np.linspace(0, wcs.width_px - 1, 6), np.linspace(0, wcs.height_px - 1, 6)
        )
        with warnings.catch_warnings(), fits.open(path) as held:
            warnings.simplefilter("ignore")
            sky = WCS(held[part].header, held).celestial.pixel_to_world(x, y).icrs.cartesian
        theirs = np.stack([sky.x.value, sky.y.value, sky.z.value], axis=-1)
        theirs /= np.linalg.norm(theirs, axis=-1, keepdims=True)
        off = np.degrees(np.linalg.norm(directions(wcs, x, y) - theirs, axis=-1)) * 3600.0
        assert off.max() < 0.002
