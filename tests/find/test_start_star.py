"""The star to begin at, and the star on the same parallel, over skies of our own choosing."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from simulated_hands import SKY_DEG_PER_S, Hands, Told, rigs, share_passing, share_within
from test_steps import PRACTISED

from axletree.axis.model import unmeasured
from axletree.axis.shown import circles_shown
from axletree.find.parallel import Parallel, parallels
from axletree.find.person import BRIGHT_STAR_MAG
from axletree.find.start_star import (
    StartRefusal,
    StartStar,
    star_named,
    start_by_circles,
    start_here,
    start_stars,
)
from axletree.find.steps import Steps, steps
from axletree.find.turning.knobs import Mounted
from axletree.find.turning.recognised import recognised_mag
from axletree.find.turning.seeking import Seeking, SkyLight
from axletree.find.turning.shafts import SkyPlace
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.mount.room.table import RoomTable, room_table
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

KIT = demo_kit()
HERE = observer_of(KIT.site)
AT = datetime(2026, 8, 12, 21, 30, tzinfo=UTC)
DARK = SkyLight(20.5, 0.25)


@pytest.fixture(scope="module")
def table() -> RoomTable:
    return room_table(KIT, observer=HERE)


def seeking(
    table: RoomTable, name: str, side: int = -1, at: datetime = AT, light: SkyLight = DARK
) -> Seeking:
    when = Instants.from_datetime(at)
    seen = object_positions([find(name)], when, HERE)
    m = Mounted(KIT, HERE, unmeasured(15.0, 15.0), side, False, PRACTISED, 1.73, 7.0)
    thing = SkyPlace.of(seen.hour_angle_h[0], seen.declination_deg[0])
    return Seeking(m, table, thing, when, light)


@pytest.mark.parametrize(
    ("name", "star"), [("M57", "Vega"), ("M4", "Antares"), ("M27", "Altair"), ("M51", "Alkaid")]
)
def test_the_star_that_everybody_begins_at(table: RoomTable, name: str, star: str) -> None:
    """Common practice, no source; M57 from Vega is the way of many a first evening."""
    side = 1 if name in ("M4", "M51") else -1
    assert start_stars(seeking(table, name, side), 1)[0].names[0] == star


def test_what_is_offered_is_up_bright_and_near_on_the_sky_of_other_code(table: RoomTable) -> None:
    """Altitudes and separations against astropy, without air: half a degree for that."""
    asked = seeking(table, "M13")
    offered = start_stars(asked, 5)
    assert len(offered) == 5
    here = EarthLocation(lat=HERE.latitude_deg * u.deg, lon=HERE.longitude_deg * u.deg)
    frame = AltAz(obstime=Time(AT), location=here)
    thing = SkyCoord(find("M13").ra_deg * u.deg, find("M13").dec_deg * u.deg)
    for star in offered:
        known = find(star.names[0])
        place = SkyCoord(known.ra_deg * u.deg, known.dec_deg * u.deg)
        assert star.altitude_deg == pytest.approx(place.transform_to(frame).alt.deg, abs=0.5)
        assert star.altitude_deg >= KIT.habits.lowest_altitude_deg
        assert star.separation_deg == pytest.approx(place.separation(thing).deg, abs=0.05)
        assert star.magnitude_v <= BRIGHT_STAR_MAG
        named = star_named(asked, star.names[0])
        assert isinstance(named, StartStar)
        assert named.hip == star.hip
        assert named.miss_deg == pytest.approx(star.miss_deg)
    misses = [star.miss_deg for star in offered]
    assert misses == sorted(misses)
    assert start_stars(asked, 2) == offered[:2]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Sirius", StartRefusal.BELOW_HORIZON),
        ("Spica", StartRefusal.TOO_LOW),
        ("M31", StartRefusal.NO_STAR),
        ("Saturn", StartRefusal.NO_STAR),
        ("61 Cyg", StartRefusal.TOO_FAINT),
        ("Mizar", StartRefusal.OTHER_SIDE),
        ("Polaris", StartRefusal.AT_THE_POLE),
    ],
)
def test_a_star_that_serves_nobody_is_refused(
    table: RoomTable, text: str, why: StartRefusal
) -> None:
    assert star_named(seeking(table, "M11", light=SkyLight(19.0, 0.25)), text) is why


def test_an_unknown_name_is_an_error(table: RoomTable) -> None:
    with pytest.raises(AxletreeError):
        star_named(seeking(table, "M11"), "Vegga Star")


def test_nothing_near_the_sun_and_no_way_past_it(table: RoomTable) -> None:
    """By day, under a sky that is dark all the same: Regulus stands 9 degrees from the Sun on
    12 August (its longitude 150.2, the Sun's 139.9; from memory); Castor to Spica lead past it."""
    noon = datetime(2026, 8, 12, 14, 0, tzinfo=UTC)
    free = seeking(table, "Spica", 1, noon)
    assert star_named(free, "Regulus") is StartRefusal.NEAR_SUN
    assert "Regulus" not in {star.names[0] for star in start_stars(free, 20)}
    assert star_named(free, "Castor") is StartRefusal.WAY_NEAR_SUN


def test_a_brighter_sky_leaves_fewer_stars(table: RoomTable) -> None:
    dark, town = (seeking(table, "M13", light=SkyLight(sky, 0.3)) for sky in (21.5, 14.0))
    assert recognised_mag(dark.sky.sky_mag_arcsec2, dark.mounted.skill) == BRIGHT_STAR_MAG
    assert 1.5 < recognised_mag(town.sky.sky_mag_arcsec2, town.mounted.skill) < BRIGHT_STAR_MAG
    assert len(start_stars(town, 30)) < len(start_stars(dark, 30))
    assert start_stars(replace(dark, sky=SkyLight(6.0, 0.3))) == ()


def test_parts_that_meet_on_the_way_close_it(table: RoomTable) -> None:
    wide = replace(table, margin_m=5.0)
    refusal = star_named(seeking(wide, "M57"), "Vega")
    assert refusal in (StartRefusal.TOUCHES, StartRefusal.NO_ROOM)


def test_what_is_in_view_leads_on_as_a_named_star_does(table: RoomTable) -> None:
    asked = seeking(table, "M57")
    here, named = start_here(asked, find("Vega")), star_named(asked, "Vega")
    assert isinstance(here, StartStar)
    assert isinstance(named, StartStar)
    assert here.in_view
    assert not named.in_view
    assert here.names[0] == named.names[0] == "Vega"
    assert here.magnitude_v == pytest.approx(0.03, abs=0.1)  # as every handbook has it
    wide = replace(table, margin_m=5.0)
    assert start_here(seeking(wide, "M57"), find("Vega")) in (
        StartRefusal.TOUCHES, StartRefusal.NO_ROOM,
    )  # fmt: skip


def test_theta_aquilae_leads_to_m2(table: RoomTable) -> None:
    """Of the handbooks' places (J2000): 20h11m18s -0.82 and 21h33m27s -0.82: 82.2 minutes of right
    ascension are 81.9 on the clock (365.2422 / 366.2422)."""
    found = parallels(seeking(table, "M2"))
    assert len(found) == 1
    one = found[0]
    assert isinstance(one, Parallel)
    assert one.star.names[0] == "θ Aquilae"
    assert abs(one.off_deg) < 0.1
    assert one.wait_minutes == pytest.approx(81.9, abs=0.3)
    # By the knob: the same way of 20.5 degrees, less what the sky brings, 2.5 degrees a turn.
    assert one.hour_turns == pytest.approx(-(20.54 - one.seconds * 0.00418) / 2.5, abs=0.05)
    assert one.by_waiting is not None
    assert one.by_waiting > one.by_turns.eyepiece > 0.85


def test_a_parallel_star_is_on_the_parallel_and_a_motor_waits_for_nothing(
    table: RoomTable,
) -> None:
    names = [f"M{k}" for k in range(2, 31)]
    found = [one for name in names for one in parallels(seeking(table, name), 3)]
    assert found
    assert all(abs(one.off_deg) <= 0.4 for one in found)
    best = [parallels(seeking(table, name), 3) for name in names]
    assert all(np.all(np.diff([one.best for one in some]) <= 0.0) for some in best)
    asked = seeking(table, "M2")
    driven = parallels(replace(asked, mounted=replace(asked.mounted, driven=True)))
    assert driven[0].wait_minutes is driven[0].by_waiting is None


def test_counted_turns_lead_to_nine_of_ten_objects(table: RoomTable) -> None:
    """Trial figure of a practised person: a count good to 0.05 turn, 0.9 and more in the middle."""
    chances = []
    for name in ("M2", "M5", "M8", "M10", "M11", "M13", "M15", "M27", "M57", "M92", "M101"):
        high = seeking(table, name)
        side = 1 if float(high.thing.hour_angle_h[0]) > 0.0 else -1
        asked = seeking(table, name, side)
        star = start_stars(asked, 1)[0]
        found = steps(asked.mounted, star.place, star.magnitude_v, asked.thing)
        assert isinstance(found, Steps)
        assert found.best is found.by_turns
        chances.append(found.by_turns.eyepiece)
    assert np.mean(chances) > 0.9
    assert min(chances) > 0.8


def test_the_parallels_chances_are_a_simulated_persons_shares(table: RoomTable) -> None:
    """From theta Aquilae to M2, through air of this height; 20,000 draws, 0.003."""
    asked = seeking(table, "M2")
    m = replace(asked.mounted, eyepiece_field_deg=0.8)
    one = parallels(replace(asked, mounted=m))[0]
    star = float(one.star.place.hour_angle_h[0]), float(one.star.place.declination_deg[0])
    thing = float(asked.thing.hour_angle_h[0]), float(asked.thing.declination_deg[0])
    air = HERE.air_pressure_hpa / 1013.25 * 288.15 / (273.15 + HERE.air_temperature_c)
    hands = Hands(
        PRACTISED.count_turns, PRACTISED.miscount, PRACTISED.centre_field * 0.4,
        PRACTISED.wrong_bright_star * 1.6 ** (one.star.magnitude_v - 2.0), 30.0 / 3600.0,
    )  # fmt: skip
    rng = np.random.default_rng(11)
    mounts = rigs(rng, 20_000, HERE.latitude_deg, 15.0, air)
    assert one.hour_turns is not None
    told = Told(one.hour_turns, 0.0, one.seconds, max(10.0, 0.25 * one.seconds))
    share = share_within(rng, mounts, -1, star, thing, told, hands, 0.4)
    assert one.by_turns.eyepiece == pytest.approx(share, abs=0.01)
    assert one.wait_minutes is not None
    begun = star[0] - one.wait_minutes * 60.0 * SKY_DEG_PER_S / 15.0, star[1]
    passing = share_passing(rng, mounts, -1, begun, thing, hands, 0.4)
    assert one.by_waiting == pytest.approx(passing, abs=0.01)


def test_in_bright_twilight_the_circles_lead_to_a_star_in_the_finder(table: RoomTable) -> None:
    """No star shows to the bare eye with the Sun 2 degrees down, and the brightest show in any
    finder (common practice, no source). The chance against drawn errors of all six of the mount's
    figures and of both readings."""
    asked = seeking(table, "M57", light=SkyLight(7.5, 0.25))
    assert start_stars(asked, 1) == ()
    assert start_by_circles(asked, 0.0) is None, "nothing shows in the finder either"
    star = start_by_circles(asked, 3.0)
    assert star is not None
    assert star.names[0] == "Vega"
    assert star.by_circles is not None
    mounted, place, count = asked.mounted, star.place, 3000
    random = np.random.default_rng(5)
    drawn = random.multivariate_normal(mounted.model.values, mounted.model.covariance, count)
    nothing = np.zeros((6, 6))
    circles = KIT.mount.circles
    read_h = random.normal(0.0, circles.read_division * circles.hour_division_min / 60.0, count)
    read_deg = random.normal(0.0, circles.read_division * circles.declination_division_deg, count)
    inside = 0
    for values, more_h, more_deg in zip(drawn, read_h, read_deg, strict=True):
        shown = circles_shown(
            mounted.model.with_values(values, nothing), place.hour_angle_h, place.declination_deg,
            mounted.side, HERE,
        )  # fmt: skip
        off_h = shown.hour_circle_h - star.by_circles.hour_reading_h + more_h
        off_deg = shown.declination_circle_deg - star.by_circles.declination_deg + more_deg
        across = 15.0 * off_h * np.cos(np.radians(place.declination_deg))
        inside += int(np.hypot(across, off_deg)[0] < 3.5)
    assert star.by_circles.chance == pytest.approx(inside / count, abs=0.015)  # 3 of its errors
    found = steps(mounted, place, None, asked.thing, found_star=star.by_circles.chance)
    sure = steps(mounted, place, None, asked.thing)
    assert isinstance(found, Steps)
    assert isinstance(sure, Steps)
    part = found.by_turns.eyepiece / sure.by_turns.eyepiece
    assert part == pytest.approx(star.by_circles.chance)
