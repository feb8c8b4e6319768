"""Balance and tipping held against textbook statics and an independent equilibrium solver."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from axletree.kit.errors import AxletreeError
from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2, balance_place_mm
from axletree.mount.balance.weights import place
from axletree.mount.steady.support import (
    edges,
    extra_mass_kg,
    margins_m,
    pull_down_n,
    push_n,
    tipping_angle_deg,
)


def test_against_openstax_seesaw():
    # OpenStax College Physics, "The Second Condition for Equilibrium", seesaw example: 26.0 kg at
    # 1.60 m is balanced by 32.0 kg at 1.30 m; the pivot carries 568 N (g = 9.80 there).
    loading = place([(32.0, 1.0)], 0.0, 3000.0, 26.0 * 1.60)
    assert loading.exact
    assert loading.position_mm[0] / 1000 == pytest.approx(1.30, abs=0.005)
    pivot_n = (26.0 + loading.total_kg) * STANDARD_GRAVITY_M_S2
    assert pivot_n == pytest.approx(568, abs=1)
    # The same seesaw read as a centre of mass: the pivot is where it balances.
    assert balance_place_mm([26.0, 32.0], [0.0, 2900.0]) == pytest.approx(1600, abs=5)


def test_nothing_with_mass_cannot_balance():
    with pytest.raises(AxletreeError, match="all masses are zero"):
        balance_place_mm([0.0, 0.0], [1.0, 2.0])


def test_tipping_angles_of_exercises():
    # Textbook exercise: centre of mass 1.90 m high over a half-width of 0.75 m tips at 21.5 deg.
    assert tipping_angle_deg(1.90, 0.75) == pytest.approx(21.5, abs=0.1)
    # Workshop exercise: 1 ft above the middle of a 3 ft circle: 56.3 deg.
    assert tipping_angle_deg(1.0, 1.5) == pytest.approx(56.3, abs=0.1)


THREE = np.array([[np.sin(a), np.cos(a), 0.0] for a in np.radians([0, 120, 240])])


def test_table_on_three_legs():
    # Classic exercise (from memory; S. P. Timoshenko and D. H. Young, Engineering Mechanics, on
    # forces in space): a round table with three legs at its rim is upset by a load at the rim
    # midway between two legs once that load equals the table's own weight.
    R, M = 0.6, 18.0
    at = -R * THREE[0] + [0, 0, 0.75]
    pull = pull_down_n(R * THREE, M, np.array([0, 0, 0.7]), at)
    assert np.min(pull) == pytest.approx(M * STANDARD_GRAVITY_M_S2, rel=1e-9)
    # Over a leg, or anywhere inside the triangle, no load upsets it.
    assert np.isinf(pull_down_n(R * THREE, M, np.zeros(3), 0.99 * R * THREE[0])).all()


def test_block_that_is_pushed():
    # J. L. Meriam and L. G. Kraige, Statics, on friction: a block on a rough floor tips when the
    # push P at height y exceeds W b / (2 y). On three feet, b/2 is the distance to the edge.
    R, M, y = 0.5, 20.0, 1.4
    force, way = push_n(R * THREE, M, np.array([0, 0, 0.9]), np.array([0.0, 0.0, y]))
    assert force == pytest.approx(np.full(3, M * STANDARD_GRAVITY_M_S2 * (R / 2) / y), rel=1e-12)
    # Each push points straight out over its edge, away from the opposite foot.
    inward = {tuple(np.round(-f[:2], 6)) for f in THREE}
    assert {tuple(np.round(w, 6)) for w in way} == inward
    # The height of the centre of mass makes no difference to a first push.
    again, _ = push_n(R * THREE, M, np.array([0, 0, 0.2]), np.array([0.0, 0.0, y]))
    assert again == pytest.approx(force)


def _greatest_push(feet, mass, centre, at, u):
    """By linear programming: feet push along the plane's normal only outwards, and never slide."""
    normal = np.cross(feet[1] - feet[0], feet[2] - feet[0])
    normal *= np.sign(normal[2])
    A_eq = np.zeros((6, 10))
    for i, foot in enumerate(feet):
        for j in range(3):
            force = np.zeros(3)
            force[j] = 1.0
            A_eq[:3, 3 * i + j] = force
            A_eq[3:, 3 * i + j] = np.cross(foot, force)
    push = np.array([u[0], u[1], 0.0])
    A_eq[:3, 9], A_eq[3:, 9] = push, np.cross(at, push)
    weight = np.array([0, 0, -mass * STANDARD_GRAVITY_M_S2])
    b_eq = -np.concatenate([weight, np.cross(centre, weight)])
    A_ub = np.zeros((3, 10))
    for i in range(3):
        A_ub[i, 3 * i : 3 * i + 3] = -normal
    bounds = [(None, None)] * 9 + [(0, None)]
    result = linprog(
        -np.eye(10)[9], A_ub=A_ub, b_ub=np.zeros(3), A_eq=A_eq, b_eq=b_eq, bounds=bounds
    )
    return result.x[9] if result.status == 0 else np.inf


