"""What the machine seldom meets: its other stop, a lower top, a motor's leftover, words."""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest
from machines import KITS, at_latitude
from test_better_side import side

from axletree.commands.shared.quantities import distance_mm, scale_reading
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.kit.parts.mount import Travel
from axletree.mount.balance.scale_reading import (
    DISTANCE_SIGMA_MM,
    READING_SIGMA_KG,
    Axis,
    LeverEnd,
    ScaleReading,
)
from axletree.mount.follow.nudge import eyepiece_follow
from axletree.mount.follow.rates import DriveChoice, refracted_hour_angle, refracted_rate
from axletree.mount.rig.build import LEVEL, Slope, build_rig, ground_normal
from axletree.mount.rig.eyepiece import Posture, Stance
from axletree.mount.room.better_side import SideReason, better_side
from axletree.mount.room.choice import Choice
from axletree.mount.room.ends import CONTACT, LOW, STOP, RoomEnd
from axletree.mount.room.reach import stretches
from axletree.mount.room.table import room, room_table
from axletree.mount.steady.steadier import lower, shorter
from axletree.mount.steady.tipping import tipping
from axletree.sky.observer import Observer, observer_of
from axletree.stages.target.follow import FollowRequest, follow
from axletree.tell.side.text import side_reason_words


def with_mount(kit, **changes):
    return kit.model_copy(update={"mount": kit.mount.model_copy(update=changes)})


def with_tripod(kit, **changes):
    return with_mount(kit, tripod=kit.mount.tripod.model_copy(update=changes))


@pytest.mark.parametrize("name", KITS)
def test_both_stops_by_where_the_shaft_points(name):
    """The stop counts from the level shaft, the weights above it or below: by hand.

    On side east the tube's end points to hour angle H - 6 h, on side west to H + 6 h; level is 6 h
    from the meridian above the pole, below it (past 6 h) the weights are up.
    """
    kit = with_mount(demo_kit(name), travel=Travel(weights_up_h=1.5, weights_down_h=2.5))
    free = with_mount(demo_kit(name), travel=Travel())
    table, open_table = room_table(kit), room_table(free)
    H = np.arange(-11.95, 12.0, 0.1)
    sign = -1.0 if kit.site.latitude_deg < 0 else 1.0
    with_stops, without = room(table, H, 20.0 * sign), room(open_table, H, 20.0 * sign)
    for row, turned in ((0, H - 6.0), (1, H + 6.0)):
        from_meridian = np.abs((turned + 12.0) % 24.0 - 12.0)
        past = (from_meridian > 6.0 + 1.5) | (from_meridian < 6.0 - 2.5)
        assert not with_stops.usable[row][past].any()
        assert (with_stops.usable[row][~past] == without.usable[row][~past]).all()
        # Room ends where the axis gets to a stop, unless something else is met before.
        for k in np.flatnonzero(with_stops.usable[row]):
            ahead = turned[k] + np.arange(0.0, 24.0, 0.001)
            away = np.abs((ahead + 12.0) % 24.0 - 12.0)
            stop = 0.001 * np.argmax((away > 7.5) | (away < 3.5))
            expected = min(stop, without.room_h[row][k])
            assert with_stops.room_h[row][k] == pytest.approx(expected, abs=0.003)
            if stop < without.room_h[row][k] - 0.01:
                assert with_stops.ends[row][k] == STOP


@pytest.mark.parametrize("name", KITS)
def test_a_lower_top_is_a_kit_with_a_lower_top(name):
    kit = demo_kit(name)
    tripod = kit.mount.tripod
    told = lower(kit, 100.0, wanted_n=1.0)
    built = with_tripod(
        kit,
        top_height_mm=tripod.top_height_mm - 100.0,
        tray_height_mm=tripod.tray_height_mm - 100.0,
    )
    assert told.push_n == pytest.approx(tipping(built).push_n, rel=1e-12)
    assert told.enough
    assert not lower(kit, 100.0, wanted_n=1e6).enough
    # Legs that keep their angle: similar triangles.
    share = 1.0 - 100.0 / tripod.top_height_mm
    out = (tripod.foot_radius_mm - tripod.top_radius_mm) * share
    narrow = with_tripod(
        kit,
        top_height_mm=tripod.top_height_mm - 100.0,
        tray_height_mm=tripod.tray_height_mm - 100.0,
        foot_radius_mm=tripod.top_radius_mm + out,
    )
    assert shorter(kit, 100.0).push_n == pytest.approx(tipping(narrow).push_n, rel=1e-12)


def test_a_load_in_the_tray_hangs_at_the_kits_height():
    # Leaning, a load that hangs higher stands farther downhill: it steadies less.
    kit = demo_kit("courtyard")
    yard = kit.yard.model_copy(update={"slope_percent": 20.0})
    kit = kit.model_copy(update={"yard": yard})
    pushes = [
        tipping(with_tripod(kit, tray_height_mm=h), tray_kg=20.0, leaning=True).margin_mm
        for h in (200.0, 400.0, 600.0)
    ]
    assert pushes[0] > pushes[1] > pushes[2]
    # 20 kg moved by 0.2 m along a slope of 11.3 degrees: the centre moves by their share.
    whole = tipping(kit, tray_kg=20.0).mass_kg
    moved = 200.0 * math.sin(math.atan(0.2)) * 20.0 / whole
    assert pushes[0] - pushes[1] <= moved * 1.001


