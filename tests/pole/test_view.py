"""The picture in the polar scope, against astropy: its refracted places and its tangent plane."""

from __future__ import annotations

import warnings
from datetime import UTC, datetime, timedelta

import erfa
import numpy as np
import pytest
from astropy import units as u
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers
from astropy.wcs import WCS

from axletree.kit.kit import demo_kit
from axletree.kit.parts.mount import PolarScope
from axletree.pole.aim.axis_view import AxisView, axis_view, limit_through
from axletree.pole.aim.scope_orientation import clock_hour, in_picture, turn_deg_per_h
from axletree.pole.aim.view import PoleView, pole_view
from axletree.sky.catalogue.stars import pole_stars
from axletree.sky.observer import Observer

ARCSEC = 1.0 / 60.0  # in arcminutes
EVENING = datetime(2026, 12, 5, 21, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def _astropy_offline():
    with iers.conf.set_temp("auto_download", False), iers.conf.set_temp("auto_max_age", None):
        yield


def refracted_pole_deg(latitude: float, hpa: float, celsius: float) -> float:
    """Altitude of the refracted pole straight from ERFA's constants, by iteration."""
    if hpa == 0:
        return abs(latitude)
    a, b = erfa.refco(hpa, celsius, 0.0, 0.55)
    z = np.radians(90.0 - abs(latitude))
    apparent = z
    for _ in range(30):
        apparent = z - a * np.tan(apparent) - b * np.tan(apparent) ** 3
    return float(90.0 - np.degrees(apparent))


def by_astropy(
    hips: list[int], north: bool, observer: Observer, at: datetime
) -> tuple[np.ndarray, np.ndarray]:
    """Right of and above the refracted pole, arcminutes, naked eye, by astropy's AltAz and TAN."""
    near = pole_stars(north, 5.0, 7.0)
    rows = [int(np.flatnonzero((near.number == h) & ~near.from_gaia)[0]) for h in hips]
    star = near.take(np.array(rows))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        coordinates = SkyCoord(
            star.ra_deg * u.deg,
            star.dec_deg * u.deg,
            pm_ra_cosdec=star.pm_ra_cosdec_mas_yr * u.mas / u.yr,
            pm_dec=star.pm_dec_mas_yr * u.mas / u.yr,
            distance=(1000.0 / star.parallax_mas) * u.pc,
            radial_velocity=star.radial_velocity_km_s * u.km / u.s,
            obstime=Time("J2000"),
        ).apply_space_motion(Time(at))
        hpa, celsius = observer.air_pressure_hpa, observer.air_temperature_c
        frame = AltAz(
            obstime=Time(at),
            location=EarthLocation.from_geodetic(
                observer.longitude_deg * u.deg,
                observer.latitude_deg * u.deg,
                observer.elevation_m * u.m,
            ),
            pressure=hpa * u.hPa,
            temperature=celsius * u.deg_C,
            relative_humidity=0.0,
            obswl=0.55 * u.um,
        )
        seen = coordinates.transform_to(frame)
    plane = WCS(naxis=2)
    plane.wcs.ctype = ["ALON-TAN", "ALAT-TAN"]
    plane.wcs.crval = [
        0.0 if north else 180.0,
        refracted_pole_deg(observer.latitude_deg, hpa, celsius),
    ]
    plane.wcs.cdelt = [1.0 / 60.0, 1.0 / 60.0]
    plane.wcs.crpix = [1.0, 1.0]
    right, up = plane.wcs_world2pix(seen.az.deg, seen.alt.deg, 0)
    return right, up


def place_of(view: PoleView, hip: int) -> tuple[float, float]:
    if hip in (11767, 104382):
        return view.now.right_arcmin, view.now.up_arcmin
    star = next(s for s in view.stars if s.hip == hip)
    return star.right_arcmin, star.up_arcmin


NORTHERN = [11767, 85822, 37391, 85699, 7283]
SOUTHERN = [104382, 92824, 115836, 112355, 60041]


@pytest.mark.parametrize("latitude", [89.9, 60.0, 38.5712, 12.0, -12.0, -44.021, -78.0])
@pytest.mark.parametrize("hours", [0.0, 7.3])
def test_star_places_against_astropy_within_an_arcsecond(latitude: float, hours: float) -> None:
    north = latitude > 0
    hips = NORTHERN if north else SOUTHERN
    observer = Observer(latitude, -7.9, 292.0, pressure_hpa=980.0, temperature_c=4.0)
    at = EVENING + timedelta(hours=hours)
    view = pole_view(observer, at, AxisView(look="erect", field_deg=8.0, limit_mag=7.0))
    right, up = by_astropy(hips, north, observer, at)
    for k, hip in enumerate(hips):
        x, y = place_of(view, hip)
        assert np.hypot(x - right[k], y - up[k]) < 1.0 * ARCSEC, hip


def test_star_places_on_the_equator_without_air() -> None:
    # The models of the air part ways near the horizon, so the geometry is held without air.
    observer = Observer(0.0, 20.0, 0.0, pressure_hpa=0.0)
    view = pole_view(observer, EVENING, AxisView(look="erect", field_deg=8.0, limit_mag=7.0))
    right, up = by_astropy(NORTHERN, True, observer, EVENING)
    for k, hip in enumerate(NORTHERN):
        x, y = place_of(view, hip)
        assert np.hypot(x - right[k], y - up[k]) < 1.0 * ARCSEC
    with_air = pole_view(Observer(0.0, 20.0), EVENING, AxisView(look="erect"))
    assert with_air.target_altitude_deg == pytest.approx(0.5, abs=0.1)
    assert np.isfinite([with_air.clock_hour, with_air.pole_distance_arcmin]).all()


def test_low_poles_show_flattened_circles() -> None:
    # Where refraction is R at the pole and falls by R' a degree, a small circle keeps 1 / (1 + R')
    # of its height and cos(h + R) / cos(h) of its width. R and R' here from ERFA's constants.
    ring = np.array(pole_view(Observer(12.0, 0.0), EVENING, AxisView(look="erect")).ring)
    width, height = np.ptp(ring[:, 0]), np.ptp(ring[:, 1])
    a, b = erfa.refco(1013.25, 15.0, 0.0, 0.55)
    apparent = refracted_pole_deg(12.0, 1013.25, 15.0)
    t = np.tan(np.radians(90.0 - apparent))
    falls = (a + 3 * b * t * t) * (1 + t * t)
    narrowed = np.cos(np.radians(apparent)) / np.cos(np.radians(12.0))
    expected = 1 - 1 / (1 + falls) / narrowed
    assert 0.005 < expected < 0.006
    assert 1 - height / width == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("latitude", "look", "hour"),
    [
        # Hour angle H hours west of the upper meridian. Facing north the sky turns anticlockwise,
        # facing south clockwise (common practice, no source); inverted is six hours on.
        (45.0, "erect", lambda H: 12 - H / 2),
        (45.0, "inverted", lambda H: 6 - H / 2),
        (45.0, "mirrored", lambda H: 12 + H / 2),
        (-45.0, "erect", lambda H: 12 + H / 2),
        (-45.0, "inverted", lambda H: 6 + H / 2),
        (-45.0, "mirrored", lambda H: 12 - H / 2),
    ],
)
def test_clock_hour_follows_the_hour_angle(latitude, look, hour) -> None:
    observer = Observer(latitude, 10.0, pressure_hpa=0.0)
    for step in range(0, 24, 5):
        at = EVENING + timedelta(hours=step)
        view = pole_view(observer, at, AxisView(look=look))
        off = (view.clock_hour - hour(view.star_hour_angle_h) + 6) % 12 - 6
        # A star a degree from the pole and its hour circle: exact but for polar motion (0.3").
        assert abs(off) < 0.002
        assert view.north == (latitude > 0)
        # the quarter hours walk the way the picture is said to turn
        turned = (view.quarters[3].clock_hour - view.clock_hour + 6) % 12 - 6
        assert turned * 30 == pytest.approx(view.turn_deg_per_h, rel=0.003)


