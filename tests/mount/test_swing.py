"""An axis with its lock open, against textbook pendulums and a body cut into small pieces.

Source: J. L. Meriam and L. G. Kraige, Engineering Mechanics: Dynamics, appendix B (moments of
inertia of homogeneous solids) and article 6/4 (the compound pendulum), values from memory.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from axletree.kit.kit import demo_kit
from axletree.mount.balance.masses import weight_masses
from axletree.mount.balance.positions import eyepieces_of, solve, torques_nm
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, frames
from axletree.mount.steady.swing import Freed, freed_declination, freed_hour, inertia_about


def one(mass: float, start: list[float], end: list[float], radius: float, axis: int) -> float:
    a, b = np.array([start]), np.array([end])
    return inertia_about(np.array([mass]), (a + b) / 2, a, b, np.array([radius]), axis)


def test_solids_of_the_table() -> None:
    # Slender rod about its end: m l2 / 3; about its middle: m l2 / 12.
    assert one(2.0, [0, 0, 0], [0, 0, 3], 0.0, 0) == pytest.approx(2 * 9 / 3)
    assert one(2.0, [0, 0, -1.5], [0, 0, 1.5], 0.0, 0) == pytest.approx(2 * 9 / 12)
    # Cylinder about its own axis: m r2 / 2; about a diameter of its middle: m (3 r2 + l2) / 12.
    assert one(5.0, [0, 0, -1], [0, 0, 1], 0.4, 2) == pytest.approx(5 * 0.16 / 2)
    assert one(5.0, [0, 0, -1], [0, 0, 1], 0.4, 0) == pytest.approx(5 * (3 * 0.16 + 4) / 12)


def test_a_slanted_cylinder_cut_into_pieces() -> None:
    rng = np.random.default_rng(3)
    start, end, radius, mass = np.array([0.1, -0.2, 0.3]), np.array([0.5, 0.4, 0.9]), 0.12, 3.0
    along = (end - start) / np.linalg.norm(end - start)
    side = np.cross(along, [0.0, 0.0, 1.0])
    side /= np.linalg.norm(side)
    up = np.cross(along, side)
    n = 400_000
    t, r, a = rng.random(n), radius * np.sqrt(rng.random(n)), rng.random(n) * 2 * np.pi
    points = start + t[:, None] * (end - start)
    points += r[:, None] * (np.cos(a)[:, None] * side + np.sin(a)[:, None] * up)
    for axis in range(3):
        others = [i for i in range(3) if i != axis]
        cut = mass * float(np.mean(np.sum(points[:, others] ** 2, axis=1)))
        assert one(mass, list(start), list(end), radius, axis) == pytest.approx(cut, rel=0.004)


def test_a_rod_hung_at_its_end_is_at_rest() -> None:
    long, mass = 0.8, 1.3
    rod = Freed(0.0, -mass * long / 2, mass * long**2 / 3, 9.80665, mass)
    assert rod.torque_nm == 0.0


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_the_torques_are_those_of_the_balance_answer(name: str) -> None:
    # `balance.torques_nm` works from its own list of masses, in general poses.
    kit = demo_kit(name)
    axes = align(kit.site.latitude_deg)
    label, mass = eyepieces_of(kit)[0]
    answer = solve(kit, (label, mass))
    loading = answer.loading
    moved = replace(
        loading,
        position_mm=tuple(p + 25.0 for p in loading.position_mm),
        gap_mm=tuple(g + 25.0 for g in loading.gap_mm),
    )
    over = answer.over_saddle_mm + 30.0
    rig = build_rig(kit, eyepiece=0, loading=moved, clamp_from_front_mm=over)
    shifted = solve(kit, (label, mass))
    hour = freed_hour(rig, axes.altitude_deg)
    added = moved.moment_kg_m - loading.moment_kg_m
    assert hour.along_kg_m == pytest.approx(loading.leftover_kg_m - added, abs=2e-3)
    assert hour.torque_nm < 0  # weights pulled outwards sink
    declination = freed_declination(rig)
    # Clamped 30 mm nearer to its back than balance wants, the front hangs over.
    assert declination.torque_nm == pytest.approx(
        9.80665 * shifted.tube.total_kg * 0.030, rel=0.02, abs=0.05
    )
    # The same pull on the weights alone, in the pose with the shaft level, by the other list.
    level = build_rig(kit, eyepiece=0, loading=moved, clamp_from_front_mm=answer.over_saddle_mm)
    weights = weight_masses(np.array(moved.mass_kg), np.array(moved.position_mm))
    tube_end = 6.0 if axes.sense > 0 else -6.0
    polar, tube = frames(axes, tube_end, 0.0)
    about_p, _ = torques_nm(answer.head + weights, answer.tube, axes.pole, polar[:, 0], tube[:, 2])
    pulled = freed_hour(level, axes.altitude_deg).torque_nm
    assert abs(pulled) > 0.5
    assert abs(pulled) == pytest.approx(abs(float(about_p)), rel=0.02)


def test_a_balanced_axis_stays_and_a_heavy_one_does_not() -> None:
    kit = demo_kit()
    label, mass = eyepieces_of(kit)[0]
    answer = solve(kit, (label, mass))
    rig = build_rig(kit, eyepiece=0, loading=answer.loading,
                    clamp_from_front_mm=answer.over_saddle_mm)  # fmt: skip
    assert freed_hour(rig, 38.57).stays
    assert freed_declination(rig).stays
    off = build_rig(kit, eyepiece=0, loading=answer.loading,
                    clamp_from_front_mm=answer.over_saddle_mm - 40)  # fmt: skip
    assert not freed_declination(off).stays
    assert freed_declination(off).torque_nm < 0  # clamped too near the front: the back sinks
