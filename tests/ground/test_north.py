"""Ways to the pole: their directions, their errors, and the hard cases."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from axletree.ground.north.landmark import Landmark
from axletree.ground.north.method import ClosedReason, NorthMethod, NorthMethodKind, RankReason
from axletree.ground.north.pointers import (
    ErrorCause,
    ObservingErrors,
    Pointer,
    shadow_parts,
    sight_parts,
    total_deg,
)
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, demo_kit
from axletree.kit.parts.mount import PolarScope
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions, sun_altitude_deg
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants
from axletree.stages.set_up.north import NorthAnswer, NorthCaution, NorthRequest, north
from axletree.tell.north.data import north_data
from axletree.tell.north.drawing import north_view
from axletree.tell.north.method_text import turn_words
from axletree.tell.north.text import drawn_method_words, north_text

SCOPE = PolarScope(kind="scope", field_deg=8.0)
EVORA = Observer(38.5712, -7.9093, 292.0)
TEKAPO = Observer(-44.021, 170.462, 720.0)
FLAT = ((0.0, 3.0), (90.0, 3.0), (180.0, 3.0), (270.0, 3.0))
Points = tuple[tuple[float, float], ...]


def kit_at(
    observer: Observer,
    points: Points = FLAT,
    scope: PolarScope = SCOPE,
    eye_limit_mag: float | None = None,
    open_altitude_deg: float = 0.0,
) -> Kit:
    """The demo kit at a spot, in UTC, under a skyline of these points."""
    kit = demo_kit()
    skyline = kit.site.skyline.model_copy(
        update={"points": points, "bearings": "true", "open_altitude_deg": open_altitude_deg}
    )
    site = kit.site.model_copy(
        update={
            "name": "here",
            "latitude_deg": observer.latitude_deg,
            "longitude_deg": observer.longitude_deg,
            "elevation_m": observer.elevation_m,
            "pressure_hpa": None,
            "temperature_c": None,
            "time_zone": "UTC",
            "skyline": skyline,
            "naked_eye_limit_mag": eye_limit_mag,
        }
    )
    mount = kit.mount.model_copy(update={"polar_scope": scope})
    return kit.model_copy(update={"site": site, "mount": mount})


def north_at(
    observer: Observer, iso: str, low: float = 3.0, landmark: Landmark | None = None
) -> NorthAnswer:
    when = datetime.fromisoformat(iso).replace(tzinfo=UTC)
    points = tuple((azimuth, low) for azimuth, _ in FLAT)
    return north(kit_at(observer, points), NorthRequest(when, landmark))


def of_kind(answer: NorthAnswer, kind: str) -> list[NorthMethod]:
    return [m for m in answer.methods if m.kind is NorthMethodKind(kind)]


def everything_is_said(answer: NorthAnswer) -> str:
    """Text, data and drawing all come out; lines keep to 80 columns."""
    text = north_text(answer)
    assert max(len(row) for row in text.splitlines()) <= 80
    data = north_data(answer)
    assert {"magnetic_declination_deg", "magnetic_declination_sigma_deg", "zone",
            "compass_bearing_deg", "methods"} <= data.keys()  # fmt: skip
    keys = [method["key"] for method in data["methods"] if method["works_now"]]
    assert len(set(keys)) == len(keys)
    assert "</svg>" in north_view(answer)
    return text


def test_by_day_in_the_north() -> None:
    """Before noon the shadow falls to the west of north, and north is to its right."""
    found = north_at(EVORA, "2026-12-05T11:00")
    shadow = of_kind(found, "sun shadow")[0]
    assert shadow.now
    assert 270.0 < shadow.line_deg < 360.0
    assert shadow.turn_to_pole_deg == pytest.approx(360.0 - shadow.line_deg, abs=1e-9)
    assert shadow.sigma_deg < 0.3
    assert found.methods[0] is shadow
    text = everything_is_said(found)
    assert "never look at it" in text
    assert "more than 2 m from tripod" in text


def test_the_shadow_is_opposite_to_the_sun() -> None:
    found = north_at(EVORA, "2026-12-05T11:00")
    sun = body_positions("sun", Instants.from_datetime(found.at), EVORA).azimuth_deg[0, 0]
    shadow = of_kind(found, "sun shadow")[0]
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
    found = north_at(observer, iso)
    noon = of_kind(found, "sun on the meridian")[0]
    sun = body_positions("sun", Instants.from_datetime(noon.at), observer)
    assert abs(sun.hour_angle_h[0, 0]) * 3600 < 0.1
    assert (sun.azimuth_deg[0, 0] - sun_at + 180) % 360 - 180 == pytest.approx(0, abs=0.002)
    assert noon.azimuth_deg == sun_at
    assert noon.line_deg == (sun_at + 180) % 360
    assert noon.turn_to_pole_deg % 180 == pytest.approx(0.0)


def test_midnight_sun_is_a_pointer_too() -> None:
    """70 north in June: no darkness, the Sun circles and crosses the meridian twice."""
    found = north_at(Observer(70.0, 25.0), "2026-06-20T22:00")
    crossings = of_kind(found, "sun on the meridian")
    assert sorted(w.line_deg for w in crossings) == [0.0, 180.0]
    assert not of_kind(found, "star")
    assert not of_kind(found, "pole star")
    shut = {c.kind: c.reason for c in found.closed}
    assert shut[NorthMethodKind.STAR] is ClosedReason.SUN_STAYS_HIGH
    assert shut[NorthMethodKind.POLE_STAR] is ClosedReason.SUN_STAYS_HIGH
    assert "stays too high" in everything_is_said(found)


def test_sun_near_the_zenith_is_not_trusted() -> None:
    found = north_at(Observer(0.0, 30.0), "2026-03-20T09:00")
    noon = of_kind(found, "sun on the meridian")[0]
    assert not noon.usable
    assert noon.rank.reason is RankReason.NEAR_ZENITH
    assert noon.rank.figure == pytest.approx(90.0 - (noon.altitude_deg or 0.0))
    assert found.methods[-1] is noon


def test_latitude_zero() -> None:
    """The pole stands on the horizon: the star is hidden, other ways remain."""
    found = north_at(Observer(0.0, 30.0), "2026-03-20T20:00")
    assert found.pole_azimuth_deg == 0.0
    assert not of_kind(found, "pole star")
    assert any(c.reason is ClosedReason.HIDDEN for c in found.closed)
    assert any(w.now and w.usable for w in found.methods)
    everything_is_said(found)


@pytest.mark.parametrize("latitude", [89.9, -89.9])
def test_a_tenth_of_a_degree_from_the_pole(latitude: float) -> None:
    found = north_at(Observer(latitude, 0.0), "2026-12-20T22:00")
    assert any(w.usable for w in found.methods)
    for item in of_kind(found, "pole star"):
        assert item.sigma_deg > 3.0  # half a degree from the zenith nothing points anywhere
    everything_is_said(found)


def test_at_the_pole_itself_it_is_refused() -> None:
    with pytest.raises(AxletreeError, match="every direction is the same"):
        north_at(Observer(90.0, 0.0), "2026-12-20T22:00")


def test_a_magnetic_blackout_zone() -> None:
    """86 north, 100 west: level field under 2000 nT (MIL-PRF-89500B)."""
    found = north_at(Observer(86.0, -100.0), "2026-06-20T22:00")
    assert found.field.zone == "blackout"
    compass = of_kind(found, "compass")[0]
    assert not compass.usable
    text = everything_is_said(found)
    assert "don't use a compass" in text
    assert "no compass can be trusted" in " ".join(text.split())
    assert found.methods[0].usable


def test_a_caution_zone() -> None:
    found = north_at(Observer(80.0, -96.0), "2026-03-20T22:00")
    assert found.field.zone == "caution"
    assert of_kind(found, "compass")[0].usable
    assert "read with care" in everything_is_said(found)


def test_a_date_outside_the_magnetic_model() -> None:
    found = north_at(EVORA, "2033-06-20T22:00")
    assert not found.field.valid
    assert "outside the magnetic model" in " ".join(everything_is_said(found).split())
    assert any(w.kind is NorthMethodKind.STAR for w in found.methods)


def test_a_date_outside_the_ephemeris_leaves_the_compass() -> None:
    found = north_at(EVORA, "2061-06-20T22:00")
    assert [w.kind for w in found.methods] == [NorthMethodKind.COMPASS]
    assert found.sun_altitude_deg is None
    assert found.sky_unknown is not None
    assert found.sky_unknown.asked_from == "2061-06-20"
    assert found.sky_unknown.known_to == "2050-03-01"
    text = " ".join(everything_is_said(found).split())
    assert "Sun, Moon and stars are left out" in text
    assert "never look at it" in text


def test_by_night_in_the_south() -> None:
    """Sigma Octantis with its own azimuth, in the polar scope; stars to the south and around."""
    found = north_at(TEKAPO, "2026-12-05T10:30")
    assert found.pole_azimuth_deg == 180.0
    star = of_kind(found, "pole star")[0]
    seen = object_positions([find("HIP 104382")], Instants.from_datetime(star.at), TEKAPO)
    assert star.azimuth_deg == pytest.approx(seen.azimuth_deg[0, 0], abs=1e-6)
    assert star.turn_to_pole_deg == pytest.approx(180.0 - star.azimuth_deg, abs=1e-9)
    assert 0.01 < star.sigma_deg < 0.1
    assert found.near_enough_deg == 4.0
    everything_is_said(found)


def test_sigma_octantis_needs_a_polar_scope_or_a_dark_sky() -> None:
    when = datetime(2026, 12, 5, 10, 30, tzinfo=UTC)
    bare = north(kit_at(TEKAPO, scope=PolarScope()), NorthRequest(when))
    assert not of_kind(bare, "pole star")
    assert any(c.reason is ClosedReason.TOO_FAINT for c in bare.closed)
    assert "too faint without a polar scope" in " ".join(everything_is_said(bare).split())
    later = when + timedelta(hours=1)
    dark = north(kit_at(TEKAPO, scope=PolarScope(), eye_limit_mag=6.3), NorthRequest(later))
    assert of_kind(dark, "pole star")[0].sigma_deg > 0.2
    assert bare.near_enough_deg is None


def test_pole_star_comes_with_the_sun_eight_degrees_down() -> None:
    """Common practice, no source: Polaris by eye when the Sun is at about -8 degrees."""
    found = north_at(EVORA, "2026-12-05T16:00")
    star = of_kind(found, "pole star")[0]
    assert not star.now
    sun = float(sun_altitude_deg(Instants.from_datetime(star.at), EVORA)[0])
    assert sun == pytest.approx(-8.0, abs=0.01)
    assert any(c.object_name == "Polaris" and c.opens is not None for c in found.closed)


def test_stars_pass_the_meridian_at_the_moment_told() -> None:
    found = north_at(EVORA, "2026-12-05T19:00")
    crossings = of_kind(found, "star on the meridian")
    assert crossings
    for item in crossings:
        star = find(item.object_name or "")
        seen = object_positions([star], Instants.from_datetime(item.at), EVORA)
        off = (float(seen.azimuth_deg[0, 0]) - item.azimuth_deg + 180) % 360 - 180
        assert abs(off) < 0.002
        assert float(seen.altitude_deg[0, 0]) == pytest.approx(item.altitude_deg, abs=0.01)
        assert float(sun_altitude_deg(Instants.from_datetime(item.at), EVORA)[0]) < -6.0


def test_nothing_behind_the_skyline_is_offered() -> None:
    """A skyline 40 degrees high to the south hides the winter Sun and every southern star."""
    wall = kit_at(
        EVORA, ((60, 0), (90, 40), (180, 40), (270, 40), (300, 0), (0, 0)), open_altitude_deg=0.0
    )
    for iso in ("2026-12-05T12:00", "2026-12-05T21:00"):
        when = datetime.fromisoformat(iso).replace(tzinfo=UTC)
        found = north(wall, NorthRequest(when))
        for item in found.methods:
            if item.altitude_deg is not None:
                assert item.altitude_deg > float(found.horizon.altitude_at(item.azimuth_deg))
    assert any(c.kind is NorthMethodKind.SUN_ON_MERIDIAN for c in found.closed)


def test_gaps_of_the_skyline_are_said() -> None:
    gap = kit_at(EVORA, ((300.0, 5.0), (60.0, 5.0)), open_altitude_deg=8.0)
    found = north(gap, NorthRequest(datetime(2026, 12, 5, 20, tzinfo=UTC)))
    text = " ".join(north_text(found).split())
    assert "nothing is known of the skyline from 60° to 300°: 8° is taken" in text
    assert north_data(found)["skyline_unknown"] == [
        {"from_deg": 60.0, "to_deg": 300.0, "taken_deg": 8.0}
    ]


def test_cautions_come_as_codes_and_in_words() -> None:
    """By day the Sun, for a compass steel; in the dark of night no method needs the Sun's."""
    day = north_at(EVORA, "2026-12-05T11:00")
    assert day.cautions == (NorthCaution.SUN, NorthCaution.STEEL)
    # A compass alone on a date without an ephemeris: nobody knows where the Sun is.
    assert NorthCaution.SUN in north_at(EVORA, "2061-06-20T22:00").cautions


