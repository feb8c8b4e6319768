"""What comes round the circle again: arcs, swings and the map's grid, against sums by brute force
and interpolation by scipy."""

from __future__ import annotations

import numpy as np
import pytest
from machines import hour_gap, kit_with
from scipy.interpolate import RegularGridInterpolator

from axletree.kit.kit import demo_kit
from axletree.mount.clearance.map import ClearanceMap, map_circles
from axletree.mount.clearance.map_levels import angles
from axletree.mount.clearance.map_lookup import ASKEW_ARCMIN, askew_arcmin, looked_up
from axletree.mount.clearance.nearest import bodies, distances
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import (
    SIDE_WORDS,
    SIDES,
    align,
    axis_angles,
    circle_readings,
    pointing,
)
from axletree.mount.room.arcs import between, find_arcs, look
from axletree.mount.room.choice import choose
from axletree.mount.room.reach import reach
from axletree.mount.room.table import HOURS_PER_SECOND, room, room_table


def test_arcs_ahead_and_behind_by_walking_round() -> None:
    """Rows of random signs at every quarter of an hour: straight lines between them by hand, then
    the way to the next and from the last blocked moment, walked in steps of a thousandth."""
    rng = np.random.default_rng(21)
    hours = np.arange(-12.0, 12.0, 0.25)
    values = np.where(rng.random((12, len(hours))) < 0.5, -1.0, 1.0) * rng.uniform(
        0.5, 1.0, (12, len(hours))
    )
    values[0], values[1] = np.abs(values[0]), -np.abs(values[1])
    arcs = find_arcs(values, hours, lambda rows, low, high, a, b: between(low, high, a, b))
    step = 1e-3
    fine = np.arange(-12.0, 12.0, step)
    for row, of_row in enumerate(values):
        blocked = np.interp(fine, hours, of_row, period=24.0) < 0.0
        asked = rng.choice(np.arange(len(fine)), 40, replace=False)
        found = look(arcs, np.full(40, row), fine[asked])
        for k, at in enumerate(asked):
            ahead, behind = np.roll(blocked, -at), np.roll(blocked, -at - 1)[::-1]
            if abs(float(np.interp(fine[at], hours, of_row, period=24.0))) < 5 * step:
                continue
            assert bool(found.blocked[k]) == bool(blocked[at])
            if blocked[at]:
                assert found.until_h[k] == found.since_h[k] == 0.0
            elif not blocked.any():
                assert found.until_h[k] > 24.0
                assert found.since_h[k] > 24.0
            else:
                assert found.until_h[k] == pytest.approx(ahead.argmax() * step, abs=2 * step)
                assert found.since_h[k] == pytest.approx(behind.argmax() * step, abs=2 * step)


@pytest.mark.parametrize("latitude", [47.0, -33.0])
def test_near_the_poles_and_turns_on_the_tube_looks_where_it_was_sent(latitude: float) -> None:
    """There and back within a few degrees of either pole, swings counted a turn on or back."""
    axes = align(latitude)
    rng = np.random.default_rng(3)
    H = rng.uniform(-12.0, 12.0, 400)
    d = np.where(rng.random(400) < 0.5, -1.0, 1.0) * rng.uniform(70.0, 89.9, 400)
    for side in SIDES:
        end, swing = axis_angles(axes, side, H, d)
        swing = swing + 360.0 * rng.integers(-1, 2, 400)
        found, hour, declination = pointing(axes, end, swing)
        assert set(found.tolist()) == {side}, SIDE_WORDS[side]
        assert hour_gap(hour, H).max() < 1e-6
        assert declination == pytest.approx(d, abs=1e-8)
        circle_h, circle_d = circle_readings(axes, end, swing)
        assert hour_gap(circle_h, H).max() < 1e-6
        assert circle_d == pytest.approx(d, abs=1e-8)


def test_the_map_has_every_half_degree_once_from_midnight_on() -> None:
    """Hour angles from -12 h on; declinations and swings at the middles of even bands."""
    hours, declinations = map_circles()
    assert hours == pytest.approx(np.linspace(-12.0, 12.0, 721)[:-1], abs=1e-12)
    assert declinations == pytest.approx(np.linspace(-89.75, 89.75, 360), abs=1e-12)
    assert angles(1)[1] == pytest.approx(np.linspace(-179.75, 179.75, 720), abs=1e-12)
    for cell in (4, 16):
        for coarse, fine in zip(angles(cell), angles(1), strict=True):
            assert coarse == pytest.approx(fine.reshape(-1, cell).mean(axis=1), abs=1e-12)


