"""Every length that was read off a kit with a rule is found again in the rig, to a micrometre."""

from __future__ import annotations

import numpy as np
import pytest
from machines import KITS, kit_with

from axletree.kit.kit import demo_kit
from axletree.kit.parts.tube import Accessory
from axletree.mount.rig.build import build_rig

MICROMETRE = 1e-6


def mm(metres) -> float:
    return float(metres) * 1000.0


class Read:
    """A rule laid to a rig: lengths in millimetres, places from the tube's axis and its front."""

    def __init__(self, rig):
        self.rig = rig
        tube = rig.index("tube")
        self.front, self.back = rig.start_m[tube], rig.end_m[tube]
        self.axis = (self.back - self.front) / np.linalg.norm(self.back - self.front)

    def length(self, name: str) -> float:
        k = self.rig.index(name)
        return mm(np.linalg.norm(self.rig.end_m[k] - self.rig.start_m[k]))

    def radius(self, name: str) -> float:
        return mm(self.rig.radius_m[self.rig.index(name)])

    def middle(self, name: str):
        k = self.rig.index(name)
        return (self.rig.start_m[k] + self.rig.end_m[k]) / 2.0

    def from_front(self, point) -> float:
        return mm((point - self.front) @ self.axis)

    def aside(self, point) -> float:
        way = point - self.front
        return mm(np.linalg.norm(way - (way @ self.axis) * self.axis))


@pytest.fixture(params=KITS)
def kit(request):
    """A demo kit with a dew shield, and something else riding on its tube."""
    whole = demo_kit(request.param)
    tube = whole.tube.model_copy(update={
        "dew_shield_length_mm": 213.0, "dew_shield_diameter_mm": 287.0,
        "accessories": (Accessory(name="lamp", mass_kg=0.4, offset_mm=171.0, from_front_mm=322.0,
                                  angle_deg=37.0, radius_mm=23.0),),
    })  # fmt: skip
    return whole.model_copy(update={"tube": tube})


def test_the_tube_and_what_rides_on_it(kit):
    rig, tube = build_rig(kit), kit.tube
    read = Read(rig)

    def is_mm(value: float):
        return pytest.approx(value, abs=1000.0 * MICROMETRE)

    assert read.length("tube") == is_mm(tube.length_mm)
    assert read.radius("tube") == is_mm(tube.diameter_mm / 2.0)
    assert read.length("dew shield") == is_mm(213.0)
    assert read.radius("dew shield") == is_mm(287.0 / 2.0)
    # It stands before the front, about the same axis.
    assert read.from_front(read.middle("dew shield")) == is_mm(-213.0 / 2.0)
    assert read.aside(read.middle("dew shield")) == is_mm(0.0)
    assert read.from_front(read.middle("lamp")) == is_mm(322.0)
    assert read.aside(read.middle("lamp")) == is_mm(171.0)
    assert read.radius("lamp") == is_mm(23.0)
    if tube.dovetail_height_mm > 0:
        assert read.length("dovetail") == is_mm(min(tube.dovetail_length_mm, tube.length_mm))
        assert read.radius("dovetail") == is_mm(tube.dovetail_height_mm / 2.0)
        assert read.from_front(read.middle("dovetail")) == is_mm(tube.balance_from_front_mm)
        on_it = (tube.diameter_mm + tube.dovetail_height_mm) / 2.0
        assert read.aside(read.middle("dovetail")) == is_mm(on_it)
    if tube.finder is not None:
        assert read.length("finder") == is_mm(tube.finder.length_mm)
        assert read.radius("finder") == is_mm(tube.finder.radius_mm)
        assert read.from_front(read.middle("finder")) == is_mm(tube.finder.from_front_mm)
        assert read.aside(read.middle("finder")) == is_mm(tube.finder.offset_mm)
    assert read.radius("focuser") == is_mm(tube.focuser_radius_mm)
    assert read.radius("eyepiece") == is_mm(kit.eyepieces[0].radius_mm)
    if tube.kind == "newtonian":
        assert read.from_front(rig.eye_point_m) == is_mm(tube.focuser_from_front_mm)
        assert read.aside(rig.eye_point_m) == is_mm(tube.focuser_reach_mm)


@pytest.mark.parametrize(("diagonal", "angle"), [("mirror", 90), ("erecting", 45), ("none", 0)])
def test_the_eye_behind_a_lens(diagonal, angle):
    """Straight back by the focuser's reach, then by the diagonal's arm at its angle."""
    glass = f'diagonal = "{diagonal}"\ndiagonal_angle_deg = {angle or 90}'
    kit = kit_with("paddock", ('diagonal = "mirror"', glass))
    rig, tube = build_rig(kit), kit.tube
    read, bend = Read(rig), np.radians(angle)
    arm = 0.0 if diagonal == "none" else tube.diagonal_arm_mm
    behind = tube.length_mm + tube.focuser_reach_mm + arm * np.cos(bend)
    assert read.from_front(rig.eye_point_m) == pytest.approx(behind, abs=1e-3)
    assert read.aside(rig.eye_point_m) == pytest.approx(arm * np.sin(bend), abs=1e-3)


def test_the_head_and_its_shaft(kit):
    rig, head, tripod = build_rig(kit), kit.mount.head, kit.mount.tripod
    read = Read(rig)
    assert read.length("polar housing") == pytest.approx(
        head.housing_back_mm + head.housing_front_mm, abs=1e-3
    )
    assert read.radius("polar housing") == pytest.approx(head.housing_radius_mm, abs=1e-3)
    assert read.radius("mount base") == pytest.approx(tripod.column_radius_mm, abs=1e-3)
    assert read.length("declination housing") == pytest.approx(
        head.shaft_start_mm + head.saddle_distance_mm, abs=1e-3
    )
    assert read.length("counterweight shaft") == pytest.approx(head.shaft_length_mm, abs=1e-3)
    assert read.radius("counterweight shaft") == pytest.approx(head.shaft_radius_mm, abs=1e-3)
    shaft = rig.start_m[rig.index("counterweight shaft")]
    assert mm(np.linalg.norm(shaft)) == pytest.approx(head.shaft_start_mm, abs=1e-3)
    pivot = tripod.top_height_mm + tripod.column_height_mm + head.pivot_height_mm
    assert mm(rig.hinge_height_m) == pytest.approx(pivot, abs=1e-3)
    for k in [k for k, name in enumerate(rig.names) if name == "counterweight"]:
        thick = mm(np.linalg.norm(rig.end_m[k] - rig.start_m[k]))
        assert any(
            abs(thick - w.thickness_mm) < 1e-3 and abs(mm(rig.radius_m[k]) - w.radius_mm) < 1e-3
            for w in kit.mount.weights
        )
