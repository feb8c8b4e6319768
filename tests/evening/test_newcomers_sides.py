"""Which tube side is left to whom: weights down and an eyepiece that can't fall before one change
of side less (common practice at public nights, no source)."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np

from axletree.evening.order.candidates import Opening
from axletree.evening.people.newcomers import for_newcomer
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import Kit, demo_kit
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.room.table import room_table
from axletree.sky.observer import observer_of

SECONDS = np.arange(0.0, 4 * 3600.0, 600.0)


def kit_of(observer: str, name: str = "courtyard") -> Kit:
    kit = demo_kit(name)
    return kit.model_copy(update={"habits": kit.habits.model_copy(update={"observer": observer})})


def test_a_newcomer_leaves_the_rough_side_just_while_the_other_is_calm() -> None:
    """An object that crosses the meridian: east's weights rise then, and on both sides the barrel
    hangs for a while."""
    kit = kit_of("newcomer")
    table = room_table(kit)
    H = -1.0 + SECONDS / 3600.0
    d = np.full(len(SECONDS), 20.0)
    east, west = Opening("east", 0.0, 14400.0), Opening("west", 1000.0, 10000.0)
    places = table, SECONDS, H, d
    assert for_newcomer([east, west], kit_of("practised"), *places) == [east, west]
    assert for_newcomer([east], kit, *places) == [east], "the only side stays"
    calm = for_newcomer([east, west], kit, *places)
    hangs = [
        eye_place(table.rig, table.axes, *axis_angles(table.axes, sense, H, d), (0, 1)).can_fall
        for sense in (1, -1)
    ]
    west_calm = (west.start_s <= SECONDS) & (west.end_s >= SECONDS) & ~hangs[1]
    left = (hangs[0] | (SECONDS > 3600.0)) & west_calm
    assert left.any()
    assert not left.all()
    for at, gone in zip(SECONDS.tolist(), left.tolist(), strict=True):
        open_east = any(o.side == "east" and o.start_s <= at <= o.end_s for o in calm)
        assert open_east != gone, at
    assert calm[0].start_s == east.start_s
    assert max(o.end_s for o in calm if o.side == "east") == east.end_s


def test_no_stop_of_a_newcomer_has_its_weights_up_while_the_other_side_is_calm() -> None:
    """Without the rule M42 was shown with the weights up, to save a change of side."""
    kit = kit_of("newcomer", "paddock")
    request = EveningRequest(
        date(2026, 1, 20), datetime(2026, 1, 1, tzinfo=UTC), effort="quick"
    )  # fmt: skip
    evening = plan_evening(kit, observer_of(kit.site), request)
    assert len(evening.stops) >= 5
    assert [stop.name for stop in evening.stops if stop.chosen.weights_up] == []
