"""The eyepiece: height, direction and what can fall, by geometry worked out on its own."""

from __future__ import annotations

import numpy as np
import pytest
from machines import KITS, at_latitude, kit_with, random_sky
from scipy.spatial.transform import Rotation

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.mount.clearance.nearest import bodies, least_distance
from axletree.mount.clearance.paths import DECLINATION_FIRST, HOUR_FIRST, best_path, turn_path
from axletree.mount.rig.build import LEVEL, Slope, build_rig, eye_at, turned
from axletree.mount.rig.eyepiece import eye_place, posture_of, stool_mm
from axletree.mount.rig.kinematics import align, axis_angles
from axletree.mount.room.ring_turn import discomfort_m, ring_turn
from axletree.tell.side.text import posture_words

HEIGHTS = (1000.0, 1650.0)
PADDOCK_DIAGONAL = 'diagonal = "mirror"'


def _place(rig, axes, side, H, d):
    return eye_place(rig, axes, *axis_angles(axes, side, H, d), HEIGHTS)


def test_newtonian_in_the_zenith_worked_out_by_hand():
    """Latitude 0, object in the zenith: tube upright, focuser square to it and level.

    Crossing 0.950 m high (see the kinematics), the focuser's distance from the tube's front and
    the clamp's give its height; turn 0 puts it away from the saddle, 90 to the right.
    """
    kit = kit_with("courtyard", ("latitude_deg = 38.5712", "latitude_deg = 0.0"))
    rig, axes = build_rig(kit, slope=LEVEL), align(0.0)
    height = 0.950 + rig.clamp_from_front_m - kit.tube.focuser_from_front_mm / 1000
    reach = kit.tube.focuser_reach_mm / 1000
    for side, east in (("east", 1), ("west", -1)):
        place = _place(rig, axes, side, 0.0, 0.0)
        assert place.height_m == pytest.approx(height, abs=1e-12)
        assert place.barrel_altitude_deg == pytest.approx(0.0, abs=1e-9)
        # The eye comes from outside and faces the mount: west on side east.
        assert place.face_azimuth_deg == pytest.approx(270.0 if east > 0 else 90.0)
        assert place.east_m == pytest.approx(east * (0.271 + reach), abs=1e-12)
        assert not place.can_fall


def test_refractor_at_the_pole_looks_down_its_axis():
    """Latitude 90, diagonal straight: the eye looks up along the tube, the barrel hangs down."""
    kit = kit_with("paddock", ("latitude_deg = -44.021", "latitude_deg = 90.0"),
                   (PADDOCK_DIAGONAL, 'diagonal = "none"'))  # fmt: skip
    rig, axes = build_rig(kit, slope=LEVEL), align(90.0)
    place = _place(rig, axes, "east", 0.0, 90.0)
    assert place.barrel_altitude_deg == pytest.approx(-90.0)
    assert np.isnan(place.face_azimuth_deg)
    assert place.can_fall
    # Hinge 0.97 m, axis upright: crossing 0.130 m above it; tube end and reach below that.
    behind = (kit.tube.length_mm + kit.tube.focuser_reach_mm) / 1000 - rig.clamp_from_front_m
    assert place.height_m == pytest.approx(0.970 + 0.130 - behind, abs=1e-12)


@pytest.mark.parametrize(
    ("diagonal", "angle", "bend"), [("mirror", 90, 90.0), ("erecting", 45, 45.0), ("none", 90, 0.0)]
)
def test_diagonals_bend_the_barrel_by_their_angle(diagonal, angle, bend):
    kit = kit_with(
        "paddock", (PADDOCK_DIAGONAL, f'diagonal = "{diagonal}"\ndiagonal_angle_deg = {angle}')
    )
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    H, d = random_sky(200, 61)
    h, w = axis_angles(axes, "east", H, d)
    altitudes = eye_place(rig, axes, h, w, HEIGHTS).barrel_altitude_deg
    assert np.degrees(np.arccos(-rig.barrel[2])) == pytest.approx(bend, abs=1e-6)
    # Wherever the tube points, the barrel stays within the bend of the light's own direction.
    sky = np.sin(np.radians(d)) * np.sin(np.radians(kit.site.latitude_deg))
    sky = sky + np.cos(np.radians(d)) * np.cos(np.radians(kit.site.latitude_deg)) * np.cos(
        np.radians(15 * H)
    )
    down = -np.degrees(np.arcsin(np.clip(sky, -1, 1)))
    assert (np.abs(altitudes - down) <= bend + 1e-6).all()