def test_the_moons_shadow_on_the_meridian_is_called_a_shadow() -> None:
    """A day after full Moon (2026-12-24) it crosses high in the dark: its shadow lies north."""
    found = north_at(EVORA, "2026-12-24T20:00")
    crossing = next(m for m in of_kind(found, "moon on the meridian") if m.usable)
    assert crossing.shadow
    assert crossing.line_deg == 0.0
    drawn = drawn_method_words(crossing, found)[1]
    assert drawn == "shadow along 0.0°: that is true north"


def test_an_error_below_nothing_is_refused() -> None:
    with pytest.raises(AxletreeError, match="lean_deg -1: an error is 0 or more"):
        ObservingErrors(lean_deg=-1.0)


def test_ranking_and_unusable_last() -> None:
    found = north_at(EVORA, "2026-12-05T12:00", landmark=Landmark(38.5713, -7.9093))
    order = [(not w.usable, not w.now, w.sigma_deg) for w in found.methods]
    assert order == sorted(order)
    mark = of_kind(found, "landmark")[0]
    assert not mark.usable  # 11 m away with 5 m at each end
    assert "Not to be trusted" in everything_is_said(found)


def test_landmark_far_away_beats_the_compass() -> None:
    found = north_at(EVORA, "2026-12-05T12:00", landmark=Landmark(38.65, -7.9))
    assert of_kind(found, "landmark")[0].sigma_deg < of_kind(found, "compass")[0].sigma_deg


