"""How far is the axis off, what did each measurement say, and what comes next?"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from fastapi.responses import JSONResponse
from pydantic import Field

from axletree.app.answers.common import OnDesk, WholeDesk, ask, lead_words, moment_of, plain
from axletree.app.answers.told import Moment, local, titled
from axletree.app.people.withheld import coarse_figures
from axletree.app.state import Desk
from axletree.commands.shared.common import Answer
from axletree.kit.errors import AxletreeError
from axletree.logbook.lines import NOTES_FILE, append_line, read_lines
from axletree.pole.rows.columns import DRIFT_COLUMNS, READING_COLUMNS
from axletree.tell.enough.reason_text import reason_words

router = APIRouter()
MOST_ROWS = 40
MOST_STARS = 8
COLUMNS: dict[str, Mapping[str, str]] = {"drift": DRIFT_COLUMNS, "readings": READING_COLUMNS}
_REFUSED = re.compile(r"^this page line (\d+)(?:, (\w+))?: (.*)$", re.DOTALL)
Cell = Annotated[str, Field(max_length=60)]
Row = Annotated[dict[Cell, Cell], Field(max_length=16)]


class SheetOfRows(Moment):
    """All rows of one measurement as they stand on the page; none takes the measurement back."""

    method: Literal["drift", "readings"]
    id: Annotated[str, Field(pattern=r"^[0-9a-z]{6,20}$")]
    rows: Annotated[list[Row], Field(max_length=MOST_ROWS)]


class Turned(Moment):
    """How far the bolts were turned, clockwise positive."""

    altitude_turns: Annotated[float, Field(ge=-100, le=100, allow_inf_nan=False)] = 0.0
    azimuth_turns: Annotated[float, Field(ge=-100, le=100, allow_inf_nan=False)] = 0.0


def notes_file(desk: Desk) -> Path:
    """Where measurements are noted: beside the kit."""
    folder = desk.kit_file.parent if desk.kit_file else desk.folder or Path()
    return folder / NOTES_FILE


@router.get("/answer/check")
def check(desk: WholeDesk, seen: OnDesk, at: str | None = None) -> dict[str, Any]:
    """`axletree check`: everything measured since the last turn of a bolt; or how to begin.

    What was measured belongs to the very place, so it is weighed there, whoever asks.
    """
    found = _checked(desk, at)
    coarse: dict[str, Any] = coarse_figures(found) if seen.looking else found
    return coarse


def _checked(desk: Desk, at: str | None) -> dict[str, Any]:
    from axletree.pole.solution.record import evening_of, tonight
    from axletree.sky.observer import observer_of

    moment, zone = moment_of(desk, at), desk.kit.site.zone
    records = read_lines(notes_file(desk))
    known = tonight(records, evening_of(moment, zone), zone, observer_of(desk.kit.site))
    common = {
        "north": desk.kit.site.north,
        "stars": _stars(desk, at),
        "eyepieces": _eyepieces(desk),
        "last_turn": known.last_turn.isoformat() if known.last_turn else None,
        "before_turn": known.before_turn,
    }
    if not known.since_turn:
        begin: dict[str, Any] = plain({"measured": False, **common, **_beginning(desk, at)})
        return begin
    answer = ask(desk, "check", [f"--notes={notes_file(desk)}", *_at(at)])
    data: dict[str, Any] = plain({"measured": True, **common, **answer.data, **_words(answer)})
    return data


def _at(at: str | None) -> list[str]:
    return [f"--at={at}"] if at else []


def _words(answer: Answer) -> dict[str, Any]:
    lists = titled(answer)
    return {
        "error_words": lead_words(answer, 1),
        "verdict": lead_words(answer, 2),
        "turn": lists.get("Turn", []),
        "at_odds_words": lists.get("They don't agree", []),
        "looks_wrong": lists.get("What looks wrong", []),
        "see": lists.get("See it at the eyepiece", []),
        "next_words": lists.get("What to measure next", []),
        "facts": lists.get("The mount itself", []),
        "assumed": lists.get("Assumed", []),
    }


def _beginning(desk: Desk, at: str | None) -> dict[str, Any]:
    """What is good enough, and with which star to begin."""
    import numpy as np

    from axletree.pole.correct.advice import advise
    from axletree.pole.solution.estimate import AxisEstimate
    from axletree.sky.observer import observer_of

    near = _near(desk, at)
    nothing = AxisEstimate(0.0, 0.0, np.zeros((2, 2)))
    advice = advise(nothing, desk.kit, observer_of(desk.kit.site), near)
    step = advice.next_drift
    return {
        "good_enough_arcmin": advice.tolerance.largest_arcmin,
        "verdict": f"Good enough is {advice.tolerance.largest_arcmin:.1f}′, since "
        f"{reason_words(advice.tolerance)}.",
        "next_drift": None if step is None else {
            "star": advice.next_name, "watch_s": step.watch_s,
        },
        "any_star": advice.any_star,
    }  # fmt: skip


def _near(desk: Desk, at: str | None) -> Any:
    """Stars that stand well for a measurement now; None by day."""
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.pole.solution.candidates import stars_now
    from axletree.sky.observer import observer_of

    moment = moment_of(desk, at)
    horizon = site_horizon(desk.kit.site, desk.folder, moment)
    return stars_now(moment, observer_of(desk.kit.site), horizon.altitude_at)


def _stars(desk: Desk, at: str | None) -> list[dict[str, Any]]:
    near = _near(desk, at)
    if near is None:
        return []
    return [
        {"name": near.names[k], "altitude_deg": float(near.altitude_deg[k]),
         "azimuth_deg": float(near.azimuth_deg[k])}
        for k in range(min(len(near), MOST_STARS))
    ]  # fmt: skip


def _eyepieces(desk: Desk) -> list[dict[str, Any]]:
    from axletree.sky.optics import true_field_deg

    focal = desk.kit.tube.focal_length_mm
    return [
        {
            "name": e.label,
            "field_arcmin": float(
                true_field_deg(
                    focal, e.focal_length_mm, e.apparent_field_deg, e.field_stop_mm
                )
            ) * 60.0,
        }
        for e in desk.kit.eyepieces
    ]  # fmt: skip


@router.put("/check/sheet", response_model=None)
def sheet(desk: OnDesk, given: SheetOfRows) -> dict[str, Any] | JSONResponse:
    """Measure with the rows as they stand; a refused row is named by its place and field."""
    from axletree.pole.solution.record import withdrawal_record
    from axletree.sky.observer import observer_of

    file, key = notes_file(desk), f"page {given.method} {given.id}"
    moment = local(desk, given.at)
    data: dict[str, Any] = {}
    if given.rows:
        text = rows_text(given.rows, COLUMNS[given.method])
        words = [f"--notes={file}", f"--at={moment.isoformat()}", given.method, "page"]
        try:
            answer = ask(desk, "check", words, held=(text, "this page", key))
        except AxletreeError as error:
            found = _REFUSED.match(str(error))
            if found is None:
                raise
            place = {"row": int(found[1]) - 2, "field": found[2] or "", "problem": found[3]}
            return JSONResponse(place, 422)
        data = plain({**answer.data.get("this_measurement", {}), **_words(answer)})
    elif any(r.get("key") == key for r in read_lines(file)):
        append_line(file, withdrawal_record(moment, key, observer_of(desk.kit.site)))
    kept: dict[str, Any] = {given.method: {"id": given.id, "rows": given.rows}}
    # Every page hears of it, also the one that asked: what it kept without a link comes late.
    desk.set_page("check", kept)
    return data


def rows_text(rows: Sequence[Mapping[str, str]], columns: Mapping[str, str]) -> str:
    """Rows of a page as the text of a file of measurements, semicolons between."""
    names = [name for name in columns if any(row.get(name) for row in rows)]
    for row in rows:
        unknown = [name for name in row if name not in columns]
        if unknown:
            raise AxletreeError(f"there is no column '{unknown[0]}'")
    out = io.StringIO()
    writer = csv.writer(out, delimiter=";", lineterminator="\n")
    writer.writerow(names)
    for row in rows:
        # A line that began with '#' would be taken for a remark.
        cells = [" ".join(row.get(name, "").split()).lstrip("#") for name in names]
        writer.writerow(cells)
    return out.getvalue()


@router.post("/check/turned")
def turned(desk: OnDesk, given: Turned) -> dict[str, Any]:
    """Note that bolts were turned: what was measured before no longer counts."""
    from axletree.pole.solution.record import TURNED

    at, file = local(desk, given.at).isoformat(), notes_file(desk)
    turns = (given.altitude_turns, given.azimuth_turns)
    for record in read_lines(file):
        told = (record.get("altitude_turns"), record.get("azimuth_turns"))
        if record.get("kind") == TURNED and record.get("at") == at and told == turns:
            return {}  # sent twice
    ask(desk, "check", [
        f"--notes={file}", f"--at={at}", f"--altitude-turns={turns[0]:g}",
        f"--azimuth-turns={turns[1]:g}", "turned",
    ])  # fmt: skip
    desk.set_page("check", {"drift": None, "readings": None})
    return {}
