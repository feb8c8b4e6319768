"""The point that stands still while the hour axis swings, against scipy's rotations and astropy.

Physics from the shafts: nothing of `mount.rig` is used to make the expectation.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime

import numpy as np
import pytest
from astropy import units as u
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from axletree.evening.night.first_light import pole_star_serves
from axletree.find.practice.along_axis import swing_room, tube_on_pole, view_along_axis
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit
from axletree.mount.rig.kinematics import align
from axletree.mount.rig.still_point import still_point_arcmin
from axletree.pole.aim.target import pole_target
from axletree.pole.enough.chance import radius_of_chance
from axletree.pole.enough.methods import AligningMethod, Obstacle, methods
from axletree.pole.enough.still_point import (
    SEEN_PART_OF_FIELD,
    ThroughTube,
    placing_sigma_arcmin,
    point_sigma_arcmin,
    sky_turn_part,
    still_point_view,
)
from axletree.sky.observer import observer_of
from axletree.stages.set_up.enough import EnoughRequest, enough
from axletree.stages.set_up.pole import NoView, pole
from axletree.stages.set_up.pole_request import PoleRequest

iers.conf.auto_download = False
iers.conf.auto_max_age = None

AT = datetime(2026, 12, 5, 21, 0, tzinfo=UTC)
ARCMIN = math.pi / 180.0 / 60.0
EYE = """
kit_version = 1
name = "without a polar scope"
[site]
latitude_deg = {latitude}
longitude_deg = 19.0
time_zone = "UTC"
[mount]
size = "small"
[mount.polar_scope]
kind = "none"
[tube]
kind = "{kind}"
aperture_mm = 80
focal_length_mm = {focal}
{finder}
[[eyepiece]]
focal_length_mm = 25
"""
FINDER = """[tube.finder]
from_front_mm = 300
offset_mm = 70
aperture_mm = 30
magnification = 6
field_deg = 7
look = "{look}"
"""


def kit_of(
    latitude: float = 45.0, kind: str = "refractor", focal: float = 400.0, look: str = "upside down"
) -> Kit:
    finder = FINDER.format(look=look) if look else ""
    text = EYE.format(latitude=latitude, kind=kind, focal=focal, finder=finder)
    kit, problems = check_text(text)
    assert kit is not None, problems
    return kit


def shafts(latitude: float, hour_h: float, swing_deg: float, cone: float, lean: float) -> Rotation:
    """The tube's attitude by three turns of scipy: lean, declination, hour, then the latitude.

    Before any turn the axis is +z, the tube's end of the declination axis +x; the tube looks up.
    """
    tube = Rotation.from_euler("y", cone / 60.0, degrees=True)  # towards its end of the axis
    swing = Rotation.from_rotvec([swing_deg * math.pi / 180.0, 0.0, 0.0])
    # The cone rides on the tube, so it comes first; the growing swing goes towards z cross x.
    swung = swing.inv() * tube
    leaned = Rotation.from_euler("y", -lean / 60.0, degrees=True) * swung
    sense = 1.0 if latitude >= 0 else -1.0
    return Rotation.from_euler("z", -sense * hour_h * 15.0, degrees=True) * leaned


@settings(max_examples=60, deadline=None)
@given(
    latitude=st.sampled_from([-60.0, -33.0, 12.0, 51.0, 70.0]),
    hours=st.tuples(st.floats(-6, 6), st.floats(-6, 6)),
    swing=st.floats(-3.0, 3.0),
    cone=st.floats(-90, 90),
    lean=st.floats(-60, 60),
)
def test_the_axis_keeps_its_place_in_the_field_whatever_the_hour(
    latitude: float, hours: tuple[float, float], swing: float, cone: float, lean: float
) -> None:
    axes = align(latitude, high_arcmin=40.0, east_arcmin=-70.0, cone_arcmin=cone, lean_arcmin=lean)
    across, along = still_point_arcmin(axes, np.array(hours), swing)
    assert np.ptp(across) < 1e-6
    assert np.ptp(along) < 1e-6
    # Independent: where +z, the hour axis, lies in the frame that three rotations have turned.
    seen = shafts(latitude, hours[0], swing, cone, lean).inv().apply([0.0, 0.0, 1.0])
    assert across[0] == pytest.approx(seen[0] / seen[2] / ARCMIN, abs=1e-6)
    assert along[0] == pytest.approx(seen[1] / seen[2] / ARCMIN, abs=1e-6)


def test_declination_alone_leaves_cone_less_lean_across() -> None:
    axes = align(48.0, cone_arcmin=25.0, lean_arcmin=10.0)
    across, along = still_point_arcmin(axes, 1.0, np.linspace(-2.0, 2.0, 401))
    nearest = int(np.argmin(np.hypot(across, along)))
    assert np.linspace(-2.0, 2.0, 401)[nearest] == pytest.approx(0.0, abs=1e-9)
    assert along[nearest] == pytest.approx(0.0, abs=1e-9)
    # A tube square to its shafts but for these two cannot look nearer to the axis than that.
    assert abs(across[nearest]) == pytest.approx(15.0, abs=1e-3)


def test_error_of_the_point_by_throwing_places() -> None:
    """Two places of a star, each to so much: the centre of the turn scatters as the formula says.

    Source: scipy's rotation of the plane and normal scatter; no formula of ours.
    """
    rng = np.random.default_rng(7)
    for swing in (60.0, 90.0, 150.0):
        turn = Rotation.from_euler("z", swing, degrees=True).as_matrix()[:2, :2]
        star = np.array([40.0, 10.0])
        seen = SEEN_PART_OF_FIELD * 5.0 * 60.0
        a = star + rng.normal(0.0, seen, (20000, 2))
        b = turn @ star + rng.normal(0.0, seen, (20000, 2))
        # b - c = T (a - c), solved for the centre c.
        c = np.linalg.solve(np.eye(2) - turn, (b - a @ turn.T).T).T
        assert c.std(axis=0) == pytest.approx(point_sigma_arcmin(5.0, swing), rel=0.02)


@pytest.mark.parametrize("latitude", [48.0, -35.0])
def test_what_the_sky_turns_meanwhile(latitude: float) -> None:
    """Both turns as one, by scipy: its axis lies off the mount's by the part that is told."""
    off = 80.0  # arcminutes from the pole
    pole_ = np.array([0.0, 0.0, 1.0])
    axis = Rotation.from_euler("x", off / 60.0, degrees=True).apply(pole_)
    sense = 1.0 if latitude >= 0 else -1.0
    for minutes in (0.5, 1.0, 2.0):
        sky = Rotation.from_rotvec(-sense * minutes * 0.25 * math.pi / 180.0 * pole_)
        swung = Rotation.from_rotvec(-sense * 0.5 * math.pi * axis)
        both = (swung.inv() * sky).as_rotvec()
        both = both / np.linalg.norm(both)
        away = math.acos(min(1.0, abs(float(both @ axis)))) / ARCMIN
        assert away == pytest.approx(sky_turn_part(minutes) * off, rel=0.02)