def test_a_motors_leftover_carries_the_object_out_of_the_part_that_is_kept():
    kit = demo_kit("courtyard")
    drive = DriveChoice("solar", 15.0, 2.464, 1.0)
    for row in eyepiece_follow(kit, 0.0, keep=0.5, drive=drive):
        # Half of the field's radius in arcseconds, by the drift a second: by hand.
        seconds = 0.5 * row.true_field_deg / 2.0 * 3600.0 / (math.hypot(2.464, 1.0) / 60.0)
        assert row.motor_nudge_s == pytest.approx(seconds, rel=1e-9)
    still = DriveChoice("sidereal", 15.041, 0.0, 0.0)
    assert all(np.isinf(r.motor_nudge_s) for r in eyepiece_follow(kit, 0.0, drive=still))


@pytest.mark.parametrize("latitude", [38.6, -45.9])
def test_with_no_object_a_star_on_the_equator_in_the_meridian(latitude):
    kit = at_latitude(demo_kit("courtyard"), latitude)
    observer = observer_of(kit.site)
    told = follow(kit, FollowRequest())
    at = told.place
    place = at.hour_angle_h, at.declination_deg, at.azimuth_deg, at.altitude_deg
    assert place == pytest.approx((0.0, 0.0, 180.0 if latitude > 0 else 0.0, 90 - abs(latitude)))
    rate, drift = refracted_rate(0.0, 0.0, observer)
    assert told.rates.seen == pytest.approx(float(rate), abs=1e-12)
    assert told.rates.seen_declination == pytest.approx(float(drift), abs=1e-12)
    # A worm of so many teeth turns once while the sky turns by one tooth.
    teeth, ratio = kit.mount.gears.hour_worm_teeth, kit.mount.gears.hour_knob_ratio
    minute = float(rate) * 60.0 / 3600.0 / (360.0 / teeth / ratio)
    assert told.turns_per_minute == pytest.approx(minute, rel=1e-9)


def test_declination_rate_through_air_by_small_steps():
    observer = Observer(40.0, 0.0, 0.0)
    _, drift = refracted_rate(-4.0, 20.0, observer)
    h = 1e-4
    after, before = (refracted_hour_angle(-4.0 + s, 20.0, observer)[1] for s in (h, -h))
    seconds = 2 * h * 3600.0 / 1.0027379
    assert float(drift) == pytest.approx(float(after - before) * 3600.0 / seconds, rel=2e-3)


@pytest.mark.parametrize("keep", [0.04, 1.01, float("nan")])
def test_no_more_than_the_field_can_be_kept(keep):
    with pytest.raises(AxletreeError, match=r"between 0\.05 and 1"):
        follow(demo_kit("courtyard"), FollowRequest(keep=keep))


def test_sigma_of_a_held_moment_against_a_drawn_crowd():
    reading = ScaleReading(Axis.DECLINATION, LeverEnd.FRONT, 2.0, 400.0)
    rng = np.random.default_rng(9)
    kilograms = 2.0 + rng.normal(0.0, READING_SIGMA_KG, 200_000)
    metres = 0.4 + rng.normal(0.0, DISTANCE_SIGMA_MM / 1000.0, 200_000)
    assert reading.moment_sigma_kg_m == pytest.approx(np.std(kilograms * metres), rel=0.01)


def said(east: SimpleNamespace, west: SimpleNamespace, need_h: float, units: str = "metric") -> str:
    """The reason in a sentence, as every surface says it."""
    better, reason = better_side(east, west, need_h)
    return side_reason_words(Choice(0.0, 0.0, east, west, better, reason), units)


def blocked(name: str, ends: RoomEnd) -> SimpleNamespace:
    found = side(name, 0.0)
    found.usable, found.ends = False, ends
    return found


def test_why_neither_side_can_be_used():
    # What is the same for both is said once; what meets what differs from side to side.
    low = RoomEnd(LOW, (), 15.0)
    meets = RoomEnd(CONTACT, ("tube", "leg"), 15.0)
    both = blocked("east", low), blocked("west", low)
    assert better_side(*both, 1.0) == ("", SideReason.NEITHER_FOR_ONE_REASON)
    assert said(*both, 1.0) == "Neither side can be used now: it sinks below 15°."
    for pair in (
        (blocked("east", meets), blocked("west", low)),
        (blocked("east", meets), blocked("west", meets)),
    ):
        assert better_side(*pair, 1.0) == ("", SideReason.NEITHER)
        assert "on side east the tube comes too near to the leg, on side west" in said(*pair, 1.0)


