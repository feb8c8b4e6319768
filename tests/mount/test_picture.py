"""The view: rays followed through mirrors in space, and what every observer knows."""

from __future__ import annotations

import numpy as np
import pytest
from machines import kit_with, random_sky

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.field_orientation import is_mirrored, picture, picture_kind
from axletree.mount.rig.kinematics import align, axis_angles, frames
from axletree.sky.directions import vector_from_hour_angle
from axletree.tell.side.text import picture_words

PADDOCK_DIAGONAL = 'diagonal = "mirror"'


def _clock_gap(a, b):
    return abs((float(a) - b + 180.0) % 360.0 - 180.0)


def _refractor(latitude, diagonal, angle=90):
    kit = kit_with(
        "paddock",
        ("latitude_deg = -44.021", f"latitude_deg = {latitude}"),
        (PADDOCK_DIAGONAL, f'diagonal = "{diagonal}"\ndiagonal_angle_deg = {angle}'),
    )
    return kit, align(latitude)


def _upright_turn(kit, axes, h, w):
    """The ring turn that points the barrel as high as it goes."""
    turns = np.arange(0.0, 360.0, 1.0)
    R = frames(axes, h, w)[1]
    heights = [(R @ build_rig(kit, ring_turn_deg=float(t)).barrel)[2] for t in turns[::5]]
    rough = turns[::5][int(np.argmax(heights))]
    fine = [
        (R @ build_rig(kit, ring_turn_deg=float(t)).barrel)[2] for t in rough + np.arange(-5, 6)
    ]
    return float(rough + np.arange(-5, 6)[int(np.argmax(fine))])


@pytest.mark.parametrize("latitude", [45.0, -45.0])
def test_straight_through_everything_is_upside_down(latitude):
    # Common practice: an astronomical telescope without diagonal shows the sky upside down. On
    # the meridian away from the pole north (in the north) is down and the sky drifts to the left.
    kit, axes = _refractor(latitude, "none")
    rig = build_rig(kit)
    view = picture(rig, kit.tube, axes, *axis_angles(axes, "east", 0.0, 0.0))
    assert not view.mirrored
    assert _clock_gap(view.zenith_deg, 180.0) < 1e-6
    north = latitude > 0
    assert _clock_gap(view.north_deg, 180.0 if north else 0.0) < 1e-6
    # Facing south, west is on the right, upside down on the left; facing north the other way.
    assert _clock_gap(view.drift_deg, 270.0 if north else 90.0) < 1e-6


@pytest.mark.parametrize("latitude", [45.0, -45.0])
def test_a_star_diagonal_is_upright_and_mirrored(latitude):
    # Common practice: a mirror diagonal turned up shows the sky upright, left and right exchanged.
    kit, axes = _refractor(latitude, "mirror")
    h, w = axis_angles(axes, "east", 0.0, 0.0)
    rig = build_rig(kit, ring_turn_deg=_upright_turn(kit, axes, h, w))
    view = picture(rig, kit.tube, axes, h, w)
    assert view.mirrored
    assert is_mirrored(kit.tube)
    assert _clock_gap(view.zenith_deg, 0.0) < 1.5
    assert _clock_gap(view.drift_deg, 270.0 if latitude > 0 else 90.0) < 1.5


@pytest.mark.parametrize("latitude", [45.0, -45.0])
def test_an_erecting_prism_is_upright_and_true(latitude):
    # Common practice: a roof prism shows things as the naked eye sees them.
    kit, axes = _refractor(latitude, "erecting", 45)
    h, w = axis_angles(axes, "east", 0.0, 0.0)
    rig = build_rig(kit, ring_turn_deg=_upright_turn(kit, axes, h, w))
    view = picture(rig, kit.tube, axes, h, w)
    assert not view.mirrored
    assert _clock_gap(view.zenith_deg, 0.0) < 1.5
    assert _clock_gap(view.drift_deg, 90.0 if latitude > 0 else 270.0) < 1.5


