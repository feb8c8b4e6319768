"""Clearance: the map against pair by pair, symmetry, and rigs that can't work."""

from __future__ import annotations

import numpy as np
import pytest
from machines import KITS, at_latitude, kit_with, random_sky

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_kit, demo_text
from axletree.mount.clearance.map import clear_poses, clearance_map
from axletree.mount.clearance.nearest import NEVER, bodies, distances, least_distance
from axletree.mount.clearance.workable import check_rig, reachable_share
from axletree.mount.rig.build import LEVEL, Slope, build_rig
from axletree.mount.rig.kinematics import SIDES, align, axis_angles


@pytest.mark.parametrize("name", KITS)
def test_the_map_equals_pair_by_pair(name):
    kit = demo_kit(name)
    axes = align(kit.site.latitude_deg)
    b = bodies(build_rig(kit), axes)
    found = clearance_map(b)
    assert found.distance_m.shape == (2, 720, 360)
    rng = np.random.default_rng(4)
    i, j, k = rng.integers(0, 2, 6000), rng.integers(0, 720, 6000), rng.integers(0, 360, 6000)
    side = np.array(SIDES)[i]
    h, w = axis_angles(axes, side, found.hours[j], found.declinations[k])
    table = distances(b, h, w)
    np.testing.assert_allclose(found.distance_m[i, j, k], table.min(axis=0), atol=1e-6)
    # The named pair is the nearest, or as near.
    named = table[found.pair[i, j, k], np.arange(6000)]
    np.testing.assert_allclose(named, table.min(axis=0), atol=1e-9)
    for margin_m in (0.0, 0.02):
        clear = found.distance_m > margin_m
        assert 0.1 < clear.mean() < 0.95
        np.testing.assert_array_equal(clear_poses(b, margin_m), clear)


def test_least_distance_is_the_least_of_all():
    kit = demo_kit("paddock")
    b = bodies(build_rig(kit), align(kit.site.latitude_deg))
    rng = np.random.default_rng(8)
    h, w = rng.uniform(-12, 12, (5, 400)), rng.uniform(-180, 180, (5, 400))
    least, which = least_distance(b, h, w)
    table = distances(b, h, w)
    np.testing.assert_allclose(least, table.min(axis=0), atol=1e-12)
    assert which.shape == (5, 400)
    assert least.max() < NEVER
    for few in (1, 7, 256):  # looked at together, with other arithmetic
        near, pair = least_distance(b, h[:, :few], w[:, :few])
        np.testing.assert_array_equal(near, least[:, :few])
        np.testing.assert_array_equal(pair, which[:, :few])


@pytest.mark.parametrize("latitude", [15.0, 38.57, 65.0])
def test_north_and_south_are_mirror_images(latitude):
    # A rig without anything to one side of the tube, on level ground.
    start = demo_text("courtyard").index("[tube.finder]")
    finder = demo_text("courtyard")[start : demo_text("courtyard").index("[[eyepiece]]")]
    kit = kit_with("courtyard", (finder, ""))
    H, d = random_sky(300, 3)
    found = []
    for sign in (1.0, -1.0):
        there = at_latitude(kit, sign * latitude)
        rig = build_rig(there, slope=LEVEL)
        axes = align(sign * latitude)
        b = bodies(rig, axes)
        found.append(
            [least_distance(b, *axis_angles(axes, s, H, sign * d))[0] for s in ("east", "west")]
        )
        # East and west of the meridian are mirror images as well.
        other = least_distance(b, *axis_angles(axes, "west", -H, sign * d))[0]
        np.testing.assert_allclose(found[-1][0], other, atol=1e-9)
    np.testing.assert_allclose(found[0], found[1], atol=1e-9)


def test_no_point_moves_faster_than_its_reach():
    # What the map's pruning rests on: a distance changes by no more than reach times angle.
    kit = demo_kit("courtyard")
    b = bodies(build_rig(kit), align(kit.site.latitude_deg))
    rng = np.random.default_rng(12)
    h, w = rng.uniform(-12, 12, 2000), rng.uniform(-180, 180, 2000)
    dh, dw = rng.uniform(-4, 4, (2, 2000))
    one, two = distances(b, h, w), distances(b, h + dh / 15.0, w + dw)
    for k, pair in enumerate(b.pairs):
        most = np.radians(np.abs(dh)) * pair.rod.reach
        most = most + np.radians(np.abs(dw)) * pair.rod.reach_from_x
        assert (np.abs(one[k] - two[k]) <= most + 1e-7).all(), pair.parts


