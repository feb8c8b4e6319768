"""Ends of rooms of what moves among the stars, against the rooms a few seconds before and after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from axletree.ground.skyline.skyline import horizon_from_points
from axletree.kit.kit import demo_kit
from axletree.mount.rig.kinematics import align
from axletree.mount.room.along import Track, edges_along
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable, room, room_table

STEP_S = 300.0
HILLS = ((0, 5), (60, 18), (140, 5), (200, 25), (250, 5), (300, 20))


def table_at(latitude_deg: float, hills: Sequence[tuple[float, float]]) -> RoomTable:
    """Where the sky alone ends rooms: a skyline and the kit's lowest altitude."""
    skyline = horizon_from_points([a for a, _ in hills], [h for _, h in hills])
    table = room_table(demo_kit("courtyard"), skyline=skyline, of_few=True)
    return replace(table, margin_m=-9.0, axes=align(latitude_deg))


def edges_are_right(table: RoomTable, hour_h: float, declination_deg: float,
                    deg_per_h: float) -> int:  # fmt: skip
    """How many edges a track has on side east, all of them where they belong: each step over whose
    end the side closes has one, open three seconds before and closed three seconds after."""
    seconds = np.arange(0.0, 4 * 3600.0, STEP_S)
    hours = hour_h + seconds * HOURS_PER_SECOND * 0.966
    track = Track.of(seconds, hours, declination_deg + deg_per_h * seconds / 3600.0)
    here = room(table, track.hour_angle_h, track.declination_deg)
    goes_on = here.usable[:, :-1].copy()
    found = edges_along(table, track, here, goes_on)
    closing = np.flatnonzero(here.usable[0, :-1] & ~here.usable[0, 1:])
    for i in closing.tolist():
        assert not goes_on[0, i]
        at = found[0, i].seconds
        assert seconds[i] <= at <= seconds[i + 1]
        sooner, later = track.place_at(at - 3.0), track.place_at(at + 3.0)
        places = [np.array(both) for both in zip(sooner, later, strict=True)]
        before, after = room(table, *places).usable[0]
        assert before or at - 3.0 < seconds[i]
        assert not after
    return len(closing)


@pytest.mark.parametrize("latitude_deg", [38.0, 69.0])
def test_rooms_end_where_the_place_by_then_is_closed(latitude_deg: float) -> None:
    """Declinations that rise and fall by up to 1.5 degrees an hour, behind hills."""
    table = table_at(latitude_deg, HILLS)
    rng = np.random.default_rng(5)
    edges = sum(
        edges_are_right(
            table, float(rng.uniform(-2.0, 4.0)), float(rng.uniform(-32.0, 10.0)),
            float(rng.uniform(-1.5, 1.5)),
        )
        for _ in range(12)
    )  # fmt: skip
    assert edges > 3


def test_a_room_ends_where_something_sinks_by_its_declination_alone() -> None:
    """It culminates some hundredths of a degree above the lowest altitude of 15 degrees at 69 north
    (21 degrees and its declination): on its circle of that moment it would go on for longer."""
    table = table_at(69.0, ((0, 0), (180, 0)))
    assert table.lowest_altitude_deg == 15.0
    rng = np.random.default_rng(6)
    for _ in range(8):
        over = float(rng.uniform(0.005, 0.05))
        rate = float(rng.uniform(-1.5, -0.8))
        assert edges_are_right(table, float(rng.uniform(-0.05, 0.0)), -6.0 + over, rate) == 1