@pytest.mark.parametrize(
    ("latitude", "look"),
    [(48.0, "upright"), (48.0, "upside down"), (-35.0, "mirrored"), (64.0, "upright"),
     (-20.0, "upside down")],
)  # fmt: skip
def test_place_of_the_pole_star_against_astropy(latitude: float, look: str) -> None:
    """Its place about the pole as seen through air, turned as the finder shows it.

    Hipparcos, new reduction, F. van Leeuwen 2007 (from memory): Polaris 37.95456067, +89.26410897,
    proper motion 44.48, -11.85 mas a year; sigma Octantis 317.19908, -88.95650, 26.3, 5.0.
    """
    kit = kit_of(latitude, focal=900.0, look=look)
    found = pole(kit, PoleRequest(AT))
    assert found.axis_view.kind == "tube"
    assert found.no_view is None
    observer = observer_of(kit.site)
    place = EarthLocation(lat=latitude * u.deg, lon=19.0 * u.deg, height=kit.site.elevation_m * u.m)
    north = latitude > 0
    ra, dec, pmra, pmdec = (
        (37.95456067, 89.26410897, 44.48, -11.85) if north else (317.19908, -88.95650, 26.3, 5.0)
    )
    star = SkyCoord(
        ra * u.deg, dec * u.deg, pm_ra_cosdec=pmra * u.mas / u.yr, pm_dec=pmdec * u.mas / u.yr,
        obstime=Time("J2000"), distance=100 * u.pc,
    ).apply_space_motion(new_obstime=Time(AT))  # fmt: skip
    frame = AltAz(
        obstime=Time(AT), location=place, pressure=observer.air_pressure_hpa * u.hPa,
        temperature=observer.air_temperature_c * u.deg_C, obswl=0.55 * u.um,
        relative_humidity=0.5,
    )  # fmt: skip
    seen = star.transform_to(frame)
    middle = found.target
    off = middle.azimuth_deg
    dx = (seen.az.deg - off + 180.0) % 360.0 - 180.0
    right = dx * 60.0 * math.cos(seen.alt.rad)
    up = (seen.alt.deg - middle.altitude_deg) * 60.0
    if look == "upside down":
        right, up = -right, -up
    if look == "mirrored":
        right = -right
    assert found.view.now.right_arcmin == pytest.approx(right, abs=0.5)
    assert found.view.now.up_arcmin == pytest.approx(up, abs=0.5)


