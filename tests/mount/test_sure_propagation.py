"""Errors carried from dimensions to a gap, against a general library's derivatives.

`scipy.differentiate.jacobian` (finite differences of rising order, steps that shrink until they
agree) of the exact distance on rigs built anew, and C_gap = J C J' (ISO/IEC Guide 98-3 (GUM) 2008,
5.2.2).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.differentiate import jacobian

from axletree.kit.kit import demo_kit
from axletree.mount.balance.positions import eyepieces_of, middle_eyepiece, solve
from axletree.mount.balance.weights import TRIM_ROOM_MM
from axletree.mount.clearance.nearest import bodies, distances
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.room.table import room_table
from axletree.mount.sure.nearness import PoseTurns, gap_slopes, nearest
from axletree.mount.sure.shapes import changed_rig
from axletree.mount.sure.spread import RigSpread

NAMES = (
    "mount.head.saddle_distance_mm", "mount.head.crossing_along_mm", "mount.tripod.foot_radius_mm",
)  # fmt: skip
CORRELATION = np.array([[1.0, 0.5, -0.3], [0.5, 1.0, 0.2], [-0.3, 0.2, 1.0]])
SIGMA_MM = np.array([5.0, 8.0, 12.0])


@pytest.mark.parametrize(("side", "H", "d"), [(-1, 1.9, 46.0), (-1, 2.2, 20.0), (-1, -1.0, 35.0)])
def test_a_gaps_error_is_what_a_general_library_propagates(side: int, H: float, d: float) -> None:
    kit = demo_kit("courtyard")
    table = room_table(kit, of_few=True)
    known = dimensions_of(kit)
    at = [known.index(name) for name in NAMES]
    covariance = np.zeros_like(known.covariance)
    covariance[np.ix_(at, at)] = CORRELATION * np.outer(SIGMA_MM, SIGMA_MM)
    known = replace(known, covariance=covariance, sigmas=np.sqrt(np.diagonal(covariance)))
    spread = replace(RigSpread.of(kit, table), known=known)
    end, swing = axis_angles(table.axes, side, np.array([H]), np.array([d]))
    pair = int(distances(table.bodies, end, swing)[:, 0].argmin())

    def gap_m(values: np.ndarray) -> np.ndarray:
        """(1, ...) of (3, ...) dimensions."""
        flat = values.reshape(len(NAMES), -1).T
        out = [
            distances(
                bodies(build_rig(with_dimensions(kit, one, NAMES)), table.axes), end, swing, [pair]
            )[0, 0]
            for one in flat
        ]  # fmt: skip
        return np.array(out).reshape(1, *values.shape[1:])

    J = jacobian(gap_m, known.values[at], initial_step=2.0, maxiter=2, order=4).df
    wanted_m = float(np.sqrt(J @ covariance[np.ix_(at, at)] @ J.T)[0, 0])
    which = np.array([pair])
    near = nearest(
        spread.shapes, spread.meet, PoseTurns.of(table.bodies, end, swing), which, np.array([0])
    )
    roots = gap_slopes(spread.shapes, spread.slopes_drawn, spread.meet, near, which)
    assert wanted_m > 0.001
    # A fifth of a standard deviation's bend: slopes are taken over that step.
    assert float(np.linalg.norm(roots)) == pytest.approx(wanted_m, rel=0.02)


def test_a_weight_near_the_end_of_its_range_stays_on_the_shaft() -> None:
    """Two weights, of which the heavier just has its room to trim: with a tube a little lighter
    another rig would hang the other one, half as far again from the head. This one slides its own:
    mass times place is the moment (the law of the lever)."""
    kit = demo_kit("courtyard")
    own = solve(kit, middle_eyepiece(eyepieces_of(kit)))
    head, thick = kit.mount.head, 50.0
    near_mm = head.shaft_start_mm + thick / 2.0 + TRIM_ROOM_MM + 0.4
    heavy = 1000.0 * own.need_kg_m / near_mm
    weights = tuple(
        kit.mount.weights[0].model_copy(update={"mass_kg": m, "thickness_mm": thick, "count": 1})
        for m in (heavy, heavy / 1.5)
    )
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"weights": weights})})
    rig = build_rig(kit)
    assert list(rig.loading.mass_kg) == pytest.approx([heavy])
    lighter = kit.tube.mass_kg * 0.98
    changed = changed_rig(kit, rig, ("tube.mass_kg",), np.array([lighter]))
    need = solve(
        kit.model_copy(update={"tube": kit.tube.model_copy(update={"mass_kg": lighter})}),
        middle_eyepiece(eyepieces_of(kit)),
    )
    assert need.need_kg_m < own.need_kg_m
    # What it would hang anew.
    assert list(need.loadings[0].mass_kg) == pytest.approx([heavy / 1.5])
    assert changed.loading.mass_kg == rig.loading.mass_kg
    assert changed.loading.position_mm[0] == pytest.approx(1000.0 * need.need_kg_m / heavy)


def test_no_weight_is_taken_off_where_fewer_would_do() -> None:
    """Two equal weights, of which one alone hangs a little beyond the shaft: with a tube a little
    lighter it would do. Both stay, and slide by what the moment asks (the law of the lever)."""
    kit = demo_kit("courtyard")
    own = solve(kit, middle_eyepiece(eyepieces_of(kit)))
    head, thick = kit.mount.head, 40.0
    mass = 1000.0 * own.need_kg_m / (head.shaft_start_mm + head.shaft_length_mm - thick / 2.0 + 0.5)
    two = kit.mount.weights[0].model_copy(
        update={"mass_kg": mass, "thickness_mm": thick, "count": 2}
    )
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"weights": (two,)})})
    rig = build_rig(kit)
    assert list(rig.loading.mass_kg) == pytest.approx([mass, mass])
    for part in (0.95, 1.02):
        tube = kit.tube.model_copy(update={"mass_kg": kit.tube.mass_kg * part})
        need = solve(
            kit.model_copy(update={"tube": tube}), middle_eyepiece(eyepieces_of(kit))
        ).need_kg_m  # fmt: skip
        changed = changed_rig(kit, rig, ("tube.mass_kg",), np.array([tube.mass_kg]))
        near, far = changed.loading.position_mm
        assert far - near == pytest.approx(thick)
        assert mass * (near + far) == pytest.approx(1000.0 * need)


def test_an_empty_shaft_stays_empty() -> None:
    kit = demo_kit("courtyard")
    head = kit.mount.head.model_copy(update={"shaft_mass_kg": 40.0})
    kit = kit.model_copy(update={"mount": kit.mount.model_copy(update={"head": head})})
    rig = build_rig(kit)
    assert rig.loading.mass_kg == ()
    changed = changed_rig(kit, rig, ("tube.mass_kg",), np.array([kit.tube.mass_kg * 3.0]))
    assert changed.names == rig.names