def _image_of(kit, rig, R, way):
    """Where a star one step off the axis is seen, by following the light through space.

    Objective at the origin, focal length 1. The image of a far point lies on the ray through
    the objective's middle; each flat mirror reflects the image point about its plane. The
    eyepiece is a magnifier: the eye sees the image as it lies there.
    """
    T = R[:, 2]
    a = way - (way @ T) * T
    a = 1e-3 * a / np.linalg.norm(a)
    u = R @ rig.barrel
    if kit.tube.kind == "newtonian":
        # Main mirror at the origin, facing the sky: its middle sends the ray back mirrored.
        ray = -(T + a)
        ray = ray - 2 * (ray @ T) * T
        image, axis_image, where = ray, T, 0.6 * T
    else:
        image, axis_image, where = -(T + a), -T, -0.6 * T
        if kit.tube.diagonal == "none":
            return image - axis_image, u
    normal = axis_image - u
    normal = normal / np.linalg.norm(normal)

    def reflect(point):
        return point - 2 * ((point - where) @ normal) * normal

    step = reflect(image) - reflect(axis_image)
    if kit.tube.diagonal == "erecting":  # its roof: one more mirror, through the axis' own plane
        side = np.cross(T, u)
        side = side / np.linalg.norm(side)
        step = step - 2 * (step @ side) * side
    return step, u


@pytest.mark.parametrize("kind", ["newtonian", "mirror", "prism", "none", "erecting"])
@pytest.mark.parametrize("north", [True, False])
def test_views_against_light_followed_through_space(kind, north):
    latitude = 40.0 if north else -40.0
    if kind == "newtonian":
        kit = kit_with("courtyard", ("latitude_deg = 38.5712", f"latitude_deg = {latitude}"))
        axes = align(latitude)
    else:
        kit, axes = _refractor(latitude, kind, 45 if kind == "erecting" else 90)
    pole = vector_from_hour_angle(0.0, 90.0, latitude)
    for ring in (0.0, 50.0, 290.0):
        rig = build_rig(kit, ring_turn_deg=ring)
        for H, d in zip(*random_sky(25, 81, 5.0), strict=True):
            for side in ("east", "west"):
                h, w = axis_angles(axes, side, H, d)
                R = frames(axes, h, w)[1]
                view = picture(rig, kit.tube, axes, h, w)
                later = vector_from_hour_angle(H + 0.01, d, latitude)
                for way, angle in ((pole, view.north_deg), (later, view.drift_deg)):
                    step, u = _image_of(kit, rig, R, way)
                    look = -u
                    if np.hypot(*look[:2]) < 0.12:
                        continue
                    top = np.array([0.0, 0.0, 1.0]) - look[2] * look
                    right = np.cross(look, top)
                    seen = np.degrees(np.arctan2(step @ right, step @ top)) % 360
                    assert _clock_gap(angle, seen) < 0.2  # a hundredth of an hour isn't a tangent
                turn = (float(view.drift_deg) - float(view.north_deg)) % 360
                # Seen by eye, west is a quarter turn clockwise from north; mirrored, against it.
                assert turn == pytest.approx(270.0 if view.mirrored else 90.0, abs=1e-6)


def test_west_is_clockwise_from_north_for_the_naked_eye():
    # Common practice: facing south (in the north) the east is on the left, so that with north
    # up west is to the right, a quarter turn clockwise. The check above rests on it.
    north, west = np.array([0.0, 0.0, 1.0]), np.array([-1.0, 0.0, 0.0])
    look = np.array([0.0, -1.0, 0.0])
    assert np.cross(look, north) @ west == pytest.approx(1.0)


def test_words_of_the_view():
    assert "not mirrored" in picture_words(picture_kind(demo_kit("courtyard").tube))
    assert "mirror image" in picture_words(picture_kind(demo_kit("paddock").tube))


@pytest.mark.parametrize(
    ("rig_of", "tube_of"),
    [(("mirror", 90), ("none", 90)), (("none", 90), ("mirror", 90)),
     (("erecting", 45), ("mirror", 90)), (("mirror", 90), ("mirror", 45))],
)  # fmt: skip
def test_a_barrel_of_another_tube_is_refused(rig_of, tube_of):
    # Geometry: north and drift (west) are square to each other on the sky, and so in any view.
    kit, axes = _refractor(45.0, *rig_of)
    other, _ = _refractor(45.0, *tube_of)
    pose = axis_angles(axes, "east", 1.0, 20.0)
    view = picture(build_rig(kit), kit.tube, axes, *pose)
    assert _clock_gap(view.north_deg - view.drift_deg, 90.0) < 1e-6 or (
        _clock_gap(view.north_deg - view.drift_deg, 270.0) < 1e-6
    )
    with pytest.raises(AxletreeError, match="build the rig from the same kit") as refused:
        picture(build_rig(kit), other.tube, axes, *pose)
    assert "\n" not in str(refused.value)


def test_a_newtonians_tube_with_a_refractors_barrel_is_refused():
    straight, axes = _refractor(45.0, "none")
    with pytest.raises(AxletreeError, match="newtonian"):
        picture(build_rig(straight), demo_kit("courtyard").tube, axes, 0.0, 0.0)
