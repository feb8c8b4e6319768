"""What is told of a night whose whole plan isn't made yet: its times and a first order.

No circles, rooms or eyepieces: whoever sees it turns nothing by it. The page asks for the whole
evening next.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from axletree.app.answers.common import OnDesk, WholeDesk, moment_of
from axletree.app.answers.night.evening import evening, evening_date
from axletree.app.night.course import ticked_keys
from axletree.app.night.first_look import FirstLook, first_look
from axletree.app.night.ticks import ticks
from axletree.tell.shared.words import weekday_words

if TYPE_CHECKING:
    from axletree.evening.night.set_up_times import Session
    from axletree.evening.stops.windows import OrderTask

router = APIRouter()


@router.get("/answer/evening/first")
def first(
    desk: WholeDesk, seen: OnDesk, day: date | None = None, at: str | None = None
) -> Response:
    """A first look at an evening; the whole of it where that is made already.

    Who only looks, and a night without a session, get the whole: times planned for the very place
    are rounded there.
    """
    moment = moment_of(desk, at)
    wanted = day or evening_date(moment, desk)
    if seen.looking or wanted in desk.cached("evening runs", dict):
        return evening(desk, seen, day, at)
    look = first_look(desk, wanted, moment)
    session, task = look.prepared.session, look.prepared.task
    if session is None or task is None:
        return evening(desk, seen, day, at)
    ticked = ticked_keys(ticks(wanted, desk.kit.site))
    return JSONResponse(_told(look, session, task, ticked))


def _told(
    look: FirstLook, session: Session, task: OrderTask, ticked: Collection[str]
) -> dict[str, Any]:
    """The times of the night and its first order, without what is ticked off."""
    from axletree.evening.night.set_up_times import FINDER, stage_times

    prepared = look.prepared
    without = () if prepared.set_up.finder else (FINDER,)
    cool_min = prepared.kit.tube.cool_down_min
    stages = stage_times(session, prepared.darkness, cool_min, without)
    of_key = {c.thing.catalogue_id: c for c in task.chosen.candidates}
    return {
        "first": True,
        "date": prepared.day.isoformat(),
        "date_words": weekday_words(prepared.day),
        "stages": [
            {"name": s.name, "begin": s.begin.isoformat(), "end": s.end.isoformat()}
            for s in stages
        ],
        "stops": [
            {
                "key": stop.key,
                "name": of_key[stop.key].thing.name,
                "also_called": list(of_key[stop.key].thing.common_names[:1]),
                "kind": of_key[stop.key].thing.kind,
                "promised": of_key[stop.key].must,
                "begin": _minute(task, stop.start_s), "end": _minute(task, stop.end_s),
            }
            for stop in look.stops if stop.key not in ticked
        ],
        "breaks": [[_minute(task, a), _minute(task, b)] for a, b in task.span.breaks],
    }  # fmt: skip


def _minute(task: OrderTask, seconds: float) -> str:
    """A time of a first order: it is only about right."""
    return task.at(seconds).replace(second=0, microsecond=0).isoformat()