def test_a_scope_turned_in_its_holder_turns_the_picture_clockwise() -> None:
    straight = pole_view(Observer(45.0, 0.0), EVENING, AxisView(look="inverted"))
    turned = pole_view(Observer(45.0, 0.0), EVENING, AxisView(look="inverted", rotation_deg=30.0))
    assert (turned.clock_hour - straight.clock_hour) % 12 == pytest.approx(1.0, abs=1e-6)
    assert (turned.guides[0].clock_hour - straight.guides[0].clock_hour) % 12 == pytest.approx(1.0)


def test_pictures_broadcast_and_twelve_is_the_top() -> None:
    x, y = in_picture(np.zeros((2, 3)), np.ones(3), "inverted")
    assert x.shape == (2, 3)
    np.testing.assert_allclose(y, -1.0)
    np.testing.assert_allclose(clock_hour([0, 1, 0, -1], [1, 0, -1, 0]), [12, 3, 6, 9])
    assert turn_deg_per_h(True, "erect") == pytest.approx(-15.04107, abs=1e-5)
    assert turn_deg_per_h(True, "mirrored") > 0
    assert turn_deg_per_h(False, "inverted") > 0


def test_guides_point_the_right_way() -> None:
    # Facts of the trade: Big Dipper and Cassiopeia stand on opposite sides of the pole, and
    # Cassiopeia is on Polaris's side; the Southern Cross and Achernar are opposite, too.
    for latitude, opposite in ((45.0, 1.2), (-45.0, 1.2)):
        view = pole_view(Observer(latitude, 0.0), EVENING, AxisView(look="erect"))
        one, other = (g.clock_hour for g in view.guides)
        assert abs(abs((one - other + 6) % 12 - 6) - 6) < opposite
    view = pole_view(Observer(45.0, 0.0), EVENING, AxisView(look="erect"))
    cassiopeia = next(g for g in view.guides if g.name == "Cassiopeia")
    assert abs((cassiopeia.clock_hour - view.clock_hour + 6) % 12 - 6) < 1.5
    # In an erect view the clock hour is the way to look from the pole: high means up.
    assert (cassiopeia.altitude_deg > 45) == (abs((cassiopeia.clock_hour + 6) % 12 - 6) < 3)