@pytest.mark.parametrize(
    ("hours", "words"),
    [(0.5, "30 min"), (1.5, "1 h 30 min"), (23.0, "23 h 00 min"), (24.0, "the whole night")],
)
def test_room_in_words(hours, words):
    long, short = side("east", hours), side("west", 0.3)
    long.room_s, short.room_s = hours * 3600.0, 0.3 * 3600.0
    assert said(long, short, 0.1) == f"Side east has more room: {words} against 18 min."


def test_heights_in_feet_and_inches():
    # 5 ft 3 in are 1.6002 m, 7 ft 1 in are 2.159 m (an inch is 25.4 mm).
    near, far = side("east", 2.0), side("west", 2.0)
    near.eye.height_m, far.eye.height_m, far.eye.step_up_m = 1.6002, 2.159, 0.4
    near.posture, far.posture = Posture(Stance.STAND), Posture(Stance.STEP, 400.0)
    reason = said(near, far, 0.5, "us")
    assert "stands at 5 ft 3 in" in reason
    assert "at 7 ft 1 in" in reason


@pytest.mark.parametrize("name", KITS)
def test_the_tripod_stands_as_the_kit_says(name):
    """Feet on their circle on level ground, tops on theirs, the column straight up: by hand."""
    kit = demo_kit(name)
    tripod = kit.mount.tripod.model_copy(update={"column_height_mm": 150.0})
    rig = build_rig(with_mount(kit, tripod=tripod), slope=LEVEL)
    top = tripod.top_height_mm / 1000.0
    legs = [k for k, n in enumerate(rig.names) if "leg" in n]
    assert len(legs) == 3
    for k in legs:
        hip, foot = rig.start_m[k], rig.end_m[k]
        assert np.hypot(*hip[:2]) * 1000.0 == pytest.approx(tripod.top_radius_mm, abs=1e-9)
        assert np.hypot(*foot[:2]) * 1000.0 == pytest.approx(tripod.foot_radius_mm, abs=1e-9)
        assert (hip[2], foot[2]) == pytest.approx((top, 0.0), abs=1e-12)
    feet = rig.end_m[legs]
    assert feet.sum(axis=0) == pytest.approx(np.zeros(3), abs=1e-9)  # a third of a circle apart
    column = rig.names.index("column")
    assert rig.start_m[column] == pytest.approx([0.0, 0.0, top], abs=1e-12)
    assert rig.end_m[column] == pytest.approx([0.0, 0.0, top + 0.15], abs=1e-12)
    assert rig.radius_m[column] * 1000.0 == pytest.approx(tripod.column_radius_mm, abs=1e-9)


def test_stretches_begin_where_room_begins():
    table = room_table(demo_kit("courtyard"))
    for row in stretches(table, np.array([-10.0, 30.0])):
        if row.to_h - row.from_h > 23.9:
            continue
        i = 0 if row.side == "east" else 1
        before, after = room(table, np.array([row.from_h - 0.02, row.from_h + 0.02]),
                             row.declination_deg).usable[i]  # fmt: skip
        assert (bool(before), bool(after)) == (False, True)
        assert float(
            room(table, row.from_h + 0.02, row.declination_deg).room_h[i]
        ) == pytest.approx(row.to_h - row.from_h - 0.02, abs=0.01)


def test_a_loaded_tray_comes_down_with_the_top():
    kit = with_tripod(demo_kit("courtyard"), tray_load_kg=15.0)
    tripod = kit.mount.tripod
    told = lower(kit, 100.0)
    down = with_tripod(
        kit,
        top_height_mm=tripod.top_height_mm - 100.0,
        tray_height_mm=tripod.tray_height_mm - 100.0,
    )
    assert told.push_n == pytest.approx(tipping(down).push_n, rel=1e-12)
    # Pushed in at their angle, the legs take the feet along: similar triangles.
    share = 1.0 - 100.0 / tripod.top_height_mm
    out = (tripod.foot_radius_mm - tripod.top_radius_mm) * share
    inward = with_tripod(
        kit,
        top_height_mm=tripod.top_height_mm - 100.0,
        foot_radius_mm=tripod.top_radius_mm + out,
        tray_height_mm=tripod.tray_height_mm - 100.0,
    )
    assert shorter(kit, 100.0).push_n == pytest.approx(tipping(inward).push_n, rel=1e-12)


def test_a_distance_below_a_millimetre_is_a_distance():
    assert distance_mm("0.5 mm") == 0.5
    with pytest.raises(AxletreeError, match="some distance from the axis"):
        scale_reading("hour", "tube", "1 kg", "0 mm")


@pytest.mark.parametrize(("latitude", "sense"), [(0.5, 1), (0.0, 1), (-0.5, -1), (-60.0, -1)])
def test_the_elevated_pole_near_the_equator(latitude, sense):
    assert build_rig(at_latitude(demo_kit("courtyard"), latitude)).sense == sense


def test_the_normal_of_a_slope_is_a_unit_vector_that_leans_downhill():
    """Slope in percent: the tangent of the angle of the fall."""
    n = ground_normal(Slope(12.0, 90.0))
    assert np.linalg.norm(n) == pytest.approx(1.0, abs=1e-15)
    assert n[0] / n[2] == pytest.approx(0.12)
