"""One note of a gap against Bayes' rule by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from axletree.axis.model import unmeasured
from axletree.axis.state import GapNote, State
from axletree.kit.kit import demo_kit
from axletree.mount.clearance.nearest import bodies, distances
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.mount.learned import learn
from axletree.mount.learned.narrow import SHAPE_ERROR_M, narrowed
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align, axis_angles
from axletree.mount.sure.spread import RigSpread
from mount.noted_gaps import AT, TONIGHT

SADDLE = "mount.head.saddle_distance_mm"


def test_a_note_that_the_kit_would_have_told_counts_with_its_poses_error() -> None:
    """The gap's variance is that of the kit's dimensions and of all errors of the note: its own,
    the rods', and the pose's, two degrees on either axis by small turns of the rig."""
    kit = demo_kit("courtyard")
    axes, rig = align(kit.site.latitude_deg), build_rig(kit)
    b, known = bodies(rig, axes), dimensions_of(kit)
    sigma = np.full(len(known.names), 1e-9)
    sigma[known.index(SADDLE)] = 2.0
    spread = RigSpread(
        kit, rig, axes, b, replace(known, sigmas=sigma, covariance=np.diag(sigma**2))
    )
    side, H, d, turned = "west", 1.5, 20.0, 2.0
    end, swing = (float(a) for a in axis_angles(axes, side, H, d))
    gaps = distances(b, end, swing)
    gap_mm = 1e3 * float(gaps.min()) + 0.1
    note = GapNote(AT, TONIGHT, side, H, d, turned, gap_mm, 4.0, "", "")
    found = narrowed(spread, [note], [TONIGHT], TONIGHT)
    pair = int(found.pairs[0])
    assert pair == int(gaps.argmin())
    assert np.sort(gaps)[1] > gaps.min() + 0.01
    assert float(found.misfit_m[0]) == pytest.approx(1e-4, abs=1e-6)
    step = 0.05
    slopes = [
        float(
            distances(b, end + h / 15.0, swing + w, [pair])[0]
            - distances(b, end - h / 15.0, swing - w, [pair])[0]
        ) / (2.0 * step)
        for h, w in ((step, 0.0), (0.0, step))
    ]  # fmt: skip
    of_pose = turned * float(np.hypot(*slopes))
    assert of_pose > 0.003
    line = found.slopes[0]
    expected = line @ found.numbers.covariance @ line + 0.004**2 + SHAPE_ERROR_M**2 + of_pose**2
    variance = float(found.misfit_m[0] / found.misfit[0]) ** 2
    assert variance == pytest.approx(expected, rel=0.02)


def test_a_note_that_no_rig_could_turn_with_is_left_out_with_its_figures(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What is expected is the gap of the kit itself, since no other note says anything; how far off
    counts in the standard deviation that is told."""
    kit = demo_kit("courtyard")
    axes = align(kit.site.latitude_deg)
    gaps = distances(bodies(build_rig(kit), axes), *axis_angles(axes, "west", 1.5, 20.0))
    note = GapNote(AT, TONIGHT, "west", 1.5, 20.0, 0.0, 1e3 * float(gaps.min()) - 30.0, 4.0, "", "")
    monkeypatch.setattr(learn, "_works", lambda _: False)
    state = State(unmeasured(0.0, 0.0), TONIGHT, AT, 0, None, (note,), TONIGHT)
    found = learn.learned_rig(kit, state)
    assert found is not None
    assert found.used == ()
    (left_out,) = found.left_out
    assert left_out.note == note
    assert left_out.expected_mm == pytest.approx(1e3 * float(gaps.min()), abs=4.0)
    assert left_out.sigma_mm > np.hypot(4.0, 1e3 * SHAPE_ERROR_M)
    off_mm = note.gap_mm - left_out.expected_mm
    assert off_mm / left_out.sigma_mm == pytest.approx(left_out.sigmas, rel=1e-9)
    assert -3.0 < left_out.sigmas < -0.3
