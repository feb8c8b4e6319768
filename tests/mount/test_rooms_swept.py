"""Rooms of both demo kits under invented skylines against brute force in steps of one second.

Azimuth and altitude by ERFA; parts by the distances of all their rods; stops by the shaft's angle.
"""

from __future__ import annotations

import os

import erfa
import numpy as np
import pytest
from machines import KITS
from skylines import SKYLINES, height, skyline

from axletree.kit.kit import demo_kit
from axletree.mount.clearance.nearest import distances
from axletree.mount.rig.kinematics import SIDES, axis_angles
from axletree.mount.room.ends import CONTACT, LOW, NOTHING, SKYLINE, STOP, End
from axletree.mount.room.table import HOURS_PER_SECOND, room, room_table

# AXLETREE_LONG=1 (`make long`) sweeps them all, the suite every other one.
LATITUDES_DEG = (-80.0, -50.0, -35.0, 38.0, 55.0, 70.0)
if not os.environ.get("AXLETREE_LONG"):
    LATITUDES_DEG = LATITUDES_DEG[1::2]
MORE_S = 60.0


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("view", SKYLINES)
def test_rooms_end_where_brute_force_ends_them(name: str, view: str) -> None:
    rng = np.random.default_rng(sum(map(ord, name + view)))
    checked: set[End] = set()
    for latitude in LATITUDES_DEG:
        kit = demo_kit(name)
        site = kit.site.model_copy(update={"latitude_deg": latitude})
        kit = kit.model_copy(update={"site": site})
        table = room_table(kit, skyline=skyline(view))
        H, d = rng.uniform(-12, 12, 5), np.degrees(np.arcsin(rng.uniform(-1, 1, 5)))
        found = room(table, H, d)
        for i, k in zip(*np.nonzero(found.usable), strict=True):
            length_s = float(found.room_h[i, k]) / HOURS_PER_SECOND
            hours = H[k] + np.arange(0.0, length_s + MORE_S, 1.0) * HOURS_PER_SECOND
            azimuth, altitude = (
                np.degrees(x) for x in erfa.hd2ae(*np.radians((hours * 15, d[k] + 0 * hours)),
                                                  np.radians(latitude))
            )  # fmt: skip
            end_h, swing = axis_angles(table.axes, SIDES[i], hours, np.full(hours.shape, d[k]))
            past = np.abs((end_h + 12.0) % 24.0 - 12.0) - 6.0
            most = kit.mount.travel.weights_up_h
            ways = {
                CONTACT: distances(table.bodies, end_h, swing).min(axis=0) < table.margin_m,
                STOP: past > (12.0 if most is None else most),
                SKYLINE: altitude < height(view, azimuth),
                LOW: altitude < kit.habits.lowest_altitude_deg,
            }
            code = End(found.ends[i, k])
            checked.add(code)
            blocked = np.any(list(ways.values()), axis=0)
            if code == NOTHING:
                assert not blocked.any()
                continue
            first = int(blocked.argmax())
            assert blocked.any(), (latitude, SIDES[i], H[k], d[k])
            assert first == pytest.approx(length_s, abs=2.0), (latitude, SIDES[i], H[k], d[k])
            assert ways[code][first : first + 3].any(), (latitude, SIDES[i], H[k], d[k])
    assert checked & {CONTACT, STOP}
    assert checked & {SKYLINE, LOW}
