"""What the notes of one rig say of its mount: the same as `check`, until something is moved."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from axletree.axis.model import KnownBy
from axletree.axis.state import State
from axletree.axis.unknowns import (
    LOST_INDEX_DECLINATION_ARCMIN,
    LOST_INDEX_HOUR_ARCMIN,
    USUAL_CONE_ARCMIN,
    ModelPart,
)
from axletree.axis.voids import Moved
from axletree.kit.kit import demo_kit
from axletree.logbook.axis_notes import AxisNotes, Origin
from axletree.logbook.lines import read_lines
from axletree.logbook.state import state_of
from axletree.pole.rows.drift_file import read_drift
from axletree.pole.rows.readings_file import read_circles
from axletree.sky.observer import observer_of
from axletree.stages.set_up.axis_remarks import AxisMethod
from axletree.stages.set_up.check import CheckAnswer, CheckRequest, check
from axletree.stages.set_up.enough import as_set_arcmin
from axletree.stages.set_up.measurements import DriftMeasurement, ReadingsMeasurement

KIT = demo_kit("courtyard")
AT = datetime(2026, 12, 5, 20, 30, tzinfo=UTC)
LATER = AT + timedelta(minutes=30)
# Stars as centred with made-up noise of the circles, on both sides.
READINGS = """star,hour_angle_h,declination_deg,tube_side,hour_circle_h,declination_circle_deg
S0,0.30081,4.7259,east,0.30200,5.7100
S1,3.49502,39.7236,east,3.50100,40.7000
S2,4.99710,19.7698,east,5.00000,20.9800
S3,-3.10000,55.2000,east,-3.10500,56.3500
S0,-0.29911,4.7494,west,11.70100,3.9900
S1,-3.48477,39.9611,west,8.50000,38.9800
S2,-4.99515,20.0597,west,7.00200,19.0100
"""
DRIFT = """hour_angle_h,declination_deg,watched_s,drift_arcsec,sigma_arcsec
0.2,5.0,600,-22.0,2.0
-5.5,20.0,600,35.0,2.0
"""


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


def notes(kit=KIT) -> AxisNotes:
    return AxisNotes.of_kit(Path("notes.jsonl"), kit)


def measured(text=READINGS, at=AT, kit=KIT) -> CheckAnswer:
    """As `check` measures, notes and tells it."""
    observer, book = observer_of(kit.site), notes(kit)
    if text is READINGS:
        rows = read_circles(text, "list", observer, lambda _: at)
        measurement, method = ReadingsMeasurement(rows, "list"), AxisMethod.READINGS
    else:
        rows = read_drift(text, "list", observer, lambda _: at)
        measurement, method = DriftMeasurement(rows, "list"), AxisMethod.DRIFT
    origin = Origin.of_text(method, text)
    found = check(kit, CheckRequest(at, measurement, book.tonight(at, without=origin)))
    assert found.finding is not None
    book.note(replace(found.finding, at=at), origin)
    return found


def state(at=LATER, kit=KIT) -> State:
    found = state_of(notes(kit), kit, at)
    assert found is not None
    return found


def test_nothing_noted_is_no_state():
    assert state_of(notes(), KIT, AT) is None


def test_the_state_is_what_check_told():
    solved = measured().finding.solved
    model = state().pointing
    assert model.values == pytest.approx(solved.values, abs=0.05)
    spread = model.sigmas_arcmin / solved.sigmas
    assert spread == pytest.approx(np.ones(6), rel=0.01)
    assert state().evening.isoformat() == "2026-12-05"
    assert (state().at, state().measurements, state().stands_since) == (AT, 1, None)
    told = {one.part: one.by for one in model.known}
    assert told[ModelPart.AXIS] is told[ModelPart.INDEX_HOUR] is KnownBy.MEASURED
    assert model.known_of(ModelPart.AXIS).at == AT
    for part in (ModelPart.CONE, ModelPart.LEAN):
        assert (told[part] is KnownBy.USUAL) == (part.value in solved.assumed)


def test_all_of_an_evening_count_together():
    measured()
    measured(DRIFT, AT + timedelta(minutes=10))
    together = check(KIT, CheckRequest(LATER, known=notes().tonight(LATER))).together
    assert together is not None
    model = state().pointing
    assert len(together.used) == state().measurements == 2
    assert model.high_arcmin == pytest.approx(together.estimate.high_arcmin, abs=0.1)
    assert model.east_arcmin == pytest.approx(together.estimate.east_arcmin, abs=0.1)
    own, all_ = model.covariance[:2, :2], np.linalg.inv(together.estimate.information)
    assert own == pytest.approx(all_, rel=0.02)


@pytest.mark.parametrize(
    ("moved", "sigma"),
    [
        (Moved.HOUR_CIRCLE, LOST_INDEX_HOUR_ARCMIN),
        (Moved.DECLINATION_CIRCLE, LOST_INDEX_DECLINATION_ARCMIN),
        (Moved.TUBE, USUAL_CONE_ARCMIN),
        (Moved.BOLT, None),
        (Moved.TRIPOD, None),
    ],
)
def test_what_is_moved_voids_its_own_part_until_it_is_taken_back(moved, sigma):
    measured()
    before = state().pointing
    noted = notes().note_moved(moved, AT + timedelta(minutes=5))
    after = state().pointing
    part = moved.voids
    assert after.known_of(part).by is KnownBy.VOIDED
    assert after.known_of(part).at == noted.at
    wanted = as_set_arcmin(KIT, LATER) if sigma is None else (sigma,)
    places = list(part.places)
    assert after.sigmas_arcmin[places] == pytest.approx(wanted)
    assert after.values[places] == pytest.approx(np.zeros(len(places)))
    for other in set(ModelPart) - {part}:
        assert after.known_of(other) == before.known_of(other)
    assert (notes().tonight(LATER).since_turn == ()) == (part is ModelPart.AXIS)
    assert state(noted.at - timedelta(seconds=1)).pointing == before
    assert notes().take_back_latest() == noted
    assert state().pointing == before
    assert notes().take_back_latest() is None


def test_a_new_evening_voids_the_axis_unless_the_mount_stands():
    measured()
    other = AT + timedelta(days=1)
    model = state(other).pointing
    assert model.known_of(ModelPart.AXIS).by is KnownBy.SET
    assert model.sigmas_arcmin[:2] == pytest.approx(as_set_arcmin(KIT, other))
    assert model.known_of(ModelPart.INDEX_DECLINATION).by is KnownBy.MEASURED
    notes().note_moved(None, other)
    kept = state(other + timedelta(minutes=1))
    assert kept.pointing.values == pytest.approx(state().pointing.values)
    assert kept.stands_since is not None
    assert kept.stands_since.isoformat() == "2026-12-05"
    assert state(AT + timedelta(days=2)).pointing.known_of(ModelPart.AXIS).by is KnownBy.SET


def test_turned_bolts_void_the_axis_before_and_a_measurement_after_counts():
    measured()
    notes().note_moved(Moved.BOLT, AT + timedelta(minutes=5))
    after = measured(DRIFT, AT + timedelta(minutes=10)).finding.estimate
    model = state().pointing
    assert model.known_of(ModelPart.AXIS).by is KnownBy.MEASURED
    assert model.high_arcmin == pytest.approx(after.high_arcmin, abs=0.1)
    assert model.east_arcmin == pytest.approx(after.east_arcmin, abs=0.1)


def test_no_rig_and_no_site_learns_from_another():
    measured()
    tube = KIT.tube.model_copy(update={"focal_length_mm": KIT.tube.focal_length_mm + 100.0})
    site = KIT.site.model_copy(update={"latitude_deg": KIT.site.latitude_deg + 1.0})
    for other in (
        KIT.model_copy(update={"tube": tube}),
        KIT.model_copy(update={"site": site}),
        KIT.model_copy(update={"name": "another"}),
        demo_kit("paddock"),
    ):
        assert state_of(notes(other), other, LATER) is None
        assert notes(other).tonight(LATER).since_turn == ()


def test_notes_of_before_say_of_no_rig_and_count_for_check_alone():
    measured()
    lines = read_lines(Path("notes.jsonl"))
    old = AxisNotes(Path("old.jsonl"), KIT.site)
    for line in lines:
        line.pop("rig")
        old._append(line)
    same = AxisNotes.of_kit(old.file, KIT)
    assert len(same.tonight(LATER).since_turn) == 1
    assert state_of(same, KIT, LATER) is None


def test_a_note_with_damaged_figures_counts_as_one_of_the_axis():
    measured()
    (line,) = read_lines(Path("notes.jsonl"))
    short = {**line["circles"], "information_per_arcmin2": [[math.pi] * 6] * 5}
    for broken in ({}, {**line["circles"], "values_arcmin": [1, 2]}, "?", None, short):
        file = Path("broken.jsonl")
        file.unlink(missing_ok=True)
        book = AxisNotes.of_kit(file, KIT)
        book._append({**line, "circles": broken})
        found = state_of(book, KIT, LATER)
        assert found is not None
        model = found.pointing
        assert model.known_of(ModelPart.AXIS).by is KnownBy.MEASURED
        assert model.known_of(ModelPart.CONE).by is KnownBy.USUAL
