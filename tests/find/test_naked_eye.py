"""Where to look with the bare eye, against astropy's angles and what people know."""

from __future__ import annotations

from datetime import UTC, datetime

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time

from axletree.find.naked_eye import (
    GUIDES_WITHIN_DEG,
    HAND_DEG,
    Hand,
    LookWay,
    WhereToLook,
    hand_measure,
    way_of,
    where_to_look,
)
from axletree.find.patch import Patch, patch_around
from axletree.ground.skyline.skyline import open_horizon
from axletree.sky.catalogue.objects import find
from axletree.sky.catalogue.star_names import names_of
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

NORTH, SOUTH = (48.2, 16.4, 200.0), (-41.3, 174.8, 100.0)


def around(name: str, spot: tuple[float, float, float], at: datetime) -> Patch:
    observer, instants = Observer(*spot, pressure_hpa=0.0), Instants.from_datetime(at)
    places = object_positions([find(name)], instants, observer)
    azimuth, altitude = float(places.azimuth_deg[0, 0]), float(places.altitude_deg[0, 0])
    return patch_around(azimuth, altitude, GUIDES_WITHIN_DEG, instants, observer, 5.0)


def names(patch: Patch, look: WhereToLook) -> list[str]:
    return [names_of(int(patch.stars.number[g.star_index]))[0] for g in look.guides]


SUMMER = datetime(2026, 8, 12, 21, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("name", "spot", "at", "guide"),
    [
        ("M57", NORTH, SUMMER, "Vega"),
        ("M31", NORTH, datetime(2026, 10, 12, 21, 30, tzinfo=UTC), "Mirach"),
        ("M42", NORTH, datetime(2026, 1, 12, 21, 30, tzinfo=UTC), "Rigel"),
        ("NGC 4755", SOUTH, datetime(2026, 5, 12, 9, 30, tzinfo=UTC), "Mimosa"),
    ],
)
def test_the_guides_are_the_stars_that_people_use(
    name: str, spot: tuple[float, float, float], at: datetime, guide: str
) -> None:
    """Which star leads to the Ring, Andromeda, Orion's nebula, the Jewel Box: common practice."""
    patch = around(name, spot, at)
    look = where_to_look(patch, 5.5)
    assert len(look.guides) == 2
    assert guide in names(patch, look)


@pytest.mark.parametrize("name", ["Almach", "Mizar", "Albireo"])
def test_a_star_does_not_lead_to_itself(name: str) -> None:
    """Double stars that show to the bare eye, as they are named: common practice, no source."""
    patch = around(name, NORTH, SUMMER)
    assert name not in names(patch, look := where_to_look(patch, 5.5))
    assert len(look.guides) == 2


@pytest.mark.parametrize("spot", [NORTH, SOUTH])
def test_distance_and_way_are_astropys(spot: tuple[float, float, float]) -> None:
    at = SUMMER if spot is NORTH else datetime(2026, 8, 12, 9, 30, tzinfo=UTC)
    here = EarthLocation(lat=spot[0] * u.deg, lon=spot[1] * u.deg, height=spot[2] * u.m)
    frame = AltAz(obstime=Time(at), location=here)
    for name in ("M8", "M22", "M11", "M15"):
        patch = around(name, spot, at)
        for guide in where_to_look(patch, 5.5).guides:
            s, target = patch.stars, find(name)
            ra, dec = s.ra_deg[guide.star_index], s.dec_deg[guide.star_index]
            star = SkyCoord(ra * u.deg, dec * u.deg).transform_to(frame)
            there = SkyCoord(target.ra_deg * u.deg, target.dec_deg * u.deg).transform_to(frame)
            assert guide.distance_deg == pytest.approx(star.separation(there).deg, abs=0.02)
            angle = star.position_angle(there).deg  # from the zenith to growing azimuth: right
            assert abs((guide.clockwise_deg - angle + 180) % 360 - 180) < 0.1
            if abs(there.alt.deg - star.alt.deg) > 0.9 * guide.distance_deg:
                higher = there.alt.deg > star.alt.deg
                assert (
                    guide.way is (LookWay.ABOVE if higher else LookWay.BELOW)
                    or guide.distance_deg > 20
                )


def test_ways_are_a_rose_of_eight() -> None:
    for angle, way in (
        (0, LookWay.ABOVE),
        (44, LookWay.UPPER_RIGHT),
        (90, LookWay.RIGHT),
        (181, LookWay.BELOW),
        (270, LookWay.LEFT),
        (315, LookWay.UPPER_LEFT),
        (359, LookWay.ABOVE),
    ):
        assert way_of(angle) is way


@pytest.mark.parametrize(
    ("degrees", "hand", "count"),
    [
        (1.0, Hand.LITTLE_FINGER, 1),
        (0.3, Hand.LITTLE_FINGER, 0.5),
        (3.0, Hand.LITTLE_FINGER, 3),
        (5.2, Hand.THREE_FINGERS, 1),
        (10.0, Hand.FIST, 1),
        (7.0, Hand.THREE_FINGERS, 1.5),
        (14.6, Hand.FIST, 1.5),
        (19.0, Hand.SPAN, 1),
        (31.0, Hand.SPAN, 1.5),
    ],
)
def test_hands_at_arms_length(degrees: float, hand: Hand, count: float) -> None:
    """Little finger 1, three fingers 5, fist 10, span 20 degrees: common practice, no source."""
    assert hand_measure(degrees) == (hand, count)


def test_a_hand_is_never_far_off() -> None:
    for degrees in np.linspace(0.8, 40.0, 400):
        hand, count = hand_measure(float(degrees))
        assert abs(count * HAND_DEG[hand] - degrees) <= max(0.31, 0.26 * degrees)
        assert count <= 4


def test_stars_behind_a_wall_and_under_a_bright_sky_are_left_out() -> None:
    patch = around("M57", NORTH, SUMMER)
    assert where_to_look(patch, 5.5, open_horizon(89.0)).guides == ()
    bright = where_to_look(patch, 2.5)
    assert names(patch, bright)[0] == "Vega"
    assert all(g.magnitude_v <= 0.5 for g in bright.guides)


def test_overhead_is_said() -> None:
    patch = around("M57", NORTH, SUMMER)
    look = where_to_look(patch, 5.5)
    assert look.overhead == (patch.altitude_deg > 75)
