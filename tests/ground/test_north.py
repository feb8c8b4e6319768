"""Ways to the pole: their directions, their errors, and the hard cases."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from axletree.ground.north.landmark import direction_to
from axletree.ground.north.method import Way
from axletree.ground.north.methods import North, find_north
from axletree.ground.north.pointers import Hands, Pointer, shadow_parts, sight_parts, total_deg
from axletree.ground.skyline.skyline import horizon_from_points, open_horizon
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.mount import PolarScope
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions, sun_altitude_deg
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.tell.north.drawing import north_view
from axletree.tell.north.text import north_data, north_text, turn_words

SCOPE = PolarScope(kind="scope", field_deg=8.0)
EVORA = Observer(38.5712, -7.9093, 292.0)
TEKAPO = Observer(-44.021, 170.462, 720.0)


def north_at(observer: Observer, iso: str, low: float = 3.0, **more: object) -> North:
    when = datetime.fromisoformat(iso).replace(tzinfo=UTC)
    return find_north(observer, when, open_horizon(low), scope=SCOPE, **more)  # type: ignore[arg-type]


def of_kind(north: North, kind: str) -> list[Way]:
    return [w for w in north.ways if w.kind == kind]


def everything_is_said(north: North) -> str:
    """Text, data and drawing all come out; lines keep to 80 columns."""
    text = north_text(north, "here", ZoneInfo("UTC"))
    assert max(len(row) for row in text.splitlines()) <= 80
    data = north_data(north)
    assert {"magnetic_declination_deg", "magnetic_declination_sigma_deg", "zone",
            "compass_bearing_deg", "methods"} <= data.keys()  # fmt: skip
    assert "</svg>" in north_view(north, "here", ZoneInfo("UTC"))
    return text


def test_by_day_in_the_north() -> None:
    """Before noon the shadow falls to the west of north, and north is to its right."""
    north = north_at(EVORA, "2026-12-05T11:00")
    shadow = of_kind(north, "sun shadow")[0]
    assert shadow.now
    assert 270.0 < shadow.line_deg < 360.0
    assert shadow.turn_to_pole_deg == pytest.approx(360.0 - shadow.line_deg, abs=1e-9)
    assert shadow.sigma_deg < 0.3
    assert north.ways[0] is shadow
    text = everything_is_said(north)
    assert "never look at it" in text
    assert "more than 2 m from tripod" in text


def test_the_shadow_is_opposite_to_the_sun() -> None:
    north = north_at(EVORA, "2026-12-05T11:00")
    sun = body_positions("sun", Instants.from_datetime(north.at), EVORA).azimuth_deg[0, 0]
    shadow = of_kind(north, "sun shadow")[0]
    assert shadow.azimuth_deg == pytest.approx(sun, abs=1e-6)
    assert (shadow.line_deg - sun) % 360 == pytest.approx(180.0, abs=1e-6)


@pytest.mark.parametrize(
    ("observer", "iso", "sun_at"),
    [(EVORA, "2026-12-05T09:00", 180.0), (TEKAPO, "2026-12-04T22:00", 0.0),
     (Observer(10.0, 0.0), "2026-06-21T09:00", 0.0),
     (Observer(10.0, 0.0), "2026-12-21T09:00", 180.0)],
)  # fmt: skip
def test_at_local_noon_the_shadow_lies_along_the_meridian(
    observer: Observer, iso: str, sun_at: float
) -> None:
    """Both hemispheres, and the tropics with the Sun north or south of the zenith."""
    north = north_at(observer, iso)
    noon = of_kind(north, "sun on the meridian")[0]
    sun = body_positions("sun", Instants.from_datetime(noon.at), observer)
    assert abs(sun.hour_angle_h[0, 0]) * 3600 < 0.1
    assert (sun.azimuth_deg[0, 0] - sun_at + 180) % 360 - 180 == pytest.approx(0, abs=0.002)
    assert noon.azimuth_deg == sun_at
    assert noon.line_deg == (sun_at + 180) % 360
    assert noon.turn_to_pole_deg % 180 == pytest.approx(0.0)


def test_midnight_sun_is_a_pointer_too() -> None:
    """70 north in June: no darkness, the Sun circles and crosses the meridian twice."""
    north = north_at(Observer(70.0, 25.0), "2026-06-20T22:00")
    crossings = of_kind(north, "sun on the meridian")
    assert sorted(w.line_deg for w in crossings) == [0.0, 180.0]
    assert not of_kind(north, "star")
    assert not of_kind(north, "pole star")
    assert {c.name for c in north.closed} >= {"bright stars", "Polaris"}
    assert "stays too high" in everything_is_said(north)


def test_sun_near_the_zenith_is_not_trusted() -> None:
    north = north_at(Observer(0.0, 30.0), "2026-03-20T09:00")
    noon = of_kind(north, "sun on the meridian")[0]
    assert not noon.usable
    assert "zenith" in noon.reason
    assert north.ways[-1] is noon


def test_latitude_zero() -> None:
    """The pole stands on the horizon: the star is hidden, other ways remain."""
    north = north_at(Observer(0.0, 30.0), "2026-03-20T20:00")
    assert north.pole_azimuth_deg == 0.0
    assert not of_kind(north, "pole star")
    assert any("hidden: it stands" in c.reason for c in north.closed)
    assert any(w.now and w.usable for w in north.ways)
    everything_is_said(north)


@pytest.mark.parametrize("latitude", [89.9, -89.9])
def test_a_tenth_of_a_degree_from_the_pole(latitude: float) -> None:
    north = north_at(Observer(latitude, 0.0), "2026-12-20T22:00")
    assert any(w.usable for w in north.ways)
    for item in of_kind(north, "pole star"):
        assert item.sigma_deg > 3.0  # half a degree from the zenith nothing points anywhere
    everything_is_said(north)


def test_at_the_pole_itself_it_is_refused() -> None:
    with pytest.raises(AxletreeError, match="every direction is the same"):
        north_at(Observer(90.0, 0.0), "2026-12-20T22:00")


def test_a_magnetic_blackout_zone() -> None:
    """86 north, 100 west: level field under 2000 nT (MIL-PRF-89500B)."""
    north = north_at(Observer(86.0, -100.0), "2026-06-20T22:00")
    assert north.field.zone == "blackout"
    compass = of_kind(north, "compass")[0]
    assert not compass.usable
    text = everything_is_said(north)
    assert "don't use a compass" in text
    assert "no compass can be trusted" in " ".join(text.split())
    assert north.ways[0].usable


def test_a_caution_zone() -> None:
    north = north_at(Observer(80.0, -96.0), "2026-03-20T22:00")
    assert north.field.zone == "caution"
    assert of_kind(north, "compass")[0].usable
    assert "read with care" in everything_is_said(north)


def test_a_date_outside_the_magnetic_model() -> None:
    north = north_at(EVORA, "2033-06-20T22:00")
    assert not north.field.valid
    assert "outside the magnetic model" in " ".join(everything_is_said(north).split())
    assert any(w.kind == "star" for w in north.ways)


def test_a_date_outside_the_ephemeris_leaves_the_compass() -> None:
    north = north_at(EVORA, "2061-06-20T22:00")
    assert [w.kind for w in north.ways] == ["compass"]
    assert north.sun_altitude_deg is None
    text = " ".join(everything_is_said(north).split())
    assert "Sun, Moon and stars are left out" in text
    assert "never look at it" in text


def test_by_night_in_the_south() -> None:
    """Sigma Octantis with its own azimuth, in the polar scope; stars to the south and around."""
    north = north_at(TEKAPO, "2026-12-05T10:30")
    assert north.pole_azimuth_deg == 180.0
    star = of_kind(north, "pole star")[0]
    seen = object_positions([find("HIP 104382")], Instants.from_datetime(star.at), TEKAPO)
    assert star.azimuth_deg == pytest.approx(seen.azimuth_deg[0, 0], abs=1e-6)
    assert star.turn_to_pole_deg == pytest.approx(180.0 - star.azimuth_deg, abs=1e-9)
    assert 0.01 < star.sigma_deg < 0.1
    assert north.needed_deg == 4.0
    everything_is_said(north)


def test_sigma_octantis_needs_a_polar_scope_or_a_dark_sky() -> None:
    when = datetime(2026, 12, 5, 10, 30, tzinfo=UTC)
    bare = find_north(TEKAPO, when, open_horizon(3.0), scope=PolarScope())
    assert not of_kind(bare, "pole star")
    assert any("too faint without a polar scope" in c.reason for c in bare.closed)
    later = when + timedelta(hours=1)
    dark = find_north(TEKAPO, later, open_horizon(3.0), scope=PolarScope(), eye_limit_mag=6.3)
    assert of_kind(dark, "pole star")[0].sigma_deg > 0.2
    assert bare.needed_deg is None


def test_pole_star_comes_with_the_sun_eight_degrees_down() -> None:
    """Common practice, no source: Polaris by eye when the Sun is at about -8 degrees."""
    north = north_at(EVORA, "2026-12-05T16:00")
    star = of_kind(north, "pole star")[0]
    assert not star.now
    sun = float(sun_altitude_deg(Instants.from_datetime(star.at), EVORA)[0])
    assert sun == pytest.approx(-8.0, abs=0.01)
    assert any(c.name == "Polaris" and c.opens is not None for c in north.closed)


def test_stars_pass_the_meridian_at_the_moment_told() -> None:
    north = north_at(EVORA, "2026-12-05T19:00")
    crossings = of_kind(north, "star on the meridian")
    assert crossings
    for item in crossings:
        star = find(item.name.removesuffix(" on the meridian"))
        seen = object_positions([star], Instants.from_datetime(item.at), EVORA)
        off = (float(seen.azimuth_deg[0, 0]) - item.azimuth_deg + 180) % 360 - 180
        assert abs(off) < 0.002
        assert float(seen.altitude_deg[0, 0]) == pytest.approx(item.altitude_deg, abs=0.01)
        assert float(sun_altitude_deg(Instants.from_datetime(item.at), EVORA)[0]) < -6.0


def test_nothing_behind_the_skyline_is_offered() -> None:
    """A skyline 40 degrees high to the south hides the winter Sun and every southern star."""
    wall = horizon_from_points([60, 90, 180, 270, 300, 0], [0, 40, 40, 40, 0, 0])
    for iso in ("2026-12-05T12:00", "2026-12-05T21:00"):
        when = datetime.fromisoformat(iso).replace(tzinfo=UTC)
        north = find_north(EVORA, when, wall, scope=SCOPE)
        for item in north.ways:
            if item.altitude_deg is not None:
                assert item.altitude_deg > float(wall.altitude_at(item.azimuth_deg))
    assert any("the Sun" in c.name for c in north.closed)


def test_gaps_of_the_skyline_are_said() -> None:
    gap = horizon_from_points([300, 60], [5, 5], 8.0)
    when = datetime(2026, 12, 5, 20, tzinfo=UTC)
    text = north_text(find_north(EVORA, when, gap), "here", ZoneInfo("UTC"))
    assert "nothing is known of the skyline from 60° to 300°: 8° is taken" in " ".join(text.split())


def test_ranking_and_unusable_last() -> None:
    north = north_at(
        EVORA, "2026-12-05T12:00", landmark=direction_to(38.5712, -7.9093, 38.5713, -7.9093)
    )
    order = [(not w.usable, not w.now, w.sigma_deg) for w in north.ways]
    assert order == sorted(order)
    mark = of_kind(north, "landmark")[0]
    assert not mark.usable  # 11 m away with 5 m at each end
    assert "Not to be trusted" in everything_is_said(north)


def test_landmark_far_away_beats_the_compass() -> None:
    north = north_at(
        EVORA, "2026-12-05T12:00", landmark=direction_to(38.5712, -7.9093, 38.65, -7.9)
    )
    assert of_kind(north, "landmark")[0].sigma_deg < of_kind(north, "compass")[0].sigma_deg


def test_errors_of_a_shadow_by_geometry() -> None:
    """A rod leaning sideways by t: its tip is L sin t aside, its shadow L cos t / tan h long."""
    seen = Pointer(datetime(2026, 1, 1, tzinfo=UTC), 100.0, 50.0, 0.5)
    hands = Hands(lean_deg=0.4, clock_s=6.0, shadow_deg=0.1)
    parts = dict(shadow_parts(seen, hands))
    lean, h = np.radians(0.4), np.radians(50.0)
    assert parts["leaning rod"] == pytest.approx(
        float(np.degrees(np.arctan(np.tan(lean) * np.tan(h)))), rel=1e-3
    )
    assert parts["clock"] == pytest.approx(0.05)
    assert total_deg(shadow_parts(seen, hands)) == pytest.approx(
        np.sqrt(parts["leaning rod"] ** 2 + 0.05**2 + 0.1**2)
    )
    sight = dict(sight_parts(seen, hands, 0.25))
    assert sight["sighting"] == pytest.approx(0.25 / np.cos(h))


def test_rate_says_what_a_minute_does() -> None:
    """The Sun's azimuth a minute later, by position."""
    north = north_at(EVORA, "2026-12-05T11:00")
    shadow = of_kind(north, "sun shadow")[0]
    later = body_positions(
        "sun", Instants.from_datetime(north.at + timedelta(minutes=1)), EVORA
    ).azimuth_deg[0, 0]
    assert later - shadow.azimuth_deg == pytest.approx(shadow.rate_deg_per_min, abs=1e-3)


def test_shadow_until_the_sun_goes() -> None:
    north = north_at(EVORA, "2026-12-05T11:00", low=10.0)
    until = of_kind(north, "sun shadow")[0].until
    assert until is not None
    sun = body_positions("sun", Instants.from_datetime(until), EVORA)
    assert float(sun.altitude_deg[0, 0]) == pytest.approx(10.0, abs=0.02)


def test_new_moon_is_not_offered() -> None:
    """S13: new Moon 2026-12-09 00:51:51 UTC, computed with skyfield."""
    north = north_at(EVORA, "2026-12-09T11:00")
    assert not [w for w in of_kind(north, "moon") if w.now]


def test_words_for_turns() -> None:
    assert turn_words(12.34, "north", "it") == "true north is 12.3° to the right of it"
    assert turn_words(-12.34, "south", "it") == "true south is 12.3° to the left of it"
    assert turn_words(0.01, "north", "it") == "true north is along it"
    assert turn_words(180.0, "north", "it") == "true north is straight opposite it"
