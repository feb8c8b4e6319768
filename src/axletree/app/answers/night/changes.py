"""What is done when the evening goes differently: ticks, another order, clouds, promises?"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time
from typing import Annotated, Literal

from fastapi import APIRouter
from fastapi.responses import Response
from pydantic import Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.night.evening import told_evening
from axletree.app.answers.told import Moment, Uid, local
from axletree.app.mount_notes import state_of_night, tell_changed_evening
from axletree.app.night.evening_run import EveningRun
from axletree.app.night.runs import run_of
from axletree.app.night.ticks import ticks
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.habits import MOST_HOURS
from axletree.sky.time.nights import later

router = APIRouter()
Key = Annotated[str, Field(min_length=1, max_length=120)]
MOST_STOPS = 60
POINTS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip
HALF_WAY_UP_DEG = 45.0


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


def _change(desk: Desk, given: Change, make: Callable[[EveningRun, datetime], None]) -> Response:
    """Make a change, tell every open page, and give back the evening as it stands."""
    moment = local(desk, given.at)
    run = run_of(desk, given.day, moment)
    run.axis_noted(moment, state_of_night(desk, given.day, moment))
    run.record_read(moment, ticks(given.day, desk.kit.site))
    make(run, moment)
    # No page is left out, not even the one that asked: what it kept without a link comes late.
    tell_changed_evening(desk)
    return told_evening(run, moment)


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
        end = None if given.minutes is None else later(at, 60.0 * given.minutes)
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
