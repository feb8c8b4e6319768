"""What is shown, when, in which order; and what happens when the evening goes differently?"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Annotated, Any, Literal

from fastapi import APIRouter
from fastapi.responses import Response
from pydantic import Field

from axletree.app.answers.common import OnDesk, WholeDesk, moment_of, plain
from axletree.app.answers.told import Moment, local
from axletree.app.mount_notes import state_of_night, tell_changed_evening
from axletree.app.night.course import Course
from axletree.app.night.evening_run import EveningRun
from axletree.app.night.runs import run_of
from axletree.app.night.ticks import Row, ticks
from axletree.app.people.withheld import coarse_figures
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.habits import MOST_HOURS
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
Key = Annotated[str, Field(min_length=1, max_length=120)]
Uid = Annotated[str, Field(pattern=r"^[0-9a-f]{16}$")]
MOST_STOPS = 60
MOST_SPARES = 12
POINTS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip


class Change(Moment):
    """A change of one evening."""

    day: date


class Tick(Change):
    """A stop that was shown, or is skipped. `uid` is made by the page: sent twice, kept once."""

    key: Key
    uid: Uid
    state: Literal["done", "skipped"]
    visitors: Annotated[int, Field(ge=0, le=5000)] | None = None
    note: Annotated[str, Field(max_length=2000)] = ""


class Reordered(Change):
    """The stops to come in the person's own order."""

    keys: Annotated[list[Key], Field(max_length=MOST_STOPS)]


class Again(Change):
    """Plan the rest again, from so many minutes on."""

    in_min: Annotated[float, Field(ge=0, le=720, allow_inf_nan=False)] = 0.0


class Hours(Change):
    """When the session of this night begins and how long it lasts."""

    start: time
    hours: Annotated[float, Field(gt=0, le=MOST_HOURS, allow_inf_nan=False)]


class Longer(Change):
    """Stay longer at the present stop."""

    minutes: Annotated[float, Field(gt=0, le=240, allow_inf_nan=False)] = 10.0


class Closed(Change):
    """Directions that clouds hide, and for how long (None: until it is said otherwise)."""

    directions: Annotated[list[str], Field(min_length=1, max_length=8)]
    part: Literal["all", "low", "high"] = "all"
    minutes: Annotated[float, Field(gt=0, le=960, allow_inf_nan=False)] | None = None


class Opened(Change):
    """A part of the sky that is free again, by its place in the list."""

    which: Annotated[int, Field(ge=0, le=50)]


class Promised(Change):
    """A stop that people were promised, or no longer."""

    key: Key
    promised: bool


HALF_WAY_UP_DEG = 45.0


@router.get("/answer/evening")
def evening(
    desk: WholeDesk, seen: OnDesk, day: date | None = None, at: str | None = None
) -> Response:
    """The whole evening as it stands: planned, ticked and to come.

    Who only looks sees the leader's evening as it reads for the coarse place, and any other night
    planned there: of many nights planned at the very place, the place could be worked out.
    """
    moment = moment_of(desk, at)
    tonight = evening_date(moment, desk)
    wanted = day or tonight
    if not seen.looking:
        return _told(run_of(desk, wanted, moment), moment)
    leaders = {tonight.isoformat(), str(desk.settings("evening").get("day", ""))}
    known = wanted in desk.cached("evening runs", dict)
    own = known or wanted.isoformat() in leaders
    return _told(run_of(desk if own else seen, wanted, moment), moment, seen)


def evening_date(moment: datetime, desk: Desk) -> date:
    """The evening that a moment belongs to; until four in the morning it is still the last one."""
    own = moment.astimezone(desk.kit.site.zone)
    return (own - timedelta(hours=4)).date()


def _told(run: EveningRun, now: datetime, seen: Desk | None = None) -> Response:
    """The evening as JSON; after a change every open page asks for it, and it is made once for
    the leader and once for those who look (`seen` is their desk)."""
    looking = seen is not None
    # Who only looks is told circles that nobody measured: this mount's belong to its very place.
    state = None if looking else state_of_night(run.desk, run.day, now)
    if not looking:
        run.axis_noted(now, state)
    steps, listed = run.steps, ticks(run.day, run.desk.kit.site)
    text = run.told_before(steps, (listed, state), looking)
    if text is None:
        from axletree.stages.night.evening import pointing_of_evening

        desk = run.desk if seen is None else seen
        pointing = pointing_of_evening(desk.kit, state, run.day, desk.folder)
        planned = replace(run.planned.evening, state=state, pointing=pointing)
        if seen is not None:
            from axletree.evening.sheet.elsewhere import moved_to
            from axletree.sky.observer import observer_of

            observer = observer_of(seen.kit.site)
            planned = moved_to(planned, seen.kit, observer)
        data = _whole(run, planned, steps[-1], listed, looking)
        data["undo"] = steps[-1].step if len(steps) > 1 else ""
        data = coarse_figures(data) if looking else data
        text = json.dumps(data, ensure_ascii=False, allow_nan=False)
        run.told[looking] = (steps, (listed, state), text)
    return Response(text, media_type="application/json")


