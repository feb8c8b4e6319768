"""Views, against light followed through the glass to places of astropy."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import astropy.units as u
import light
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from machines import kit_with

from axletree.find.instruments import (
    Instrument,
    InstrumentKind,
    Look,
    instruments_of,
    limit_mag,
)
from axletree.find.patch import Patch, patch_around
from axletree.find.person import skill_of
from axletree.find.seen_through import Seeing, views_of_object
from axletree.find.shown_object import shown_object
from axletree.find.view import FieldView, PosedRig, SkyTurn, field_view, turned_in
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, axis_angles_of_vector, frames
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

NORTH, SOUTH = (48.2, 16.4, 200.0), (-41.3, 174.8, 100.0)
AT = {  # late in the evening of either
    NORTH: datetime(2026, 8, 12, 21, 30, tzinfo=UTC),
    SOUTH: datetime(2026, 8, 12, 9, 30, tzinfo=UTC),
}
TUBES = ("newtonian", "none", "mirror", "prism", "erecting")
FIELD_PART = 0.002  # a star's place, in parts of the field
SPOTS = [("M57", NORTH), ("M31", NORTH), ("NGC 6723", SOUTH), ("M7", SOUTH)]


@dataclass(frozen=True)
class Scene:
    """A patch of sky of one evening, without air."""

    observer: Observer
    instants: Instants
    patch: Patch
    spot: tuple[float, float, float]


def scene(name: str, spot: tuple[float, float, float], radius_deg: float) -> Scene:
    observer, instants = Observer(*spot, pressure_hpa=0.0), Instants.from_datetime(AT[spot])
    places = object_positions([find(name)], instants, observer)
    azimuth, altitude = float(places.azimuth_deg[0, 0]), float(places.altitude_deg[0, 0])
    assert altitude > 10
    patch = patch_around(azimuth, altitude, radius_deg, instants, observer)
    return Scene(observer, instants, patch, spot)


def by_astropy(s: Scene, view: FieldView, later_s: float = 0.0) -> np.ndarray:
    """Unit vectors (n, 3) of the view's stars by astropy; those that move fast stay behind."""
    stars = s.patch.stars.take(view.star_index)
    here = EarthLocation(lat=s.spot[0] * u.deg, lon=s.spot[1] * u.deg, height=s.spot[2] * u.m)
    frame = AltAz(obstime=Time(AT[s.spot] + timedelta(seconds=later_s)), location=here)
    there = SkyCoord(stars.ra_deg * u.deg, stars.dec_deg * u.deg).transform_to(frame)
    return light.unit(there.az.deg, there.alt.deg)


def still(s: Scene, view: FieldView) -> np.ndarray:
    stars = s.patch.stars.take(view.star_index)
    return np.hypot(stars.pm_ra_cosdec_mas_yr, stars.pm_dec_mas_yr) < 60.0


def tube_kit(tube: str, latitude: float) -> Kit:
    if tube == "newtonian":
        return kit_with("courtyard", ("latitude_deg = 38.5712", f"latitude_deg = {latitude}"))
    bend = 45 if tube == "erecting" else 90
    return kit_with(
        "paddock",
        ("latitude_deg = -44.021", f"latitude_deg = {latitude}"),
        ('diagonal = "mirror"', f'diagonal = "{tube}"\ndiagonal_angle_deg = {bend}'),
    )


def posed_at(kit: Kit, s: Scene, side: str, ring: float) -> PosedRig:
    axes = align(s.spot[0])
    T = light.unit(s.patch.azimuth_deg, s.patch.altitude_deg)
    h, w = axis_angles_of_vector(axes, side, T)
    return PosedRig(build_rig(kit, ring_turn_deg=ring), kit.tube, axes, float(h), float(w))


def squareness_deg(turned: SkyTurn) -> float:
    gap = (turned.drift_deg - turned.north_deg) % 180.0
    return abs(gap - 90.0)


@pytest.mark.parametrize("tube", TUBES)
@pytest.mark.parametrize(("name", "spot"), [SPOTS[0], SPOTS[2]])
def test_eyepieces_show_what_light_shows(
    tube: str, name: str, spot: tuple[float, float, float]
) -> None:
    s = scene(name, spot, 1.6)
    kit = tube_kit(tube, spot[0])
    eyepiece = next(i for i in instruments_of(kit) if i.kind is InstrumentKind.EYEPIECE)
    seen = 0
    for side in ("east", "west"):
        for ring in (0.0, 70.0, 200.0):
            posed = posed_at(kit, s, side, ring)
            R = frames(posed.axes, posed.tube_end_h, posed.swing_deg)[1]
            T, barrel = R[:, 2], R @ posed.rig.barrel
            if np.hypot(barrel[0], barrel[1]) < 0.12:
                continue  # looking straight down, the head may turn as it likes
            turned = turned_in(eyepiece, s.patch, spot[0], posed)
            view = field_view(s.patch, eyepiece, turned, 10.0)
            assert len(view.x) > 12
            stars = by_astropy(s, view)
            at = (
                light.newtonian(stars, T, barrel)
                if tube == "newtonian"
                else light.lens(stars, T, barrel, roof=tube == "erecting")
            ) / np.tan(np.radians(view.radius_deg))
            off = np.hypot(view.x - at[:, 0], view.y - at[:, 1])[still(s, view)]
            assert off.max() < 2 * FIELD_PART  # x and y count from the middle to the edge
            assert squareness_deg(turned) < 0.05
            seen += 1
    assert seen >= 4


