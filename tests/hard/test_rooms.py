"""Room stepped through: no pose within it comes nearer than the margin, at its end one does."""

from __future__ import annotations

import numpy as np
import pytest
import tomlkit
from evenings import random_rigs

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text
from axletree.mount.clearance.nearest import least_distance
from axletree.mount.rig.kinematics import SIDES, align, axis_angles
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.table import room, room_table
from axletree.pole.aim.target import pole_target
from axletree.sky.observer import observer_of

STEP_H = 0.05
# The map is looked up between poses half a degree apart: along a ridge between two of them a
# part of a metre's reach can come nearer by 4 mm (0.25 degrees of it) than its neighbours say.
RIDGE_M = 0.0045


def kit_at(rig: int, latitude_deg: float) -> Kit:
    site = {"latitude_deg": latitude_deg, "longitude_deg": 0.0, "time_zone": "UTC"}
    kit, problems = check_text(tomlkit.dumps({**random_rigs()[rig], "site": site}))
    assert kit is not None, problems
    return kit


@pytest.mark.parametrize("latitude_deg", [-0.75, 12.0, -33.0])
@pytest.mark.parametrize("rig", [3, 7, 16])
def test_the_margin_is_kept_through_the_room_and_met_at_its_end(rig, latitude_deg):
    kit = kit_at(rig, latitude_deg)
    observer = observer_of(kit.site)
    axes = align(latitude_deg, pole_altitude_deg=pole_target(observer).altitude_deg)
    try:
        table = room_table(kit, axes=axes, observer=observer)
    except AxletreeError as error:
        pytest.skip(str(error))
    rng = np.random.default_rng(rig)
    hours = rng.uniform(-12, 12, 120)
    declinations = np.degrees(np.arcsin(rng.uniform(-0.98, 0.98, 120)))
    found = room(table, hours, declinations)
    assert found.usable.sum() > 15
    for i, side in enumerate(SIDES):
        for k in np.flatnonzero(found.usable[i]):
            length = float(found.room_h[i, k])
            H = hours[k] + np.append(np.arange(0.0, length, STEP_H), length)
            apart = least_distance(table.bodies, *axis_angles(axes, side, H, declinations[k]))[0]
            assert apart.min() > table.margin_m - RIDGE_M, (side, hours[k], declinations[k])
            if found.ends[i, k] == CONTACT:
                assert apart[-1] == pytest.approx(table.margin_m, abs=0.0005)