def a_map(rng: np.random.Generator) -> ClearanceMap:
    """Rough figures on a wide grid."""
    hours, declinations = np.arange(-11.5, 12.0, 1.0), np.arange(-85.0, 90.0, 10.0)
    shape = (2, len(hours), len(declinations))
    return ClearanceMap(
        hours, declinations, rng.uniform(-0.1, 0.4, shape).astype(np.float32),
        np.zeros(shape, dtype=np.int16),
    )  # fmt: skip


def by_scipy(held: ClearanceMap, i: int) -> RegularGridInterpolator:
    """Straight lines both ways; round the hour circle, held at the last declinations."""
    around = np.r_[held.hours[-1] - 24.0, held.hours, held.hours[0] + 24.0]
    rows = held.distance_m[i].astype(np.float64)[np.r_[-1, 0 : len(held.hours), 0]]
    return RegularGridInterpolator((around, held.declinations), rows)


@pytest.mark.parametrize("i", [0, 1])
def test_a_map_is_read_along_straight_lines(i: int) -> None:
    """Interpolation by scipy, with the axis on the pole and askew."""
    rng = np.random.default_rng(8)
    held = a_map(rng)
    d = np.r_[rng.uniform(-89.9, 89.9, 300), held.declinations, 89.9, 84.99, 85.0]
    for axes in (align(40.0), align(40.0, high_arcmin=80.0, east_arcmin=-50.0, cone_arcmin=20.0)):
        found = looked_up(held, axes, i, d)
        hours, rows = np.broadcast_arrays(held.hours, d[:, None])
        if askew_arcmin(axes) > ASKEW_ARCMIN:
            hours, rows = circle_readings(axes, *axis_angles(axes, SIDES[i], hours, rows))
        low, high = held.declinations[[0, -1]]
        rows = np.clip(rows, low, high)
        expected = by_scipy(held, i)(np.stack((hours, rows), axis=-1))
        assert found == pytest.approx(expected, abs=2e-6)


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_only_what_can_come_nearer_is_a_pair(name: str) -> None:
    """Shaft and weights lie on one axis, the polar housing on the other: no turn brings them nearer
    to each other, and the head's own housings pass each other. Common practice, no source."""
    kit = demo_kit(name)
    b = bodies(build_rig(kit), align(kit.site.latitude_deg))
    rng = np.random.default_rng(2)
    gaps = distances(b, rng.uniform(-12.0, 12.0, 200), rng.uniform(-180.0, 180.0, 200))
    turning = zip(b.pairs, gaps, strict=True)
    assert [p.parts for p, gap in turning if not p.on_tube and np.ptp(gap) < 1e-9] == []
    parts = {pair.parts for pair in b.pairs}
    assert ("tube", "mount base") in parts
    assert ("counterweight", "mount base") in parts
    assert not {("declination housing", "mount base"), ("counterweight", "polar housing")} & parts


def test_the_rooms_of_a_map_lie_evenly_over_the_sky() -> None:
    """The middles of even bands: as many north as south of the equator, all round the circle; the
    kit's margin in metres."""
    kit = demo_kit("courtyard")
    habits = kit.habits.model_copy(update={"clearance_margin_mm": 24.0})
    table = room_table(kit.model_copy(update={"habits": habits}), of_few=True)
    assert table.margin_m == pytest.approx(0.024, rel=1e-12)
    found = reach(table, step_h=2.0)
    assert found.declinations == pytest.approx(-found.declinations[::-1], abs=1e-9)
    assert np.ptp(found.declinations) + np.diff(found.declinations)[0] == pytest.approx(180.0)
    assert np.diff(np.r_[found.hours, found.hours[0] + 24.0]) == pytest.approx(np.full(12, 2.0))


def test_a_side_opens_within_the_five_minutes_before_it_is_told() -> None:
    """By the rooms minute by minute; told at whole steps of five minutes."""
    kit = kit_with("courtyard")
    table = room_table(kit)
    later = np.arange(0.0, 24.0, 1.0 / 60.0)
    told = 0
    for H, d in ((4.0, 20.0), (-6.0, -10.0), (7.0, 5.0), (1.0, 50.0), (-3.3, 30.0), (10.0, -15.0)):
        choice = choose(kit, table, H, d)
        usable = room(table, H + later, d).usable
        for i, side in enumerate(choice.sides):
            if side.usable or not usable[i].any():
                continue
            assert side.opens_in_s is not None
            steps = side.opens_in_s * HOURS_PER_SECOND * 12.0
            assert steps == pytest.approx(round(steps), abs=1e-9)
            first = float(later[usable[i].argmax()])
            assert steps / 12.0 - 1.01 / 12.0 <= first <= steps / 12.0 + 0.01
            told += 1
    assert told > 3
