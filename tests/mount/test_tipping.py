"""Tipping of whole rigs: sums by hand, remedies by doing them, what must not depend on what."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.kit.kit import demo_kit
from axletree.kit.parts.mount import Weight
from axletree.mount.balance.positions import (
    STANDARD_GRAVITY_M_S2,
    eyepieces_of,
    middle_eyepiece,
    solve,
)
from axletree.mount.balance.trim import trim
from axletree.mount.rig.build import LEVEL, build_rig
from axletree.mount.rig.kinematics import SIDES, align, axis_angles, centres_of_mass, frames
from axletree.mount.steady.steadier import RemedyKind, lower, remedies, shorter, stand_sigma, wider
from axletree.mount.steady.tipping import (
    LEANING_CHILD_N,
    Built,
    TrayLoad,
    half_built,
    poses_above,
    slope_of,
    standing,
    tipping,
    tray_for_push_kg,
)

KITS = ("courtyard", "paddock")


def _with_tripod(kit, **changes):
    tripod = kit.mount.tripod.model_copy(update=changes)
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": tripod})})


def _level(kit):
    return kit.model_copy(update={"yard": None})


@pytest.mark.parametrize("name", KITS)
def test_the_mass_is_that_of_everything(name):
    kit = demo_kit(name)
    eyepiece = middle_eyepiece(eyepieces_of(kit))
    balance, head = solve(kit, eyepiece), kit.mount.head
    # build_rig puts the first eyepiece in; everything else is summed from the kit.
    everything = (
        kit.mount.tripod.mass_kg + head.fixed_mass_kg + head.moving_mass_kg + head.shaft_mass_kg
        + balance.loading.total_kg + kit.tube.mass_kg + kit.tube.finder.mass_kg
        + kit.eyepieces[0].mass_kg
    )  # fmt: skip
    assert tipping(kit).mass_kg == pytest.approx(everything)
    assert tipping(kit, tray_kg=4.0).mass_kg == pytest.approx(everything + 4.0)


@pytest.mark.parametrize("name", KITS)
def test_the_worst_push_by_hand(name):
    # In the reported pose, on level ground: weight times distance to the edge over the height.
    kit = _level(demo_kit(name))
    got = tipping(kit)
    axes, rig = align(kit.site.latitude_deg), build_rig(kit)
    pose = got.push_pose
    turn, swing = axis_angles(axes, pose.side, pose.hour_angle_h, pose.declination_deg)
    parts = centres_of_mass(rig, axes, turn, swing)
    centre = rig.mass_kg @ parts / rig.mass_kg.sum()
    feet = [rig.end_m[i] for i, n in enumerate(rig.names) if n.endswith("leg") or "leg tow" in n]
    assert len(feet) == 3
    pushes = []
    for i in range(3):
        a, b, other = feet[i], feet[(i + 1) % 3], feet[(i + 2) % 3]
        edge = (b - a)[:2] / np.linalg.norm((b - a)[:2])
        inward = np.array([-edge[1], edge[0]])
        inward *= np.sign(inward @ (other - a)[:2])
        distance = inward @ (centre - a)[:2]
        pushes.append(
            rig.mass_kg.sum() * STANDARD_GRAVITY_M_S2 * distance / (pose.eye_height_mm / 1000)
        )
    assert got.push_n == pytest.approx(min(pushes), rel=1e-9)


@pytest.mark.parametrize("name", KITS)
def test_a_fully_balanced_rig_keeps_its_centre_of_mass(name):
    # Statics: balanced about both axes, nothing that turns can move the common centre.
    kit = demo_kit(name)
    eyepiece = (kit.eyepieces[0].label, kit.eyepieces[0].mass_kg)
    balance = solve(kit, eyepiece)
    turn = trim(kit, balance).turn_deg
    tube = kit.tube.model_copy(
        update={
            "ring_turn_deg": kit.tube.ring_turn_deg + turn,
            "finder": kit.tube.finder.model_copy(
                update={"angle_deg": kit.tube.finder.angle_deg + turn}
            ),
        }
    )
    trimmed = kit.model_copy(update={"tube": tube, "eyepieces": kit.eyepieces[:1], "camera": None})
    path = tipping(trimmed).centre_path_m
    assert np.ptp(path, axis=0) == pytest.approx([0, 0, 0], abs=1e-9)
    untrimmed = kit.model_copy(update={"eyepieces": kit.eyepieces[:1], "camera": None})
    assert np.max(np.ptp(tipping(untrimmed).centre_path_m, axis=0)) > 1e-4


def test_poses_look_above_the_lowest_altitude():
    axes = align(-44.0)
    poses = poses_above(axes, 20.0)
    looks = frames(axes, poses.tube_end_h, poses.swing_deg)[1][..., 2]
    assert np.degrees(np.arcsin(looks[:, 2])).min() >= 20.0 - 1e-9
    assert set(poses.side.tolist()) == set(SIDES)
    # All around: every quarter of the horizon is among them.
    azimuth = np.degrees(np.arctan2(looks[:, 0], looks[:, 1])) % 360
    assert set(np.floor(azimuth / 90) % 4) == {0, 1, 2, 3}


@pytest.mark.parametrize("name", KITS)
def test_what_steadies_and_what_does_not(name):
    kit = demo_kit(name)
    now = tipping(kit).push_n
    assert tipping(kit, tray_kg=6.0).push_n > now
    assert wider(kit, 1e9).push_n > now
    assert lower(kit).push_n > now
    # Pushed in at the angle they have, shorter legs also narrow the stand: it gets worse.
    assert shorter(kit).push_n < now


@pytest.mark.parametrize("name", KITS)
def test_remedies_reach_what_they_say(name):
    kit = demo_kit(name)
    found = {r.kind.value: r for r in remedies(kit)}
    assert tipping(kit).push_n < LEANING_CHILD_N
    assert tipping(kit).too_easy
    more = tray_for_push_kg(kit)
    assert found["tray"].amount == pytest.approx(more)
    assert tipping(kit, tray_kg=more).push_n == pytest.approx(LEANING_CHILD_N, rel=1e-9)
    assert tipping(kit, tray_kg=more * 0.98).push_n < LEANING_CHILD_N
    spread = found["wider"]
    tripod = kit.mount.tripod
    wide = _with_tripod(
        kit,
        foot_radius_mm=tripod.foot_radius_mm + spread.amount,
        top_height_mm=tripod.top_height_mm - spread.drop_mm,
        tray_height_mm=tripod.tray_height_mm - spread.drop_mm,
    )
    assert tipping(wide).push_n == pytest.approx(spread.push_n)
    assert spread.push_n == pytest.approx(LEANING_CHILD_N, abs=0.5)
    # The legs are as long as they were.
    out = tripod.foot_radius_mm - tripod.top_radius_mm
    before = np.hypot(out, tripod.top_height_mm)
    after = np.hypot(out + spread.amount, tripod.top_height_mm - spread.drop_mm)
    assert after == pytest.approx(before)


def test_a_firm_rig_needs_nothing():
    kit = _with_tripod(demo_kit("courtyard"), mass_kg=40.0)
    assert tipping(kit).push_n > LEANING_CHILD_N
    assert remedies(kit) == []


def test_a_tray_has_its_limit():
    light = _with_tripod(demo_kit("courtyard"), foot_radius_mm=260.0)
    tray = next(r for r in remedies(light) if r.kind is RemedyKind.TRAY)
    assert not tray.enough
    assert tray.push_n < LEANING_CHILD_N


def test_leaning_downhill_against_rotation():
    # Independent: the hinge moves with the ground's tilt, turned by scipy's Rotation.
    kit = demo_kit("courtyard")
    rig = build_rig(kit, slope=LEVEL)
    axes = align(kit.site.latitude_deg)
    poses = poses_above(axes, 15.0)
    slope, downhill = 6.0, 160.0
    stand = standing(rig, axes, poses.tube_end_h, poses.swing_deg, lean=(slope, downhill))
    a = np.radians(downhill)
    way = np.array([np.sin(a), np.cos(a), 0.0])
    turn = Rotation.from_rotvec(np.radians(slope) * np.cross([0, 0, 1.0], way))
    hinge = np.array([0, 0, rig.hinge_height_m])
    shift = turn.apply(hinge) - hinge
    assert shift @ way == pytest.approx(rig.hinge_height_m * np.sin(np.radians(slope)))
    level = standing(rig, axes, poses.tube_end_h, poses.swing_deg)
    assert stand.eye_m - level.eye_m == pytest.approx(np.broadcast_to(shift, stand.eye_m.shape))
    assert stand.feet_m == pytest.approx(turn.apply(level.feet_m.copy()))
    ground = rig.frame == 0
    parts = centres_of_mass(rig, axes, poses.tube_end_h, poses.swing_deg)
    moved = np.where(ground[:, None], turn.apply(parts.reshape(-1, 3)).reshape(parts.shape),
                     parts + shift)  # fmt: skip
    expected = np.einsum("n,pnj->pj", rig.mass_kg, moved) / rig.mass_kg.sum()
    assert stand.centre_m == pytest.approx(expected)


def test_a_load_in_the_tray_counts_where_it_hangs():
    # Sum by hand, levelled and leaning: the tray hangs below the top and leans with the legs.
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit, slope=LEVEL), align(kit.site.latitude_deg)
    turn, swing = np.array([2.0]), np.array([40.0])
    for lean, tilt in ((None, 0.0), ((5.0, 90.0), 5.0)):
        empty = standing(rig, axes, turn, swing, tray=TrayLoad(0.0, 0.45), lean=lean)
        full = standing(rig, axes, turn, swing, tray=TrayLoad(8.0, 0.45), lean=lean)
        a = np.radians(tilt)
        at = np.array([0.45 * np.sin(a), 0.0, 0.45 * np.cos(a)])
        expected = (empty.mass_kg * empty.centre_m + 8.0 * at) / (empty.mass_kg + 8.0)
        assert full.centre_m == pytest.approx(expected)
        assert full.tray_m == pytest.approx(at)


def test_leaning_costs_margin_and_a_steep_slope_upsets():
    steep = demo_kit("courtyard")
    yard = steep.yard.model_copy(update={"slope_percent": 12.0, "downhill_azimuth_deg": 0.0})
    steep = steep.model_copy(update={"yard": yard})
    level, lean = tipping(steep), tipping(steep, leaning=True)
    assert lean.margin_mm < level.margin_mm
    over = steep.model_copy(update={"yard": yard.model_copy(update={"slope_percent": 60.0})})
    over = _with_tripod(over, foot_radius_mm=450.0)
    assert tipping(over, leaning=True).margin_mm < 0
    assert tipping(over, leaning=True).push_n == 0.0


def test_half_built_rigs():
    kit = demo_kit("courtyard")
    whole = tipping(kit)
    weights, tube = half_built(kit, Built.WEIGHTS_ONLY), half_built(kit, Built.TUBE_ONLY)
    assert weights.margin_mm < whole.margin_mm
    assert tube.margin_mm < whole.margin_mm
    assert weights.mass_kg == pytest.approx(whole.mass_kg - solve(kit, ("", 0.17)).load.carried_kg)
    # A heavy weight far out on a narrow stand falls over by itself before the tube is on.
    heavy = kit.mount.model_copy(update={"weights": (Weight(mass_kg=5.1),)})
    narrow = _with_tripod(kit.model_copy(update={"mount": heavy}), foot_radius_mm=150.0)
    assert half_built(narrow, Built.WEIGHTS_ONLY).margin_mm < 0


def test_hanging_on_the_eyepiece():
    # Straight down inside the feet nobody can upset it; outside, the lever of the exercise.
    assert tipping(demo_kit("courtyard")).pull_down_n > tipping(demo_kit("courtyard")).push_n
    wide = _with_tripod(demo_kit("paddock"), foot_radius_mm=2500.0)
    assert np.isinf(tipping(wide).pull_down_n)


@pytest.mark.parametrize(
    ("percent", "arcsec"), [(0.1, 206.26), (0.06, 123.76), (0.002, 4.125), (8.749, 5 * 3600)]
)
def test_against_levelling_tables_slope_as_angle(percent, arcsec):
    # Makers' explanations of vial sensitivity: 1 mm/m is 206.26", 0.6 mm/m 123.76", 0.02 mm/m
    # 4.125", and 5 degrees are 87.5 mm/m; 0.1 per cent for the printed digits.
    kit = demo_kit("courtyard")
    kit = kit.model_copy(update={"yard": kit.yard.model_copy(update={"slope_percent": percent})})
    assert slope_of(kit)[0] * 3600 == pytest.approx(arcsec, rel=1e-3)


def test_what_is_guessed_leaves_the_push_uncertain():
    kit = demo_kit("paddock")  # guesses its tripod's spread and mass
    now = tipping(kit)
    push, margin = stand_sigma(kit, now)
    assert 1 < push < 10
    assert 5 < margin < 60
    read_off, _ = stand_sigma(kit.model_copy(update={"guessed": ()}), now)
    assert 0 < read_off < push / 2
    # By hand for one of them: feet 12 per cent further out, the spread of that guess, instead of
    # the 2 per cent of what is read off (or 2 mm).
    one = kit.model_copy(update={"guessed": ("mount.tripod.foot_radius_mm",)})
    radius = kit.mount.tripod.foot_radius_mm
    wide = _with_tripod(kit, foot_radius_mm=radius * 1.12)
    guessed = tipping(wide).push_n - now.push_n
    known = guessed * max(0.02, 2.0 / radius) / 0.12
    wanted = np.sqrt(read_off**2 - known**2 + guessed**2)
    assert stand_sigma(one, now)[0] == pytest.approx(wanted, rel=0.01)
