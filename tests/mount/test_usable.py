"""What is usable now must be what has room now, for poses all over the sky."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.kit.kit import demo_kit
from axletree.mount.room.table import room, room_table
from axletree.mount.room.usable import usable_now
from axletree.sky.observer import observer_of


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_usable_is_what_has_room(name: str) -> None:
    """Two ways of one house; the rooms are held against other code elsewhere."""
    kit = demo_kit(name)
    travel = kit.mount.travel.model_copy(update={"weights_up_h": 1.0, "weights_down_h": 5.0})
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"travel": travel})})
    table = room_table(kit, observer=observer_of(kit.site))
    rng = np.random.default_rng(2)
    hours, declinations = rng.uniform(-12, 12, 300), rng.uniform(-85, 85, 300)
    rooms = room(table, hours, declinations)
    for i, side in enumerate((1, -1)):
        now = usable_now(table, side, hours, declinations)
        assert 0.1 < now.mean() < 0.9
        # Half a minute from an end the two may differ.
        inside = (rooms.room_h[i] > 0.01) | ~rooms.usable[i]
        assert np.array_equal(now[inside], rooms.usable[i][inside])
