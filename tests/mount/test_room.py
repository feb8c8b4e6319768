"""Room: checked by walking along the hour angle step by step, each end by its own test."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from machines import KITS, hour_gap, random_sky

from axletree.kit.kit import Kit, demo_kit
from axletree.mount.clearance.nearest import distances
from axletree.mount.rig.kinematics import SIDES, axis_angles, weights_up
from axletree.mount.room.ends import CONTACT, LOW, NOTHING, SKYLINE, STOP
from axletree.mount.room.reach import reach, shares, stretches
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable, room, room_end, room_table
from axletree.sky.air.refraction import apparent_altitude_deg
from axletree.sky.directions import azimuth_altitude
from axletree.sky.observer import Observer
from axletree.tell.side.text import end_words

STEP_H = 1 / 120  # thirty seconds


def _table(name: str, **changes) -> tuple[Kit, RoomTable]:
    kit = demo_kit(name)
    points = np.array(kit.site.skyline.points)
    site = kit.site
    observer = Observer(site.latitude_deg, site.longitude_deg, site.elevation_m)
    return kit, room_table(
        kit,
        skyline=lambda azimuth: np.interp(azimuth, points[:, 0], points[:, 1], period=360),
        observer=observer,
        **changes,
    )


TABLES = {name: _table(name) for name in KITS}


def _in_the_way(kit: Kit, table: RoomTable, side: int, H, d):
    """Whether anything stands in the way, from the parts themselves: (contact, stop, sky)."""
    h, w = axis_angles(table.axes, side, H, d)
    contact = distances(table.bodies, h, w).min(axis=0) < kit.habits.clearance_margin_mm / 1000
    # Hours past the shaft's level from where the tube's end of the axis points.
    past = np.abs((h + 12.0) % 24.0 - 12.0) - 6.0
    limit = kit.mount.travel.weights_up_h
    stop = past > limit if limit is not None else np.zeros(past.shape, bool)
    azimuth, altitude = azimuth_altitude(H, d, kit.site.latitude_deg)
    altitude = apparent_altitude_deg(altitude, table.observer)
    points = np.array(kit.site.skyline.points)
    skyline = np.interp(azimuth, points[:, 0], points[:, 1], period=360)
    sky = altitude < np.maximum(skyline, kit.habits.lowest_altitude_deg)
    return contact, stop, sky


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("i", [0, 1])
def test_room_by_stepping(name, i):
    kit, table = TABLES[name]
    H, d = random_sky(24, 21 + i)
    found = room(table, H, d)
    steps = np.arange(0.0, 24.0, STEP_H)
    for k in range(len(H)):
        ways = _in_the_way(kit, table, SIDES[i], H[k] + steps, np.full(steps.shape, d[k]))
        blocked = np.any(ways, axis=0)
        if blocked[0]:
            assert not found.usable[i, k]
            assert found.room_h[i, k] == 0.0
            continue
        assert found.usable[i, k]
        first = steps[blocked.argmax()] if blocked.any() else 24.0
        assert first - STEP_H - 1e-4 <= found.room_h[i, k] <= first + 1e-4
        if blocked.any():
            reasons = {
                c
                for c, w in zip((CONTACT, STOP, SKYLINE), ways, strict=True)
                if w[blocked.argmax()]
            }
            ends = SKYLINE if found.ends[i, k] == LOW else found.ends[i, k]
            assert ends in reasons
        else:
            assert found.ends[i, k] == NOTHING


@pytest.mark.parametrize("name", KITS)
def test_room_backwards_is_room_forwards_of_the_past(name):
    _, table = TABLES[name]
    H, d = random_sky(400, 31)
    found = room(table, H, d)
    for i in range(2):
        use = found.usable[i] & (found.since_h[i] < 23.9)
        begun = H[use] - found.since_h[i][use]
        then = room(table, begun + 0.002, d[use])
        before = room(table, begun - 0.002, d[use])
        assert then.usable[i].all()
        assert not before.usable[i].any()
        # From its beginning on, the same stretch ends at the same place.
        np.testing.assert_allclose(
            then.room_h[i] + 0.002, found.since_h[i][use] + found.room_h[i][use], atol=1e-3
        )


@settings(max_examples=60, deadline=None)
@given(
    name=st.sampled_from(KITS), H=st.floats(-12, 12), d=st.floats(-89, 89), dt=st.floats(0.01, 2.0)
)
def test_following_uses_up_the_room(name, H, d, dt):
    _, table = TABLES[name]
    now, later = room(table, H, d), room(table, H + dt, d)
    for i in range(2):
        if now.usable[i] and dt < now.room_h[i] < 24.0:
            assert later.usable[i]
            assert later.room_h[i] == pytest.approx(now.room_h[i] - dt, abs=1e-4)
            assert later.ends[i] == now.ends[i]
        assert now.weights_down_h[i] <= now.room_h[i] + 1e-12


def test_weights_rise_at_the_meridian_within_the_room():
    # Side west: the weights come level when the object crosses the upper meridian.
    _, table = TABLES["courtyard"]
    found = room(table, -2.0, 20.0)
    assert found.weights_down_h[1] == pytest.approx(2.0, abs=1e-9)
    assert found.room_h[1] > 2.0
    assert not found.weights_up[1]
    assert found.weights_up[0]
    assert weights_up(table.axes, axis_angles(table.axes, "west", 0.01, 20.0)[0])


def test_the_cable_stop_counts_from_the_level_shaft():
    kit, table = TABLES["paddock"]
    assert kit.mount.travel.weights_up_h == 1.0
    found = room(table, -0.5, -40.0)
    assert found.ends[1] == STOP
    assert found.room_h[1] == pytest.approx(1.5, abs=1e-9)
    assert found.room_deg[1] == pytest.approx(22.5, abs=1e-7)
    assert found.room_s[1] == pytest.approx(1.5 / HOURS_PER_SECOND)
    assert end_words(room_end(table, STOP)) == "the hour axis reaches its stop"


def test_a_wider_margin_never_gives_more_room():
    kit, table = TABLES["courtyard"]
    habits = kit.habits.model_copy(update={"clearance_margin_mm": 60.0})
    wide = room_table(
        kit.model_copy(update={"habits": habits}), skyline=table.skyline, observer=table.observer
    )
    H, d = random_sky(500, 41)
    near, far = room(table, H, d), room(wide, H, d)
    assert (far.room_h <= near.room_h + 2e-3).all()
    assert (far.room_h < near.room_h - 0.05).any()


def test_contact_names_what_meets():
    _, table = TABLES["courtyard"]
    found = room(table, 0.5, 40.0)
    assert found.ends[1] == CONTACT
    words = end_words(room_end(table, CONTACT, int(found.pair[1])))
    assert words == "the tube comes too near to the leg towards the pole"
    at = 0.5 + float(found.room_h[1])
    apart = distances(table.bodies, *axis_angles(table.axes, "west", at, 40.0)).min()
    assert apart == pytest.approx(0.020, abs=2e-4)


def test_contact_is_where_the_margin_is_used_up():
    _, table = TABLES["courtyard"]
    H, d = random_sky(1500, 99)
    found = room(table, H, d)
    for i, side in enumerate(SIDES):
        meets = found.usable[i] & (found.ends[i] == CONTACT)
        end = H[meets] + found.room_h[i][meets]
        apart = distances(table.bodies, *axis_angles(table.axes, side, end, d[meets])).min(axis=0)
        off = np.abs(apart - 0.020)
        assert meets.sum() > 40
        assert np.median(off) < 1e-9
        assert off.max() < 5e-4  # grazing contacts


def test_hundreds_of_objects_at_once_as_one_by_one():
    _, table = TABLES["courtyard"]
    H, d = random_sky(40, 51)
    together = room(table, H[:, None] + np.arange(5) / 3, d[:, None])
    assert together.room_h.shape == (2, 40, 5)
    for k in (0, 7, 23):
        for j in (0, 4):
            alone = room(table, H[k] + j / 3, d[k])
            np.testing.assert_allclose(together.room_h[:, k, j], alone.room_h, atol=1e-6)
            np.testing.assert_array_equal(together.ends[:, k, j], alone.ends)


def test_air_keeps_a_setting_star_up_for_longer():
    kit, table = TABLES["courtyard"]
    bare = room_table(kit, skyline=table.skyline)
    lifted, plain = room(table, 3.0, 0.0), room(bare, 3.0, 0.0)
    assert lifted.room_h[0] > plain.room_h[0]
    # About 3 to 4 arcminutes at 15 degrees of altitude: refraction tables of the almanacs.
    assert (lifted.room_h[0] - plain.room_h[0]) * 3600 == pytest.approx(17, abs=5)


@pytest.mark.parametrize("name", KITS)
def test_reach_and_stretches_agree_with_room(name):
    _, table = TABLES[name]
    found = reach(table, step_h=0.5, step_deg=10.0)
    share = shares(found)
    assert share["either"] > 0.99
    assert share["both"] <= min(share["east"], share["west"]) + 1e-12
    one = room(table, found.hours, found.declinations[:, None])
    usable = found.room_h > 0
    np.testing.assert_array_equal(usable, one.usable)
    for row in stretches(table, np.array([-20.0, 20.0])):
        i = 0 if row.side == "east" else 1
        middle = room(table, (row.from_h + row.to_h) / 2, row.declination_deg)
        assert middle.usable[i]
        end = (row.from_h + row.to_h) / 2 + float(middle.room_h[i])
        assert hour_gap(np.float64(end), np.float64(row.to_h)) < 0.01
