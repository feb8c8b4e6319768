"""How far is the axis off, what did each measurement say, and what comes next?"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from fastapi.responses import JSONResponse
from pydantic import Field

from axletree.app.answers.common import OnDesk, WholeDesk, moment_of, plain
from axletree.app.answers.told import Moment, local
from axletree.app.mount_notes import notes_of, tell_changed_evening
from axletree.app.people.withheld import coarse_figures
from axletree.app.state import Desk
from axletree.kit.kit import Kit
from axletree.kit.reading.table import RowError, written_table
from axletree.logbook.axis_notes import Origin
from axletree.logbook.own import learned_bolts, logbook_to_learn_from
from axletree.pole.readings.solve import LEAST_READINGS
from axletree.pole.rows.columns import DRIFT_COLUMNS, READING_COLUMNS
from axletree.pole.rows.drift_file import read_drift
from axletree.pole.rows.reading import moments_of_evening
from axletree.pole.rows.readings_file import read_circles
from axletree.pole.solution.candidates import MeasurableStars
from axletree.sky.observer import observer_of
from axletree.sky.optics import true_field_deg
from axletree.stages.set_up.axis_remarks import AxisMethod
from axletree.stages.set_up.check import CheckAnswer, CheckRequest, TurnedRequest, check, turned
from axletree.stages.set_up.measurements import DriftMeasurement, Measurement, ReadingsMeasurement
from axletree.tell.check.data import check_data, next_drift_data
from axletree.tell.check.finding_data import finding_data
from axletree.tell.check.text import page_source, page_words
from axletree.tell.logbook.text import learned_words

router = APIRouter()
MOST_ROWS = 40
MOST_STARS = 8
COLUMNS = {AxisMethod.DRIFT: DRIFT_COLUMNS, AxisMethod.READINGS: READING_COLUMNS}
# The text that is made of the page's rows has a line of headings, and counts from 1.
LINES_BEFORE_ROWS = 2
Cell = Annotated[str, Field(max_length=60)]
Row = Annotated[dict[Cell, Cell], Field(max_length=16)]


class SheetOfRows(Moment):
    """All rows of one measurement as they stand on the page; none takes the measurement back."""

    method: Literal[AxisMethod.DRIFT, AxisMethod.READINGS]
    id: Annotated[str, Field(pattern=r"^[0-9a-z]{6,20}$")]
    rows: Annotated[list[Row], Field(max_length=MOST_ROWS)]


class Turned(Moment):
    """How far the bolts were turned, clockwise positive."""

    altitude_turns: Annotated[float, Field(ge=-100, le=100, allow_inf_nan=False)] = 0.0
    azimuth_turns: Annotated[float, Field(ge=-100, le=100, allow_inf_nan=False)] = 0.0


@router.get("/answer/check")
def check_page(desk: WholeDesk, seen: OnDesk, at: str | None = None) -> dict[str, Any]:
    """Everything measured since the last turn of a bolt; or how to begin.

    What was measured belongs to the very place, so it is weighed there, whoever asks.
    """
    moment = moment_of(desk, at)
    learned = learned_bolts(desk.kit, logbook_to_learn_from(demo=desk.demo))
    said = learned_words(learned)
    request = CheckRequest(moment, known=notes_of(desk).tonight(moment), kit_folder=desk.folder)
    found = check(learned.kit, request)
    last = found.known.last_turn
    data: dict[str, Any] = plain(
        {
            "measured": found.measured,
            "north": desk.kit.site.north,
            "stars": _stars(found.stars),
            "eyepieces": _eyepieces(desk.kit),
            "last_turn": None if last is None else last.isoformat(),
            "before_turn": found.known.before_turn,
            **(check_data(found, said) if found.measured else _beginning(found)),
            "words": page_words(found, said),
        }
    )
    coarse: dict[str, Any] = coarse_figures(data) if seen.looking else data
    return coarse


def _beginning(found: CheckAnswer) -> dict[str, Any]:
    """What is good enough, and with which star to begin."""
    return {
        "good_enough_arcmin": found.limit_arcmin,
        "next_drift": next_drift_data(found.advice),
        "any_star": found.advice.any_star,
    }


def _stars(stars: MeasurableStars | None) -> list[dict[str, Any]]:
    """Stars that stand well for a measurement now; none by day."""
    if stars is None:
        return []
    return [
        {
            "name": stars.names[k],
            "altitude_deg": float(stars.altitude_deg[k]),
            "azimuth_deg": float(stars.azimuth_deg[k]),
        }
        for k in range(min(len(stars), MOST_STARS))
    ]


def _eyepieces(kit: Kit) -> list[dict[str, Any]]:
    focal = kit.tube.focal_length_mm
    fields = [
        float(true_field_deg(focal, e.focal_length_mm, e.apparent_field_deg, e.field_stop_mm))
        for e in kit.eyepieces
    ]
    return [
        {"name": eyepiece.label, "field_arcmin": field * 60.0}
        for eyepiece, field in zip(kit.eyepieces, fields, strict=True)
    ]


@router.put("/check/sheet", response_model=None)
def sheet(desk: OnDesk, given: SheetOfRows) -> dict[str, Any] | JSONResponse:
    """Measure with the rows as they stand; a refused row is named by its place and field.

    Too few rows to solve are kept without a measurement, for the next to come.
    """
    notes, key = notes_of(desk), f"page {given.method} {given.id}"
    moment = local(desk, given.at)
    data: dict[str, Any] = {}
    if given.rows:
        text = written_table(given.rows, COLUMNS[given.method])
        try:
            measurement = _measurement(desk.kit, given.method, text, moment)
        except RowError as error:
            place = error.row - LINES_BEFORE_ROWS
            refusal = {"row": place, "field": error.field, "problem": error.problem}
            return JSONResponse(refusal, 422)
        if _enough(measurement):
            data = _measured(desk, measurement, Origin.of_text(given.method, text, key), moment)
        else:
            notes.withdraw(key, moment)
            data = {"waits_for_rows": LEAST_READINGS}
    else:
        notes.withdraw(key, moment)
    kept: dict[str, Any] = {given.method: {"id": given.id, "rows": given.rows}}
    # Every page hears of it, also the one that asked: what it kept without a link comes late.
    desk.set_page("check", kept)
    tell_changed_evening(desk)
    return data


def _measurement(kit: Kit, method: AxisMethod, text: str, at: datetime) -> Measurement:
    observer, moments = observer_of(kit.site), moments_of_evening(at, kit.site.zone)
    source = page_source()
    if method is AxisMethod.DRIFT:
        return DriftMeasurement(read_drift(text, source, observer, moments), source)
    return ReadingsMeasurement(read_circles(text, source, observer, moments), source)


def _enough(measurement: Measurement) -> bool:
    """Whether there are rows enough to solve; rows come one by one, and the first is kept."""
    return not isinstance(measurement, ReadingsMeasurement) or (
        len(measurement.rows.names) >= LEAST_READINGS
    )


def _measured(desk: Desk, measurement: Measurement, origin: Origin, at: datetime) -> dict[str, Any]:
    """What a measurement says by itself and with the others; it is noted."""
    notes = notes_of(desk)
    learned = learned_bolts(desk.kit, logbook_to_learn_from(demo=desk.demo))
    request = CheckRequest(
        at, measurement, known=notes.tonight(at, without=origin), kit_folder=desk.folder
    )
    found = check(learned.kit, request)
    if found.finding is None:
        return {}
    notes.note(found.finding, origin)
    words = page_words(found, learned_words(learned))
    said: dict[str, Any] = plain({**finding_data(found.finding), "words": words})
    return said


@router.post("/check/turned")
def turned_page(desk: OnDesk, given: Turned) -> dict[str, Any]:
    """Note that bolts were turned: what was measured before no longer counts."""
    notes, at = notes_of(desk), local(desk, given.at)
    found = turned(desk.kit, TurnedRequest(at, given.altitude_turns, given.azimuth_turns))
    if notes.has_turn(found):
        return {}  # sent twice
    notes.note_turn(found)
    desk.set_page("check", {"drift": None, "readings": None})
    tell_changed_evening(desk)
    return {}