@pytest.mark.parametrize("name", KITS)
def test_height_and_direction_against_scipy_rotations(name):
    kit = demo_kit(name)
    latitude = kit.site.latitude_deg
    s = 1.0 if latitude >= 0 else -1.0
    phi = np.radians(latitude)
    axes = align(latitude)
    pole = np.array([0.0, s * np.cos(phi), s * np.sin(phi)])
    top = np.array([0.0, -np.sin(phi), np.cos(phi)])
    head, tube = kit.mount.head, kit.tube
    hinge = kit.mount.tripod.top_height_mm + head.pivot_height_mm
    cross = np.array([0, 0, hinge]) + head.crossing_along_mm * pole + head.crossing_above_mm * top
    for ring in (0.0, 70.0, 200.0):
        rig = turned(kit, build_rig(kit, slope=LEVEL), ring)
        assert rig.barrel == pytest.approx(eye_at(kit, rig, ring)[1])
        for H, d in zip(*random_sky(40, 71), strict=True):
            for side, sign in (("east", 1), ("west", -1)):
                turn = Rotation.from_rotvec(-s * np.radians((H - 6 * sign) * 15) * pole)
                end = turn.apply(top)
                swing = Rotation.from_rotvec(np.radians(90 - s * d) * s * sign * end)
                look = swing.apply(pole)
                # Clockwise seen from behind is clockwise about the way the tube looks.
                out = Rotation.from_rotvec(np.radians(ring) * look).apply(end)
                middle = cross + end * (
                    head.saddle_distance_mm + tube.dovetail_height_mm + tube.diameter_mm / 2
                )
                front = middle + look * rig.clamp_from_front_m * 1000
                if tube.kind == "newtonian":
                    eye = front - look * tube.focuser_from_front_mm + out * tube.focuser_reach_mm
                else:
                    eye = front - look * (tube.length_mm + tube.focuser_reach_mm)
                    eye = eye + out * tube.diagonal_arm_mm
                place = _place(rig, axes, side, H, d)
                assert place.height_m * 1000 == pytest.approx(eye[2], abs=1e-6)
                assert place.barrel_altitude_deg == pytest.approx(
                    np.degrees(np.arcsin(np.clip(out[2], -1, 1))), abs=1e-6
                )
                if not np.isnan(place.face_azimuth_deg):
                    face = np.degrees(np.arctan2(-out[0], -out[1])) % 360
                    assert place.face_azimuth_deg == pytest.approx(face, abs=1e-6)


def test_height_counts_from_the_ground_under_the_eye():
    kit = demo_kit("courtyard")
    axes = align(kit.site.latitude_deg)
    level = _place(build_rig(kit, slope=LEVEL), axes, "east", 0.0, 20.0)
    slope = _place(build_rig(kit, slope=Slope(10.0, 90.0)), axes, "east", 0.0, 20.0)
    assert slope.height_m - level.height_m == pytest.approx(0.10 * level.east_m, abs=1e-9)


def test_stools_and_postures():
    assert stool_mm(0.0) == 0.0
    assert stool_mm(0.012) == 50.0
    assert stool_mm(0.151) == 200.0
    assert posture_words(posture_of(0.3, 0.0)) == "a step of 300 mm is needed"
    assert posture_words(posture_of(0.0, 0.4)) == "kneel or sit low"
    assert posture_words(posture_of(0.0, 0.1)) == "sit or stoop"
    assert posture_words(posture_of(0.0, 0.0)) == "standing height"


def test_ring_turn_against_trying_every_degree():
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    H = np.array([-3.0, -1.0, 1.5, 2.5, 4.0])
    d = np.array([10.0, 40.0, 30.0, -10.0, 60.0])
    h, w = axis_angles(axes, np.where(H > 0, 1, -1), H, d)
    found = ring_turn(kit, rig, axes, h, w, step_deg=1.0)
    totals = []
    for turn in np.arange(0.0, 360.0, 1.0):
        place = eye_place(turned(kit, rig, float(turn)), axes, h, w, HEIGHTS)
        hanging = np.maximum(-np.sin(np.radians(place.barrel_altitude_deg)), 0) * 0.5
        slant = 0.05 * (1 - np.cos(np.radians(place.barrel_altitude_deg - 40.0)))
        totals.append((np.maximum(place.height_m - 1.65, 0) + np.maximum(1.0 - place.height_m, 0)
                       + hanging + slant).sum())  # fmt: skip
    np.testing.assert_allclose(found.total_m, totals, atol=1e-9)
    assert found.touching == ()
    assert found.discomfort_m.sum() == pytest.approx(min(totals), abs=0.02)
    assert found.discomfort_m.sum() <= found.present_discomfort_m.sum() + 1e-12
    assert (found.own_discomfort_m <= found.discomfort_m + 1e-12).all()
    np.testing.assert_allclose(discomfort_m(found.place), found.discomfort_m, atol=1e-12)