def test_push_against_an_equilibrium_solver():
    # Independent: the greatest push for which six equations of equilibrium still have a solution
    # with feet that only press, over all directions of the push, on uneven ground.
    rng = np.random.default_rng(4)
    for _ in range(6):
        turn = rng.uniform(0, 2 * np.pi)
        angles = turn + np.radians([0, 120, 240]) + rng.uniform(-0.3, 0.3, 3)
        feet = np.stack(
            [0.55 * np.sin(angles), 0.55 * np.cos(angles), rng.uniform(-0.15, 0.15, 3)], axis=-1
        )
        centre = np.array([*rng.uniform(-0.12, 0.12, 2), 0.9])
        at = np.array([*rng.uniform(-0.5, 0.5, 2), 1.5])
        force, way = push_n(feet, 24.0, centre, at)
        worst = int(np.argmin(force))
        direct = _greatest_push(feet, 24.0, centre, at, way[worst])
        assert direct == pytest.approx(force[worst], rel=1e-6)
        for angle in np.linspace(0, 2 * np.pi, 24, endpoint=False):
            u = np.array([np.sin(angle), np.cos(angle)])
            assert _greatest_push(feet, 24.0, centre, at, u) >= force[worst] * (1 - 1e-6)


def test_margin_is_the_distance_inside_the_triangle():
    # Plane geometry: an equilateral triangle of circumradius R has the inradius R/2.
    assert margins_m(0.5 * THREE, np.zeros(3)) == pytest.approx(np.full(3, 0.25))
    assert np.min(margins_m(0.5 * THREE, np.array([0.0, -0.3, 1.0]))) == pytest.approx(-0.05)


def test_feet_the_other_way_round_make_no_difference():
    a = margins_m(0.5 * THREE, np.array([0.1, 0.0, 0.0]))
    b = margins_m(0.5 * THREE[::-1], np.array([0.1, 0.0, 0.0]))
    assert sorted(a) == pytest.approx(sorted(b))
    with pytest.raises(AxletreeError, match="one line"):
        edges(np.array([[0, 0, 0], [1, 0, 0], [2, 0, 0]]))


def test_a_load_between_the_feet_steadies():
    # Checked by doing it: with that mass at that place the least push is the wanted one.
    feet, centre, at = 0.5 * THREE, np.array([0.05, 0.1, 0.9]), np.array([0.2, -0.3, 1.5])
    tray = np.array([0.0, 0.0, 0.4])
    extra = extra_mass_kg(feet, 20.0, centre, at, tray, 50.0)
    assert extra > 0
    both = (20.0 * centre + extra * tray) / (20.0 + extra)
    assert np.min(push_n(feet, 20.0 + extra, both, at)[0]) == pytest.approx(50.0, rel=1e-9)