def test_a_straight_finder_keeps_the_sky_upright_and_the_axis_at_its_distance() -> None:
    """The head stays upright while the tube rolls: scipy's turns, the eye's own up and right."""
    latitude, cone, swing = 50.0, 30.0, 0.8
    places = []
    for hour in np.linspace(6.0, 0.0, 7):
        turned = shafts(latitude, float(hour), swing, cone, 0.0)
        tube = turned.apply([0.0, 0.0, 1.0])
        # In this frame the pole is +z; the meridian's upper part lies towards +x (hour 0).
        up = np.array([1.0, 0.0, 0.0]) - tube[0] * tube
        up = up / np.linalg.norm(up)
        right = np.cross(tube, up)
        axis = np.array([0.0, 0.0, 1.0])
        places.append((axis @ right / (axis @ tube), axis @ up / (axis @ tube)))
    x, y = np.array(places).T / ARCMIN
    distance = np.hypot(x, y)
    across, along = still_point_arcmin(align(latitude, cone_arcmin=cone), 0.0, swing)
    assert distance == pytest.approx(math.hypot(float(across), float(along)), abs=1e-3)
    # It goes round the middle by as much as the axis swings.
    went = np.degrees(np.unwrap(np.arctan2(y, x)))
    assert abs(went[-1] - went[0]) == pytest.approx(90.0, abs=0.1)
    finder = pole(kit_of(latitude, focal=900.0), PoleRequest(AT)).through_tube
    assert finder.view.through is ThroughTube.FINDER
    assert not finder.sky_rolls


def test_a_diagonal_takes_the_eye_round() -> None:
    """A mirror diagonal rolls with the tube, and so does the head behind it."""
    kit = kit_of(look="", focal=400.0)
    assert kit.tube.diagonal != "none"
    tube = pole(kit, PoleRequest(AT)).through_tube
    assert tube.view.through is ThroughTube.EYEPIECE
    assert tube.axis_view.look == "mirrored"


