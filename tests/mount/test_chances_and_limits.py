"""Small laws of the machine against a library or by hand: chances, limits, which end is heavy."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest
from scipy.stats import norm

from axletree.axis.state import GapNote
from axletree.kit.kit import demo_kit
from axletree.mount.balance.scale_reading import Axis, LeverEnd, OnShaft, ScaleReading, correct
from axletree.mount.follow.gearing import periodic_drift_arcsec, worm_period_s
from axletree.mount.learned.record import gap_of_record, gap_record
from axletree.mount.steady.steadier import LEANING_CHILD_N, child_tips_chance

AT = datetime(2026, 10, 10, 20, tzinfo=UTC)


@pytest.mark.parametrize("sigma_n", [0.5, 3.0, 20.0])
def test_how_probable_a_child_tips_a_rig_is_a_normals_tail(sigma_n):
    """It tips what takes less than its push: scipy's normal law."""
    for push_n in LEANING_CHILD_N + np.array([-25.0, -1.0, 0.0, 0.7, 9.0]):
        chance = norm.cdf(LEANING_CHILD_N, loc=push_n, scale=sigma_n)
        assert child_tips_chance(float(push_n), sigma_n) == pytest.approx(chance, abs=1e-12)
    assert child_tips_chance(LEANING_CHILD_N + 1.0, 0.0) == 0.0
    assert child_tips_chance(LEANING_CHILD_N - 1.0, 0.0) == 1.0


@pytest.mark.parametrize("amplitude", [0.7, 10.0, 25.0])
@pytest.mark.parametrize("teeth", [96, 180])
def test_a_sine_changes_by_no_more_than_is_said(amplitude, teeth):
    """The greatest change within a time, sought over all phases of the sine itself."""
    period = float(worm_period_s(teeth))
    phases = np.linspace(0.0, 2.0 * np.pi, 100_001)
    for part in (0.03, 0.2, 0.45, 0.8, 3.0):
        within = np.linspace(0.0, part, 200)
        most = max(
            float(np.abs(np.sin(phases[::100] + 2.0 * np.pi * p) - np.sin(phases[::100])).max())
            for p in within
        )
        told = float(periodic_drift_arcsec(amplitude, teeth, part * period))
        assert told == pytest.approx(amplitude * most, rel=2e-3)


@pytest.mark.parametrize(("end", "way"), [(LeverEnd.FRONT, -1.0), (LeverEnd.BACK, 1.0)])
def test_the_heavy_end_of_the_tube_goes_the_other_way(end, way):
    """By hand: 0.4 kg at 300 mm is 120 kg mm; a tube of 6 kg slides by 20 mm."""
    reading = ScaleReading(Axis.DECLINATION, end, 0.4, 300.0)
    fix = correct(demo_kit("courtyard"), reading, None, 6.0)
    assert fix.slide_forward_mm == pytest.approx(way * 20.0)


def test_a_weights_middle_is_half_its_thickness_from_its_face():
    """What the weights hold now and what the scale adds is what the best loading holds, by hand."""
    kit = demo_kit("courtyard")
    head, weight = kit.mount.head, kit.mount.weights[0]
    for gap_mm in (0.0, 60.0):
        present = [OnShaft(weight.mass_kg, gap_mm)]
        fix = correct(kit, ScaleReading(Axis.HOUR, LeverEnd.TUBE, 0.1, 250.0), present, 5.8)
        arm_mm = head.shaft_start_mm + gap_mm + weight.thickness_mm / 2.0
        wanted = weight.mass_kg * arm_mm / 1000.0 + 0.1 * 0.25
        best = fix.loadings[0]
        held = float(np.dot(best.mass_kg, best.position_mm)) / 1000.0
        assert held + best.leftover_kg_m == pytest.approx(wanted, abs=1e-12)


def test_a_gap_comes_back_from_its_record():
    note = GapNote(AT, date(2026, 10, 10), "west", -3.0, 40.0, 1.0, 12.0, 5.0, "M57", "k1")
    record = {**gap_record(note), "key": "k1"}
    assert gap_of_record(record, AT, note.evening) == note
    assert gap_of_record({**record, "kind": "other"}, AT, note.evening) is None
    assert gap_of_record({**record, "side": "up"}, AT, note.evening) is None
    assert gap_of_record({**record, "gap_mm": -1.0}, AT, note.evening) is None
    assert gap_of_record({**record, "declination_deg": 91.0}, AT, note.evening) is None