def test_errors_of_a_shadow_by_geometry() -> None:
    """A rod leaning sideways by t: its tip is L sin t aside, its shadow L cos t / tan h long."""
    seen = Pointer(datetime(2026, 1, 1, tzinfo=UTC), 100.0, 50.0, 0.5)
    errors = ObservingErrors(lean_deg=0.4, clock_s=6.0, shadow_deg=0.1)
    parts = dict(shadow_parts(seen, errors))
    lean, h = np.radians(0.4), np.radians(50.0)
    assert parts[ErrorCause.LEANING_ROD] == pytest.approx(
        float(np.degrees(np.arctan(np.tan(lean) * np.tan(h)))), rel=1e-3
    )
    assert parts[ErrorCause.CLOCK] == pytest.approx(0.05)
    assert total_deg(shadow_parts(seen, errors)) == pytest.approx(
        np.sqrt(parts[ErrorCause.LEANING_ROD] ** 2 + 0.05**2 + 0.1**2)
    )
    sight = dict(sight_parts(seen, errors, 0.25))
    assert sight[ErrorCause.SIGHTING] == pytest.approx(0.25 / np.cos(h))


def test_rate_says_what_a_minute_does() -> None:
    """The Sun's azimuth a minute later, by position."""
    found = north_at(EVORA, "2026-12-05T11:00")
    shadow = of_kind(found, "sun shadow")[0]
    later = body_positions(
        "sun", Instants.from_datetime(found.at + timedelta(minutes=1)), EVORA
    ).azimuth_deg[0, 0]
    assert later - shadow.azimuth_deg == pytest.approx(shadow.rate_deg_per_min, abs=1e-3)


def test_shadow_until_the_sun_goes() -> None:
    found = north_at(EVORA, "2026-12-05T11:00", low=10.0)
    until = of_kind(found, "sun shadow")[0].until
    assert until is not None
    sun = body_positions("sun", Instants.from_datetime(until), EVORA)
    assert float(sun.altitude_deg[0, 0]) == pytest.approx(10.0, abs=0.02)


def test_new_moon_is_not_offered() -> None:
    """S13: new Moon 2026-12-09 00:51:51 UTC, computed with skyfield."""
    found = north_at(EVORA, "2026-12-09T11:00")
    assert not [w for w in of_kind(found, "moon") if w.now]


def test_words_for_turns() -> None:
    assert turn_words(12.34, "north", "it") == "true north is 12.3° to the right of it"
    assert turn_words(-12.34, "south", "it") == "true south is 12.3° to the left of it"
    assert turn_words(0.01, "north", "it") == "true north is along it"
    assert turn_words(180.0, "north", "it") == "true north is straight opposite it"