FINDERS = (Look.UPRIGHT, Look.UPSIDE_DOWN, Look.MIRRORED)


@pytest.mark.parametrize("look", FINDERS)
@pytest.mark.parametrize(("name", "spot"), SPOTS)
def test_finders_show_what_light_shows(
    look: Look, name: str, spot: tuple[float, float, float]
) -> None:
    """Straight through upside down, by a diagonal turned up mirrored, by a roof prism upright."""
    s = scene(name, spot, 4.0)
    kit = tube_kit("newtonian", spot[0])
    finder = replace(instruments_of(kit)[1], look=look)
    for side in ("east", "west"):
        posed = posed_at(kit, s, side, 40.0)
        T = light.unit(s.patch.azimuth_deg, s.patch.altitude_deg)
        up = np.array([0.0, 0.0, 1.0]) - T[2] * T
        up = up / np.linalg.norm(up)
        turned = turned_in(finder, s.patch, spot[0], posed)
        view = field_view(s.patch, finder, turned, 8.5)
        assert len(view.x) > 20
        stars = by_astropy(s, view)
        barrel = -T if look is Look.UPSIDE_DOWN else up
        at = light.lens(stars, T, barrel, roof=look is Look.UPRIGHT)
        at = at / np.tan(np.radians(view.radius_deg))
        off = np.hypot(view.x - at[:, 0], view.y - at[:, 1])[still(s, view)]
        assert off.max() < 2 * FIELD_PART
        assert squareness_deg(turned) < 0.05
        upside_down = look is Look.UPSIDE_DOWN
        assert np.cos(np.radians(turned.zenith_deg)) == pytest.approx(-1.0 if upside_down else 1.0)


@pytest.mark.parametrize(("name", "spot"), SPOTS)
def test_the_bare_eye_sees_the_zenith_up(name: str, spot: tuple[float, float, float]) -> None:
    s = scene(name, spot, 21.0)
    eye = instruments_of(tube_kit("newtonian", spot[0]))[0]
    turned = turned_in(eye, s.patch, spot[0])
    view = field_view(s.patch, eye, turned, 4.5)
    assert len(view.x) > 20
    T = light.unit(s.patch.azimuth_deg, s.patch.altitude_deg)
    at = light.bare(by_astropy(s, view), T) / np.tan(np.radians(view.radius_deg))
    off = np.hypot(view.x - at[:, 0], view.y - at[:, 1])[still(s, view)]
    assert off.max() < 2 * FIELD_PART
    assert squareness_deg(turned) < 0.05


@pytest.mark.parametrize(("name", "spot"), SPOTS)
@pytest.mark.parametrize("look", FINDERS)
def test_stars_drift_where_the_arrow_points(
    name: str, spot: tuple[float, float, float], look: Look
) -> None:
    """A minute later by astropy, with the tube where it was: within 0.1 degrees of direction."""
    s = scene(name, spot, 4.0)
    kit = tube_kit("newtonian", spot[0])
    finder = replace(instruments_of(kit)[1], look=look)
    posed = posed_at(kit, s, "east", 0.0)
    turned = turned_in(finder, s.patch, spot[0], posed)
    view = field_view(s.patch, finder, turned, 8.5)
    T = light.unit(s.patch.azimuth_deg, s.patch.altitude_deg)
    up = np.array([0.0, 0.0, 1.0]) - T[2] * T
    barrel = -T if look is Look.UPSIDE_DOWN else up / np.linalg.norm(up)
    before, after = (
        light.lens(by_astropy(s, view, t), T, barrel, roof=look is Look.UPRIGHT)
        for t in (-30.0, 30.0)
    )
    middle = np.argmin(np.hypot(view.x, view.y))
    way = (after - before)[middle]
    # What stands beside the middle drifts on a slightly bent way: its own distance times tan d.
    bend = np.degrees(np.hypot(view.x, view.y)[middle] * np.radians(view.radius_deg)) * 1.2
    moved = np.degrees(np.arctan2(way[0], way[1]))
    assert abs((moved - turned.drift_deg + 180) % 360 - 180) < 0.1 + bend