def test_guides_and_the_skyline() -> None:
    walled = pole_view(Observer(45.0, 0.0), EVENING, skyline=lambda az: np.full(np.shape(az), 80.0))
    assert [g.clear for g in walled.guides] == [False, False]
    assert all(g.clear is None for g in pole_view(Observer(45.0, 0.0), EVENING).guides)


def test_the_kite_around_sigma_octantis() -> None:
    view = pole_view(Observer(-44.0, 170.0), EVENING, AxisView(field_deg=12.0, limit_mag=6.0))
    assert len(view.figure) == 4
    # sigma is the corner nearest to the pole (catalogue facts), the figure is closed
    corners = {point for line in view.figure for point in line}
    assert len(corners) == 4
    nearest = min(corners, key=lambda p: np.hypot(*p))
    assert nearest == (view.now.right_arcmin, view.now.up_arcmin)
    assert {"χ Oct", "τ Oct", "υ Oct"} <= {s.name for s in view.stars}


def test_the_true_pole_on_request() -> None:
    observer = Observer(30.0, 0.0, pressure_hpa=1010.0, temperature_c=10.0)
    seen = pole_view(observer, EVENING, AxisView(look="erect"))
    true = pole_view(observer, EVENING, AxisView(look="erect"), true_pole=True)
    # Refraction at 30 degrees is 1.67' (ERFA): seen from the true pole, the star stands higher.
    assert true.now.up_arcmin - seen.now.up_arcmin == pytest.approx(1.67, abs=0.01)
    assert true.now.right_arcmin == pytest.approx(seen.now.right_arcmin, abs=0.001)


def test_only_what_the_aperture_shows() -> None:
    # Light grasp over a 7 mm pupil: a 10 mm polar scope gains 0.77 mag; never beyond 9 mag.
    ten = PolarScope(kind="scope", aperture_mm=10.0)
    assert limit_through(ten, 6.0) == pytest.approx(6.775, abs=0.001)
    assert limit_through(PolarScope(kind="scope", aperture_mm=60.0), 6.0) == 9.0
    hollow = PolarScope(kind="hollow", bore_diameter_mm=20, bore_length_mm=200)
    assert limit_through(hollow, 5.5) == 5.5
    few = pole_view(Observer(45.0, 0.0), EVENING, AxisView(limit_mag=6.8))
    assert all(s.magnitude_v <= 6.81 for s in few.stars)
    assert all(s.distance_arcmin <= 240 for s in few.stars)
    assert len(pole_view(Observer(45.0, 0.0), EVENING, AxisView(limit_mag=9.0)).stars) > 3 * len(
        few.stars
    )


def test_a_hollow_axis_and_the_bare_eye_see_erect() -> None:
    hollow = PolarScope(kind="hollow", bore_diameter_mm=20, bore_length_mm=200)
    for scope in (hollow, PolarScope()):
        assert scope.view == "inverted"  # the kit's default, which is meant for scopes
        assert axis_view(scope, 5.5).look == "erect"
    assert axis_view(hollow, 5.5).bore is not None
    plain = axis_view(PolarScope(kind="scope"), 5.5)
    assert plain.look == "inverted"
    assert len(plain.assumed) == 2


def test_data_is_plain() -> None:
    import json

    site = demo_kit("paddock").site
    observer = Observer(site.latitude_deg, site.longitude_deg, site.elevation_m)
    text = json.dumps(pole_view(observer, EVENING).as_data(), allow_nan=False)
    assert json.loads(text)["star"] == "σ Octantis"
