"""How does the evening on the desk go, step by step, for hands that practise by day?"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from axletree.app.answers.common import OnDesk, WholeDesk, moment_of, plain
from axletree.app.answers.night.evening import evening_asked, past_stops
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
            from axletree.evening.sheet.elsewhere import moved_to
            from axletree.sky.observer import observer_of

            answer = moved_to(answer, looker.kit, observer_of(looker.kit.site))
            latitude_deg = looker.kit.site.latitude_deg
            table = replace(table, rig=replace(table.rig, latitude_deg=latitude_deg))
        found = rehearsal(RehearsalRequest(answer, stops, table))
        data: dict[str, Any] = {**rehearsal_data(found)}
        data = coarse_figures(data) if looker is not None else data
        return json.dumps(plain(data), ensure_ascii=False, allow_nan=False)

    name = "rehearsal" if looker is None else "rehearsal looked at"
    return Response(run.told.text(name, steps, listed, made), media_type="application/json")