def test_only_what_shows_is_shown() -> None:
    s = scene("M57", NORTH, 4.0)
    kit = tube_kit("newtonian", NORTH[0])
    finder = instruments_of(kit)[1]
    turned = turned_in(finder, s.patch, NORTH[0], posed_at(kit, s, "east", 0.0))
    view = field_view(s.patch, finder, turned, 7.0)
    assert np.all(view.magnitude_v <= 7.0)
    assert np.all(np.hypot(view.x, view.y) <= 1.0)
    assert np.all(np.diff(view.magnitude_v) >= 0)
    inside = np.hypot(s.patch.east_deg, s.patch.north_deg) < np.degrees(np.tan(np.radians(3.5)))
    assert len(view.x) == int((inside & (s.patch.stars.magnitude_v <= 7.0)).sum()) > 5
    assert view.times_as_many == 1.0
    assert field_view(s.patch, finder, turned, 12.0).times_as_many == pytest.approx(7.0, rel=0.1)


def test_a_view_needs_a_pose_that_looks_there() -> None:
    s = scene("M57", NORTH, 4.0)
    other = scene("M31", NORTH, 4.0)
    kit = tube_kit("newtonian", NORTH[0])
    finder: Instrument = instruments_of(kit)[1]
    with pytest.raises(AxletreeError, match="none was given"):
        turned_in(finder, s.patch, NORTH[0])
    with pytest.raises(AxletreeError, match="beside the middle"):
        turned_in(finder, s.patch, NORTH[0], posed_at(kit, other, "east", 0.0))


def test_the_outline_is_turned_and_mirrored_with_the_stars() -> None:
    """M31 by astropy: ends of its long axis at the catalogue's angle, through the same glass."""
    s = scene("M31", NORTH, 4.0)
    target = find("M31")
    assert target.position_angle_deg is not None
    assert target.size_major_arcmin is not None
    shown = shown_object(target, s.patch, s.instants, s.observer)
    kit = tube_kit("newtonian", NORTH[0])
    half = target.size_major_arcmin / 120.0
    at = SkyCoord(target.ra_deg * u.deg, target.dec_deg * u.deg)
    end = at.directional_offset_by(target.position_angle_deg * u.deg, half * u.deg)
    here = EarthLocation(lat=NORTH[0] * u.deg, lon=NORTH[1] * u.deg, height=NORTH[2] * u.m)
    there = end.transform_to(AltAz(obstime=Time(AT[NORTH]), location=here))
    T = light.unit(s.patch.azimuth_deg, s.patch.altitude_deg)
    up = np.array([0.0, 0.0, 1.0]) - T[2] * T
    for look in FINDERS:
        finder = replace(instruments_of(kit)[1], look=look)
        turned = turned_in(finder, s.patch, NORTH[0], posed_at(kit, s, "west", 0.0))
        view = field_view(s.patch, finder, turned, 8.0, shown)
        barrel = -T if look is Look.UPSIDE_DOWN else up / np.linalg.norm(up)
        star = light.unit(there.az.deg, there.alt.deg)[np.newaxis]
        x, y = light.lens(star, T, barrel, look is Look.UPRIGHT)[0] / np.tan(np.radians(3.5))
        assert view.outline is not None
        assert view.outline.major_deg is not None
        lies = np.degrees(np.arctan2(x, y)) % 180
        assert abs((view.outline.major_deg - lies + 90) % 180 - 90) < 0.3
        assert view.outline.semi_major == pytest.approx(np.hypot(x, y), rel=0.005)
        assert np.hypot(*view.place) < 0.001  # type: ignore[misc]


def test_all_views_of_an_object_are_the_single_ones() -> None:
    """The same as put together by hand, each from a patch of its own."""
    s = scene("M57", NORTH, 1.0)
    kit = tube_kit("newtonian", NORTH[0])
    posed = posed_at(kit, s, "east", 0.0)
    instruments = instruments_of(kit)
    dark = Seeing(20.5, 0.3, skill_of("practised"))
    views = views_of_object(instruments, find("M57"), posed, s.instants, s.observer, dark)
    assert [v.instrument for v in views] == list(instruments)
    middle = s.patch.azimuth_deg, s.patch.altitude_deg
    for view, instrument in zip(views, instruments, strict=True):
        limit = limit_mag(instrument, 20.5, 0.3, dark.skill)
        patch = patch_around(*middle, instrument.true_field_deg / 2 + 0.1, s.instants, s.observer)
        turned = turned_in(instrument, patch, NORTH[0], posed)
        alone = field_view(patch, instrument, turned, limit)
        assert len(view.x) == len(alone.x) > 1
        assert np.abs(view.x - alone.x).max() < 1e-6
        assert np.abs(view.y - alone.y).max() < 1e-6
        assert view.limit_mag == limit
        assert view.times_as_many == pytest.approx(alone.times_as_many)
        assert view.place == pytest.approx((0.0, 0.0), abs=1e-3)
    # Overhead in summer, 150 mm at 125 times: thirteenth magnitude, the list to the tenth.
    assert 8 < views[-1].times_as_many < 25
