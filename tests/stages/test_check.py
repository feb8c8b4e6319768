"""The axis as one typed answer: codes with their figures, nothing read, nothing written."""

from __future__ import annotations

import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_kit
from axletree.pole.correct.advice import Verdict
from axletree.pole.rows.drift_file import read_drift
from axletree.pole.rows.reading import moments_of_evening
from axletree.pole.solution.doubt import DoubtKind
from axletree.pole.solution.estimate import AxisEstimate
from axletree.pole.solution.record import Measured, Tonight
from axletree.sky.observer import observer_of
from axletree.stages.set_up.axis_remarks import RemarkKind
from axletree.stages.set_up.check import CheckRequest, TurnedRequest, check, turned
from axletree.stages.set_up.check_findings import DriftFinding
from axletree.stages.set_up.measurements import DriftMeasurement

sys.path.insert(0, str(Path(__file__).parents[1] / "pole"))
import simulator as sim

KIT = demo_kit("courtyard")
AT = datetime(2026, 12, 5, 20, 30, tzinfo=UTC)
HOURS, DECLINATIONS = (0.2, -4.5, -3.9, 3.9, 2.0), (-2.0, -5.0, 25.0, 4.0, 40.0)
PLACE = sim.Place(KIT.site.latitude_deg, 978.6, 12.0, 14.0, -9.0)


def drifts(count: int, off_arcsec: float = 0.0) -> DriftMeasurement:
    """Stars as the simulated mount shows them; the last is off by so much."""
    lines = ["hour_angle_h,declination_deg,watched_s,drift_arcsec,sigma_arcsec"]
    for k in range(count):
        drift = sim.drift_arcsec(PLACE, HOURS[k], DECLINATIONS[k], 600.0)
        drift += off_arcsec if k == count - 1 else 0.0
        lines.append(f"{HOURS[k]},{DECLINATIONS[k]},600,{drift:.3f},1")
    zone = KIT.site.zone
    text = "\n".join(lines)
    rows = read_drift(text, "list", observer_of(KIT.site), moments_of_evening(AT, zone))
    return DriftMeasurement(rows, "list")


def known(high: float, east: float, at: datetime = AT) -> Measured:
    return Measured("frames", at, "f", AxisEstimate(high, east, np.eye(2) / 0.04))


def test_a_measurement_comes_back_as_the_axis_it_was_made_from() -> None:
    found = check(KIT, CheckRequest(AT, drifts(4), good_arcmin=5.0))
    assert found.estimate.values == pytest.approx([14.0, -9.0], abs=0.4)
    assert found.advice.verdict is Verdict.BAD
    assert found.to_turn
    assert found.measured
    assert isinstance(found.finding, DriftFinding)
    assert found.finding.remarks == ()
    assert [m.source for m in found.known.since_turn] == ["list"]


def test_a_mistaken_star_of_five_is_a_remark_of_three_a_doubt() -> None:
    five = check(KIT, CheckRequest(AT, drifts(5, 60.0)))
    assert five.finding is not None
    assert [(r.kind, r.rows) for r in five.finding.remarks] == [(RemarkKind.LEFT_OUT, (4,))]
    three = check(KIT, CheckRequest(AT, drifts(3, 60.0)))
    assert three.disagreeing
    assert three.standing[0].doubt.kind is DoubtKind.DISAGREEING
    assert three.finding is not None
    assert three.finding.remarks == ()


def test_what_is_known_is_weighed_and_what_contradicts_it_named() -> None:
    before = Tonight((known(14.0, -9.0), known(14.3, -9.2), known(60.0, 50.0)), None, 0)
    found = check(KIT, CheckRequest(AT, known=before))
    assert found.left_out == (2,)
    assert found.finding is None
    assert found.estimate.values == pytest.approx([14.1, -9.1], abs=0.2)
    alone = check(KIT, CheckRequest(AT, drifts(4), known=before, counts=False))
    assert len(alone.known.since_turn) == 3


def test_nothing_measured_names_a_star_to_begin_with() -> None:
    found = check(KIT, CheckRequest(AT))
    assert not found.measured
    assert found.estimate.rank == 0
    assert found.advice.next_drift is not None
    assert found.stars is not None
    assert found.advice.next_name in found.stars.names
    assert check(KIT, CheckRequest(AT.replace(hour=12))).stars is None


def test_after_a_turn_only_what_is_dated_later_counts() -> None:
    turn = Tonight((), AT + timedelta(minutes=10), 2)
    found = check(KIT, CheckRequest(AT, drifts(4), known=turn))
    assert found.dated_before_last_turn
    assert found.known.before_turn == 3
    assert found.known.since_turn == ()


def test_impossible_requests_are_refused() -> None:
    for request in (
        CheckRequest(AT, good_arcmin=0.0), CheckRequest(AT, good_arcmin=float("nan")),
        CheckRequest(AT, leans_east_deg=45.0),
    ):  # fmt: skip
        with pytest.raises(AxletreeError):
            check(KIT, request)
    with pytest.raises(AxletreeError, match="azimuth bolt"):
        turned(KIT, TurnedRequest(AT, azimuth_turns=1000.0))
    assert turned(KIT, TurnedRequest(AT, 0.5)).altitude_turns == 0.5
