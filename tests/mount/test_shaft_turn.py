"""Stops and the weights' level count in the hour shaft's own turn, on axes that are off.

Held against the kinematics the other way round: a pose at the stop looks at some hour angle and
declination; from half an hour before it the room must last half an hour.
"""

from __future__ import annotations

import numpy as np
import pytest

from axletree.kit.kit import demo_kit
from axletree.mount.rig.kinematics import SIDES, align, pointing
from axletree.mount.rig.shaft_turn import hours_at, turned_h
from axletree.mount.room.ends import End
from axletree.mount.room.table import room, room_table
from axletree.mount.room.usable import usable_now
from axletree.sky.directions import wrap_h

PAST_H = 0.25
OFF = {"high_arcmin": 70.0, "east_arcmin": -90.0, "cone_arcmin": 40.0, "lean_arcmin": -25.0}


@pytest.mark.parametrize("latitude_deg", [38.6, -44.0])
def test_the_shaft_stands_where_the_pose_looks(latitude_deg: float) -> None:
    axes = align(latitude_deg, **OFF)
    swings = np.linspace(12.0, 150.0, 40)
    looked = 0
    for side in SIDES:
        swing = -side * axes.sense * swings
        for end_h in (6.0 + PAST_H, 6.0, -6.0 - PAST_H):
            sides, H, d = pointing(axes, end_h, swing)
            assert (sides == side).all()
            assert wrap_h(turned_h(axes, side, H, d) - end_h) == pytest.approx(0.0, abs=1e-9)
            assert wrap_h(hours_at(axes, side, end_h, d) - H) == pytest.approx(0.0, abs=1e-6)
            # An error that the object's own hour angle would make: minutes.
            assert np.max(np.abs(wrap_h(H - 6.0 * side - end_h))) > 0.1
            looked += 1
    assert looked == 6


def test_room_ends_where_the_shaft_meets_its_stop() -> None:
    kit = demo_kit()
    travel = kit.mount.travel.model_copy(update={"weights_up_h": PAST_H})
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"travel": travel})})
    axes = align(kit.site.latitude_deg, **OFF)
    table = room_table(kit, axes=axes)
    looked = 0
    for k, side in enumerate(SIDES):
        swing = -side * axes.sense * np.linspace(20.0, 80.0, 25)
        _, H, d = pointing(axes, 6.0 + PAST_H, swing)
        found = room(table, H - 0.5, d)
        stops = found.usable[k] & (found.ends[k] == End.STOP)
        assert found.room_h[k][stops] == pytest.approx(0.5, abs=1e-5)
        # The weights are level a quarter of an hour of the shaft before.
        level = hours_at(axes, side, 6.0, d)
        assert found.weights_down_h[k][stops] == pytest.approx(
            np.mod(level - H + 0.5, 24.0)[stops], abs=1e-6
        )
        assert not usable_now(table, side, H + 0.01, d).any()
        looked += int(stops.sum())
    assert looked > 5
