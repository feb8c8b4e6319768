"""The last reason of all: more room, where nothing else tells the sides apart."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from axletree.mount.room.better_side import SideReason, better_side
from axletree.mount.room.ends import NOTHING, RoomEnd


def side(name: str, room_h: float) -> SimpleNamespace:
    return SimpleNamespace(
        side=name, usable=True, ends=RoomEnd(NOTHING, (), 10.0),
        room_h=room_h, room_s=room_h * 3590.0, weights_up=False, weights_down_h=room_h,
        can_fall=False, clearance_m=0.1,
        eye=SimpleNamespace(step_up_m=0.0, stoop_m=0.0, height_m=1.4, barrel_altitude_deg=20.0),
        endless=False,
    )  # fmt: skip


@pytest.mark.parametrize(("east_h", "west_h", "better"), [(3.0, 2.0, "east"), (2.0, 3.0, "west")])
def test_more_room_decides_when_all_else_is_equal(east_h, west_h, better):
    found, reason = better_side(side("east", east_h), side("west", west_h), need_h=0.5)
    assert found == better
    assert reason is SideReason.MORE_ROOM


def test_a_difference_too_small_to_choose_by():
    found, reason = better_side(side("east", 2.05), side("west", 2.0), need_h=0.5)
    assert reason is SideReason.FURTHER_APART
    assert found