def test_ring_turn_avoids_an_eyepiece_in_the_leg():
    # Side west, low over the pole: the turn with the best height would put the eyepiece into a
    # leg of the tripod, though the pose is clear as the diagonal stands.
    kit = kit_with("paddock", ("weights_up_h = 1.0", ""))
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    h, w = axis_angles(axes, "west", 2.06, -66.5)
    assert least_distance(bodies(rig, axes), h, w)[0] > 0.02
    found = ring_turn(kit, rig, axes, h, w)
    tempting = float(found.turns_deg[found.total_m.argmin()])
    assert least_distance(bodies(turned(kit, rig, tempting), axes), h, w)[0] < 0.02
    assert found.turn_deg != tempting
    assert found.touching == ()
    assert least_distance(bodies(turned(kit, rig, found.turn_deg), axes), h, w)[0] > 0.02


def test_ring_turn_refuses_what_makes_no_sense():
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    with pytest.raises(AxletreeError, match="list is empty"):
        ring_turn(kit, rig, axes, [], [])
    fixed = kit_with("courtyard", ("ring_turn_deg = 0", "ring_turn_fixed = true"))
    with pytest.raises(AxletreeError, match="ring_turn_fixed"):
        ring_turn(fixed, build_rig(fixed), axes, [0.0], [10.0])
    straight = kit_with("paddock", (PADDOCK_DIAGONAL, 'diagonal = "none"'))
    with pytest.raises(AxletreeError, match="turning changes nothing"):
        ring_turn(straight, build_rig(straight), align(-44.0), [0.0], [10.0])


def test_turns_tell_where_the_barrel_hangs():
    """The barrel hangs where the weights are up, and a turn to such a pose passes through it.

    With the focuser away from the saddle the barrel follows the declination axis' end: it hangs
    exactly where that end points below the horizon, that is where the weights are up.
    """
    kit = at_latitude(demo_kit("courtyard"), 45.0)
    rig, axes = build_rig(kit), align(45.0)
    pairs = bodies(rig, axes)
    start = tuple(float(a) for a in axis_angles(axes, "west", -1.0, 30.0))
    goal = tuple(float(a) for a in axis_angles(axes, "east", 2.0, 50.0))
    path = turn_path(rig, axes, pairs, start, goal)
    assert path.order == HOUR_FIRST
    assert not path.can_fall
    assert path.hour_turn_deg == pytest.approx(15 * (goal[0] - start[0]))
    assert path.tube_end_h[0] == pytest.approx(start[0])
    assert path.swing_deg[-1] == pytest.approx(goal[1])
    # By way of the weights hanging down: the end of the axis never comes near 12 h.
    assert np.abs(path.tube_end_h).max() < 6.0
    up = tuple(float(a) for a in axis_angles(axes, "west", 2.0, 50.0))
    assert turn_path(rig, axes, pairs, start, up).can_fall
    # The lowest barrel altitude is the end of the axis' own at the goal.
    place = eye_place(rig, axes, *up, HEIGHTS)
    assert turn_path(rig, axes, pairs, start, up).lowest_barrel_deg == pytest.approx(
        float(place.barrel_altitude_deg), abs=1e-6
    )


def test_the_better_order_of_the_axes_keeps_clear():
    kit = demo_kit("courtyard")
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    pairs = bodies(rig, axes)
    rng = np.random.default_rng(2)
    differ = 0
    for _ in range(40):
        H, d = rng.uniform(-4, 4, 2), rng.uniform(-10, 80, 2)
        poses = [
            tuple(float(a) for a in axis_angles(axes, str(rng.choice(["east", "west"])), x, y))
            for x, y in zip(H, d, strict=True)
        ]
        both = [turn_path(rig, axes, pairs, *poses, o) for o in (HOUR_FIRST, DECLINATION_FIRST)]
        best = best_path(rig, axes, pairs, *poses, 0.02)
        assert min(best.least_m, 0.02) == pytest.approx(max(min(p.least_m, 0.02) for p in both))
        differ += best.order == DECLINATION_FIRST
    assert 0 < differ < 40
