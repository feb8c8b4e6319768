"""A tripod that is turned or leans, against rotations by scipy."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from axletree.kit.kit import Kit, demo_kit
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.parts import GROUND, Rig


def with_tripod(kit: Kit, **changes: Any) -> Kit:
    tripod = kit.mount.tripod.model_copy(update=changes)
    return kit.model_copy(update={"mount": kit.mount.model_copy(update={"tripod": tripod})})


def ends(rig: Rig) -> np.ndarray:
    """Start, end and centre of every part that stands on the ground, from the altitude hinge."""
    on = rig.frame == GROUND
    points = np.concatenate([rig.start_m[on], rig.end_m[on], rig.centre_m[on]])
    return points - [0.0, 0.0, rig.hinge_height_m]


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_a_lean_turns_legs_and_tray_about_the_hinge(name: str) -> None:
    """The top leans to the pole and to the right of whoever faces it: in the north that is north
    and east, in the south south and west. A rotation vector is square to both."""
    kit = demo_kit(name)
    straight = build_rig(kit)
    leaning = build_rig(with_tripod(kit, lean_to_pole_deg=1.5, lean_to_right_deg=0.8))
    sense = straight.sense
    towards = np.radians([0.8 * sense, 1.5 * sense])  # east, north
    turn = Rotation.from_rotvec([-towards[1], towards[0], 0.0])
    assert ends(leaning) == pytest.approx(turn.apply(ends(straight)), abs=1e-12)
    # The head keeps its place and the axis its way: only what stands on the ground has moved.
    moved = straight.frame != GROUND
    assert np.array_equal(straight.start_m[moved], leaning.start_m[moved])
    assert straight.hinge_height_m == leaning.hinge_height_m
    # By hand: the feet lie opposite to where the top goes, by about hinge height times the lean.
    feet = straight.end_m[:1].copy()
    shift = leaning.end_m[0] - feet[0]
    assert shift[1] == pytest.approx(-sense * straight.hinge_height_m * np.radians(1.5), abs=0.015)


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_a_turned_tripod_is_the_same_one_seen_from_elsewhere(name: str) -> None:
    """Clockwise seen from above is a negative turn about the upward axis."""
    kit = demo_kit(name)
    kit = kit.model_copy(update={"yard": None})  # on level ground
    turned = build_rig(with_tripod(kit, turned_deg=7.0))
    straight = build_rig(kit)
    turn = Rotation.from_rotvec([0.0, 0.0, -np.radians(7.0)])
    assert ends(turned) == pytest.approx(turn.apply(ends(straight)), abs=1e-12)
    assert turned.names == straight.names


def test_half_thicknesses_of_the_kit_are_those_of_the_rig() -> None:
    kit = demo_kit("courtyard")
    thick = kit.eyepieces[0].model_copy(update={"radius_mm": 31.0})
    tube = kit.tube.model_copy(update={"focuser_radius_mm": 40.0})
    rig = build_rig(kit.model_copy(update={"eyepieces": (thick, *kit.eyepieces[1:]), "tube": tube}))
    assert rig.radius_m[rig.index("eyepiece")] == pytest.approx(0.031)
    assert rig.radius_m[rig.index("focuser")] == pytest.approx(0.040)
    plain = build_rig(kit)
    assert plain.radius_m[plain.index("eyepiece")] == pytest.approx(0.022)
