"""Rigs drawn that touch on a way, against each of them built anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.linalg import pinv

from axletree.kit.kit import demo_kit
from axletree.mount.clearance.nearest import bodies, least_distance
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.room.table import room_table
from axletree.mount.sure.passage import PoseTrack
from axletree.mount.sure.shapes import changed_rig
from axletree.mount.sure.spread import RigSpread
from axletree.mount.sure.touches import touched

RIGS = 60


def test_a_rig_touches_where_it_does_when_built_anew() -> None:
    """On ways clear of everything, near to a leg, and at it: some of the rigs touch. Where
    one is so near that a straight line decides otherwise, within 2 mm, nothing is asked."""
    kit = demo_kit("courtyard")
    table = room_table(kit, of_few=True)
    spread, known = RigSpread.of(kit, table), dimensions_of(kit)
    ways = []
    starts = ((-2.0, 20.0), (1.2, 20.0), (1.6, 20.0), (1.8, 20.0), (2.0, 46.0), (2.15, 46.0))
    for first, d in starts:
        hours = first + np.arange(0.0, 0.4, 0.1)
        ways.append(PoseTrack(hours, *axis_angles(table.axes, "west", hours, np.full(4, d))))
    found = touched(spread, ways)
    values = known.values[:, None] + known.root @ spread.drawn[:, :RIGS]
    rigs = [changed_rig(kit, build_rig(kit), known.names, one) for one in values.T]
    shares = []
    for way, of_way in zip(ways, found, strict=True):
        least = np.array([
            float(least_distance(bodies(rig, table.axes), way.tube_end_h, way.swing_deg)[0].min())
            for rig in rigs
        ])  # fmt: skip
        sure = np.abs(least) > 0.002
        assert sure.mean() > 0.8
        assert np.array_equal(of_way[:RIGS][sure], (least < 0.0)[sure])
        shares.append(float((least < 0.0).mean()))
    assert shares[0] == 0.0
    assert max(shares) > 0.3
    assert sum(0.02 < share < 0.98 for share in shares) > 2


def test_rigs_that_agree_with_notes_are_told_in_independent_numbers() -> None:
    """Rigs drawn as dimensions give the numbers that they were drawn by: the pseudoinverse by
    scipy."""
    kit = demo_kit("courtyard")
    known = dimensions_of(kit)
    numbers = np.random.default_rng(4).standard_normal((known.root.shape[1], 50))
    drawn = replace(known, drawn=known.root @ numbers)
    found = replace(RigSpread.of(kit, room_table(kit, of_few=True)), known=drawn).drawn
    assert found == pytest.approx(pinv(known.root) @ drawn.drawn, abs=1e-4)
    assert found == pytest.approx(numbers, abs=1e-3)
