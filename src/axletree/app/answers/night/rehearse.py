"""How does the evening on the desk go, step by step, for hands that practise by day?"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from axletree.app.answers.common import (
    OnDesk,
    WholeDesk,
    json_answer,
    json_text,
    moment_of,
    plain,
)
from axletree.app.answers.night.evening import as_looked_at, evening_asked, past_stops
from axletree.app.night.ticks import ticks
from axletree.app.people.withheld import coarse_figures
from axletree.stages.night.rehearsal import RehearsalRequest, rehearsal
from axletree.tell.rehearse.data import rehearsal_data

router = APIRouter(prefix="/answer")


@router.get("/rehearse")
def rehearse(
    desk: WholeDesk, seen: OnDesk, day: date | None = None, at: str | None = None
) -> Response:
    """Every step of the evening as it stands; who only looks gets it no finer than the place."""
    moment = moment_of(desk, at)
    run, looker = evening_asked(desk, seen, day, moment)
    steps, listed = run.steps, ticks(run.day, run.desk.kit.site)
    course = steps[-1]

    def made() -> str:
        answer, table = course.planned.evening, course.planned.ground.table
        stops = (*past_stops(course, listed), *course.stops)
        if looker is not None:
            answer = as_looked_at(answer, looker)
            latitude_deg = looker.kit.site.latitude_deg
            table = replace(table, rig=replace(table.rig, latitude_deg=latitude_deg))
        found = rehearsal(RehearsalRequest(answer, stops, table))
        data: dict[str, Any] = {**rehearsal_data(found)}
        data = coarse_figures(data) if looker is not None else data
        return json_text(plain(data))

    return json_answer(run.told.text(("rehearsal", looker is not None), steps, listed, made))