def _whole(
    run: EveningRun, answer: EveningAnswer, course: Course, listed: list[Row], looking: bool
) -> dict[str, Any]:
    planned, units = course.planned, answer.kit.habits.units

    def facts(stop: Stop) -> dict[str, Any]:
        # The page tells the way and draws none of its fields; the page for finding does.
        return stop_facts(stop, units).model_dump(mode="json", exclude={"finding": {"views"}})

    document = evening_document(answer).model_dump(mode="json", exclude={"stops", "given_up"})
    ticked = {row["catalogue_id"] for row in listed}
    past = [s for s in planned.evening.stops if s.catalogue_id in ticked]
    shown = {s.catalogue_id: s for s in _own(run.desk, past, answer, course, looking)}
    spares = _spares(course)
    free = {s["name"] for s in spares}
    data = {
        **document,
        "date_words": weekday_words(run.day),
        "stops": [
            facts(s) for s in _own(run.desk, course.stops, answer, course, looking)
        ],
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


def _change(desk: Desk, given: Change, make: Callable[[EveningRun, datetime], None]) -> Response:
    """Make a change, tell every open page, and give back the evening as it stands."""
    moment = local(desk, given.at)
    run = run_of(desk, given.day, moment)
    run.axis_noted(moment, state_of_night(desk, given.day, moment))
    make(run, moment)
    # No page is left out, not even the one that asked: what it kept without a link comes late.
    tell_changed_evening(desk)
    return _told(run, moment)


@router.post("/evening/tick")
def tick(desk: OnDesk, given: Tick) -> Response:
    """Write a stop into the logbook, shown or skipped."""
    return _change(
        desk, given,
        lambda run, at: run.tick(
            given.key, at, given.uid, done=given.state == "done", visitors=given.visitors,
            note=given.note,
        ),
    )  # fmt: skip


@router.post("/evening/back")
def back(desk: OnDesk, given: Change) -> Response:
    """Take the last step back."""
    return _change(desk, given, lambda run, at: run.step_back())


@router.post("/evening/order")
def order(desk: OnDesk, given: Reordered) -> Response:
    """The person's own order."""
    return _change(desk, given, lambda run, at: run.reorder(given.keys, at))


@router.post("/evening/again")
def again(desk: OnDesk, given: Again) -> Response:
    """The best order of what is left."""
    return _change(desk, given, lambda run, at: run.plan_again(at, in_min=given.in_min))


@router.post("/evening/hours")
def hours(desk: OnDesk, given: Hours) -> Response:
    """Other hours for this night, planned again."""
    start = given.start.replace(tzinfo=None)
    return _change(desk, given, lambda run, at: run.hours(at, start, given.hours))


@router.post("/evening/longer")
def longer(desk: OnDesk, given: Longer) -> Response:
    """Stay at the present stop."""
    return _change(desk, given, lambda run, at: run.longer(at, given.minutes))


@router.post("/evening/clouds")
def clouds(desk: OnDesk, given: Closed) -> Response:
    """Plan around a part of the sky."""
    from axletree.evening.sheet.going_on import ClosedSky

    unknown = [d for d in given.directions if d not in POINTS]
    if unknown:
        raise AxletreeError(f"'{unknown[0]}' is no direction; one of {', '.join(POINTS)}")
    low, high = {"all": (0.0, 90.0), "low": (0.0, HALF_WAY_UP_DEG),
                 "high": (HALF_WAY_UP_DEG, 90.0)}[given.part]  # fmt: skip

    def make(run: EveningRun, at: datetime) -> None:
        end = None if given.minutes is None else at + timedelta(minutes=given.minutes)
        spans = together(given.directions)
        run.close([ClosedSky(first, last, low, high, at, end) for first, last in spans], at)

    return _change(desk, given, make)


@router.post("/evening/open")
def opened(desk: OnDesk, given: Opened) -> Response:
    """A part of the sky is free again."""
    return _change(desk, given, lambda run, at: run.open(given.which, at))


@router.post("/evening/promise")
def promise(desk: OnDesk, given: Promised) -> Response:
    """Mark a stop as promised."""
    return _change(desk, given, lambda run, at: run.promise(given.key, given.promised))


def together(directions: list[str]) -> list[tuple[float, float]]:
    """Neighbouring eighths of the horizon as spans of azimuth, degrees."""
    held = sorted({POINTS.index(d) for d in directions})
    if len(held) == len(POINTS):
        return [(0.0, 0.0)]
    starts = [k for k in held if (k - 1) % 8 not in held]
    spans = []
    for start in starts:
        last = start
        while (last + 1) % 8 in held:
            last += 1
        spans.append(((start * 45.0 - 22.5) % 360.0, (last * 45.0 + 22.5) % 360.0))
    return spans