def test_the_better_field_is_taken_and_the_star_must_fit() -> None:
    # 25 mm of 50 degrees in 400 mm of focal length: 3.1 degrees, room for star and cone.
    assert still_point_view(kit_of(), 38.0).through is ThroughTube.EYEPIECE
    # In 900 mm: 1.4 degrees, room for Polaris alone: the finder is the one to take.
    assert still_point_view(kit_of(focal=900.0), 38.0).through is ThroughTube.FINDER
    alone = still_point_view(kit_of(focal=900.0, look=""), 38.0)
    assert alone.through is ThroughTube.EYEPIECE
    assert alone.star_fits
    assert not alone.cone_fits
    assert not still_point_view(kit_of(focal=900.0, look=""), 69.0).star_fits
    wide = still_point_view(kit_of(), 38.0)
    assert wide.sigma_arcmin == pytest.approx(
        math.hypot(point_sigma_arcmin(wide.field_deg), placing_sigma_arcmin(wide.field_deg, 38.0))
    )


def test_it_stands_among_the_other_ways() -> None:
    kit = kit_of()
    found = {m.method: m for m in enough(kit, EnoughRequest(AT)).methods}
    way = found[AligningMethod.STILL_POINT]
    assert way.possible
    rough, drift = found[AligningMethod.ROUGH], found[AligningMethod.DRIFT_TEST]
    assert rough.minutes < way.minutes < drift.minutes
    assert way.within_90_arcmin < rough.within_90_arcmin
    answer = pole(kit, PoleRequest(AT)).through_tube
    assert answer.within_90_arcmin == pytest.approx(way.within_90_arcmin)
    assert answer.sigma_arcmin * radius_of_chance(0.9, 1.0, 1.0) == pytest.approx(
        answer.within_90_arcmin
    )
    target = pole_target(observer_of(kit.site))
    for free, seen, reason in (
        (False, True, Obstacle.SWING_BLOCKED),
        (True, False, Obstacle.POLE_HIDDEN),
    ):
        ways = methods(kit, target, 38.0, 0.4, 30.0, pole_in_view=seen, swings_freely=free)
        (blocked,) = (m for m in ways if m.method is AligningMethod.STILL_POINT)
        assert blocked.obstacle is reason
        assert not blocked.enough


def test_a_tube_that_shows_too_little_leaves_the_way_without_a_view() -> None:
    kit = kit_of(-35.0, focal=900.0, look="")
    found = pole(kit, PoleRequest(AT))
    assert found.no_view is NoView.NO_POLAR_SCOPE
    assert found.axis_view.kind == "none"
    with pytest.raises(AxletreeError, match="doesn't fit into this tube's widest field"):
        pole(kit, PoleRequest(AT, through_tube=True))
    own = demo_kit("paddock")
    assert pole(own, PoleRequest(AT)).axis_view.kind == "scope"
    assert pole(own, PoleRequest(AT, through_tube=True)).axis_view.kind == "tube"
    assert pole(kit_of(), PoleRequest(AT, through_tube=False)).no_view is NoView.NO_POLAR_SCOPE


def test_the_evening_waits_for_the_star_where_the_tube_shows_it() -> None:
    """One rule: who sets the axis by the still point needs the pole star out."""
    for kit in (kit_of(), kit_of(look=""), kit_of(-35.0, focal=900.0, look="")):
        observer = observer_of(kit.site)
        horizon = Horizon(np.array([0.0, 360.0]), np.zeros(2))
        serves = pole_star_serves(kit, observer, horizon)
        assert serves == (pole(kit, PoleRequest(AT)).axis_view.kind == "tube")


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_the_rig_is_asked_whether_it_swings(name: str) -> None:
    kit = demo_kit(name)
    target = pole_target(observer_of(kit.site))
    rig, axes = tube_on_pole(kit, target)
    assert axes.altitude_deg == pytest.approx(target.altitude_deg, abs=1e-9)
    room = swing_room(rig, axes)
    assert 0.0 < min(room.from_west_mm, room.from_east_mm) < 2000.0
    view = still_point_view(kit, 38.0 if kit.site.north else 69.0)
    assert view_along_axis(kit, view, rig, axes, 5.5).field_deg == view.field_deg
