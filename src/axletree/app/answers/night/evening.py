"""What is shown, when, in which order; and how does the evening stand after what happened?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any

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
from axletree.app.mount_notes import state_of_night
from axletree.app.night.course import Course
from axletree.app.night.evening_run import EveningRun
from axletree.app.night.runs import run_of
from axletree.app.night.strip import strip_data
from axletree.app.night.ticks import Row, ticks
from axletree.app.people.withheld import coarse_figures
from axletree.app.state import Desk
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.go_on.changes_text import AXIS_ANEW, closed_words
from axletree.tell.evening.stop_data import given_up_facts, stop_facts
from axletree.tell.seeing.text import session_end_words, why_words
from axletree.tell.shared.words import weekday_words
from axletree.tell.stop.text import order_words, stay_cut_words

if TYPE_CHECKING:
    from axletree.evening.sheet.answer import EveningAnswer
    from axletree.evening.stops.stop import Stop

router = APIRouter()
MOST_SPARES = 12


@router.get("/answer/evening")
def evening(
    desk: WholeDesk, seen: OnDesk, day: date | None = None, at: str | None = None
) -> Response:
    """The whole evening as it stands: planned, ticked and to come.

    Who only looks sees the leader's evening as it reads for the coarse place, and any other night
    planned there: of many nights planned at the very place, the place could be worked out.
    """
    moment = moment_of(desk, at)
    run, looker = evening_asked(desk, seen, day, moment)
    return told_evening(run, moment, looker)


def evening_asked(
    desk: Desk, seen: Desk, day: date | None, moment: datetime
) -> tuple[EveningRun, Desk | None]:
    """The run of the night that somebody asks for, and the desk of who only looks at it."""
    tonight = evening_date(moment, desk)
    wanted = day or tonight
    if not seen.looking:
        return run_of(desk, wanted, moment), None
    leaders = {tonight.isoformat(), str(desk.settings("evening").get("day", ""))}
    known = wanted in desk.cached("evening runs", dict)
    own = known or wanted.isoformat() in leaders
    return run_of(desk if own else seen, wanted, moment), seen


def evening_date(moment: datetime, desk: Desk) -> date:
    """The evening that a moment belongs to; until four in the morning it is still the last one."""
    own = moment.astimezone(desk.kit.site.zone)
    return (own - timedelta(hours=4)).date()


def told_evening(run: EveningRun, now: datetime, seen: Desk | None = None) -> Response:
    """The evening as JSON; after a change every open page asks for it, and it is made once for
    the leader and once for those who look (`seen` is their desk)."""
    looking = seen is not None
    # Who only looks is told circles that nobody measured: this mount's belong to its very place.
    state = None if looking else state_of_night(run.desk, run.day, now)
    listed = ticks(run.day, run.desk.kit.site)
    if not looking:
        run.axis_noted(now, state)
        run.record_read(now, listed)
    steps = run.steps

    def made() -> str:
        from axletree.stages.night.evening import pointing_of_evening

        desk = run.desk if seen is None else seen
        pointing = pointing_of_evening(desk.kit, state, run.day, desk.folder)
        planned = replace(run.planned.evening, state=state, pointing=pointing)
        if seen is not None:
            planned = as_looked_at(planned, seen)
        data = _whole(run, planned, steps[-1], listed, looking)
        data["undo"] = steps[-1].step if len(steps) > 1 else ""
        data = coarse_figures(data) if looking else data
        return json_text(data)

    return json_answer(run.told.text(("evening", looking), steps, (listed, state), made))


def as_looked_at(answer: EveningAnswer, seen: Desk) -> EveningAnswer:
    """The evening as it reads for the coarse place of who only looks, `seen` their desk."""
    from axletree.evening.sheet.elsewhere import moved_to
    from axletree.sky.observer import observer_of

    return moved_to(answer, seen.kit, observer_of(seen.kit.site))


def _whole(
    run: EveningRun, answer: EveningAnswer, course: Course, listed: list[Row], looking: bool
) -> dict[str, Any]:
    planned, units = course.planned, answer.kit.habits.units

    def facts(stop: Stop) -> dict[str, Any]:
        # The page tells the way and draws none of its fields; the page for finding does.
        return stop_facts(stop, units).model_dump(mode="json", exclude={"finding": {"views"}})

    document = evening_document(answer).model_dump(mode="json", exclude={"stops", "given_up"})
    past = past_stops(course, listed)
    shown = {s.catalogue_id: s for s in _own(run.desk, past, answer, course, looking)}
    spares = _spares(course)
    free = {s["name"] for s in spares}
    to_come = _own(run.desk, course.stops, answer, course, looking)
    data = {
        **document,
        "strip": strip_data(answer.horizon, answer.kit.site.latitude_deg, to_come),
        "date_words": weekday_words(run.day),
        "stops": [facts(s) for s in to_come],
        "ticked": [
            {
                "uid": row["uid"], "key": row["catalogue_id"], "name": row["object"],
                "at": row["at"], "state": row["state"], "visitors": row["visitors"],
                "note": row["note"],
                "planned": facts(shown[row["catalogue_id"]])
                if row["catalogue_id"] in shown else None,
            }
            for row in listed
        ],
        "spares": spares,
        "lost": [given_up_facts(g).model_dump() for g in course.lost],
        "broken": list(course.broken),
        "own_order": course.own,
        "words": _order_words(course),
        "empty_because": course.quality.empty_because if course.quality else None,
        "as_kit": bool(run.desk.settings("evening").get("as_kit")),
        "closed": [closed_words(c) for c in course.closed],
        "over_from": over.isoformat() if (over := course.over_from()) else None,
        "best_from": begin.isoformat() if (begin := course.best_from) else None,
        "breaks": [
            [_iso(course, start), _iso(course, end)]
            for start, end in (planned.task.span.breaks if planned.task else ())
        ],
        "session": None if planned.session is None else {
            "first_stop": planned.session.first_stop.isoformat(),
            "end": planned.session.end.isoformat(),
            "ended_by": session_end_words(planned.session.ended_by),
        },
        "given_up": [
            given_up_facts(g).model_dump()
            for g in planned.evening.given_up if g.name not in free
        ],
    }  # fmt: skip
    found: dict[str, Any] = plain(data)
    return found


def past_stops(course: Course, listed: Sequence[Row]) -> list[Stop]:
    """The stops of the plan that the logbook says were shown or skipped."""
    ticked = {row["catalogue_id"] for row in listed}
    return [s for s in course.planned.evening.stops if s.catalogue_id in ticked]


def _own(
    desk: Desk, stops: Sequence[Stop], answer: EveningAnswer, course: Course, looking: bool
) -> Sequence[Stop]:
    """The stops with this mount's own circles, read as they are marked, and its own ways.

    Who only looks gets no ways: turns from a star would tell where the mount stands.
    """
    from axletree.evening.stops.findings import with_findings
    from axletree.evening.stops.own_circles import with_own_circles
    from axletree.evening.stops.set_on_star import with_circles_set

    observer, model, task = answer.observer, answer.pointing, course.planned.task
    if not looking and (task is None or task.model == model):
        return stops  # planned with just what is known now
    table = course.planned.ground.table
    own = with_own_circles(stops, model, observer)
    if looking:
        own = tuple(replace(stop, finding=None) for stop in own)
    elif course.here is not None and model is not None:
        own = with_findings(answer.kit, observer, table, own, replace(course.here, model=model))
    return with_circles_set(answer.kit, observer, table, own, model)


def _order_words(course: Course) -> str:
    """How good the order is; first that the axis was noted anew, and what a longer stay lacks."""
    words = [] if course.quality is None else [order_words(course.quality)]
    if course.stay_cut_s > 1.0:
        words.insert(0, stay_cut_words(course.stay_cut_s))
    if course.axis_anew:
        words.insert(0, AXIS_ANEW)
    return " ".join(words)


def _iso(course: Course, seconds: float) -> str:
    assert course.planned.task is not None
    return course.planned.task.at(seconds).isoformat()


def _spares(course: Course) -> list[dict[str, Any]]:
    """What else could be shown this night, best first, with when it is free."""
    task = course.planned.task
    if task is None:
        return []
    taken = {s.catalogue_id for s in course.stops} | course.ticked
    found: list[tuple[float, dict[str, Any]]] = []
    for candidate, target in zip(task.chosen.candidates, task.targets, strict=True):
        free = [
            (o.start_s, o.end_s) for o in target.openings if o.end_s - o.start_s >= target.show_s
        ]
        if target.key in taken or not free:
            continue
        spare = {
            "key": target.key, "name": candidate.thing.name,
            "also_called": list(candidate.thing.common_names[:1]),
            "kind": candidate.thing.kind, "why": why_words(candidate),
            "free_from": _iso(course, min(a for a, _ in free)),
            "free_until": _iso(course, max(b for _, b in free)),
        }  # fmt: skip
        found.append((candidate.value, spare))
    found.sort(key=lambda pair: -pair[0])
    return [spare for _, spare in found[:MOST_SPARES]]