def test_sideways_ground_lifts_one_side():
    kit = demo_kit("courtyard")
    axes = align(kit.site.latitude_deg)
    level = bodies(build_rig(kit, slope=LEVEL), axes)
    slope = bodies(build_rig(kit, slope=Slope(10.0, 90.0)), axes)
    ground = [k for k, p in enumerate(level.pairs) if p.parts == ("tube", "ground")]
    angles = axis_angles(axes, np.array([1, -1]), 0.0, 0.0)
    change = distances(slope, *angles, ground) - distances(level, *angles, ground)
    assert change[0, 0] > 0.02  # downhill in the east, where the tube hangs on side east
    assert change[0, 1] < -0.02


@pytest.mark.parametrize("name", KITS)
def test_demo_kits_reach_the_whole_open_sky(name):
    kit = demo_kit(name)
    axes = align(kit.site.latitude_deg)
    rig = build_rig(kit)
    check_rig(rig, axes)
    assert reachable_share(bodies(rig, axes), axes) > 0.99


@pytest.mark.parametrize("latitude", [0.0, 12.0, 24.9, 25.0, 40.0, 55.0, 70.0, 90.0, -20.0, -80.0])
@pytest.mark.parametrize("size", ["small", "middle", "large"])
def test_guessed_mounts_work_at_every_latitude(latitude, size):
    text = demo_text("paddock").replace('size = "middle"', f'size = "{size}"')
    text = text.replace("latitude_deg = -44.021", f"latitude_deg = {latitude}")
    kit, problems = check_text(text)
    assert kit is not None, problems
    check_rig(build_rig(kit), align(latitude))


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        ("courtyard", "length_mm = 700", "length_mm = 4200", "longer than the mount can turn"),
        ("paddock", "length_mm = 480", "length_mm = 4800", "collides with itself at rest"),
        ("courtyard", "top_height_mm = 780", "top_height_mm = 300", "at rest"),
        (
            "courtyard",
            "[tube.finder]",
            '[[tube.accessory]]\nname = "battery"\nmass_kg = 1\nfrom_front_mm = 390\n'
            "offset_mm = 150\nangle_deg = 180\nradius_mm = 60\n[tube.finder]",
            "battery and declination housing overlap by",
        ),
    ],
)
def test_rigs_that_cannot_work_are_refused_in_one_line(name, old, new, words):
    kit = kit_with(name, (old, new))
    with pytest.raises(AxletreeError, match=words) as refused:
        check_rig(build_rig(kit), align(kit.site.latitude_deg))
    assert "\n" not in str(refused.value)


def test_a_leg_under_hanging_weights_near_the_equator_is_named():
    kit = kit_with(
        "courtyard",
        ("latitude_deg = 38.5712", "latitude_deg = 3.0"),
        ("[mount.tripod]", "[mount.tripod]\nleg_directions_deg = [0, 120, 240]"),
    )
    with pytest.raises(AxletreeError, match=r"leg towards the pole.*turn the tripod by 60"):
        check_rig(build_rig(kit), align(3.0))


def test_kits_that_cannot_be_a_rig_are_refused():
    def problems(old, new):
        text = demo_text("courtyard")
        assert old in text
        return check_text(text.replace(old, new))[1]

    same_way = problems("[mount.tripod]", "[mount.tripod]\nleg_directions_deg = [0, 5, 240]")
    assert "two legs point the same way" in str(same_way[0])
    assert "must be more than 0" in str(problems("mass_kg = 5.2", "mass_kg = 0")[0])
    text = demo_text("courtyard")
    begin, end = text.index("[[mount.weight]]"), text.index("[tube]")
    text = (text[:begin] + text[end:]).replace('motion = "hand"', 'motion = "hand"\nweight = []')
    kit, _ = check_text(text)
    assert kit is not None
    with pytest.raises(AxletreeError, match="no counterweights"):
        build_rig(kit)
    with pytest.raises(AxletreeError, match="no eyepiece 9"):
        build_rig(demo_kit(), eyepiece=8)
    with pytest.raises(AxletreeError, match="no \\[camera\\]"):
        build_rig(demo_kit("courtyard"), camera=True)
