"""What has happened to the evening on the desk, and how does it go on?

One `EveningRun` for each night that somebody looks at. Ticks are in the logbook before a method
returns; what else was asked for (an own order, clouds, promises) lasts while the app runs. The
order and its facts come from `evening.sheet.going_on`.
"""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from typing import TYPE_CHECKING

from axletree.app.mount_notes import left_out
from axletree.app.night.course import (
    Course,
    begun_course,
    first_course,
    plan_night,
    ticked_keys,
)
from axletree.app.night.rest import Rest, Step, begun, gone_on
from axletree.app.night.ticks import Row, take_back_tick, ticks, write_tick
from axletree.app.night.told import Told
from axletree.app.state import Desk
from axletree.axis.model import PointingModel
from axletree.axis.state import GapNote, State
from axletree.evening.ground_here import same_axes
from axletree.kit.errors import AxletreeError
from axletree.logbook.store import LoggedStop
from axletree.sky.time.nights import later
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.go_on import changes_text as say

if TYPE_CHECKING:
    from axletree.evening.sheet.going_on import ClosedSky
    from axletree.evening.sheet.plan import Planned
    from axletree.evening.stops.stop import Stop

MOST_STEPS_BACK = 30
MOST_CLOSED = 12


@dataclass
class EveningRun:
    """One night: the evening as planned, and its course after each step, the present one last.

    Whoever changes it holds the lock; who only looks takes `steps` as they are and never waits.
    """

    desk: Desk
    day: date
    steps: tuple[Course, ...]
    lock: threading.RLock = field(default_factory=threading.RLock)
    told: Told = field(default_factory=Told)

    @property
    def course(self) -> Course:
        """How the evening goes on now."""
        return self.steps[-1]

    @property
    def planned(self) -> Planned:
        """The evening as planned, with the hours it has now."""
        return self.course.planned

    # -- what the person does ---------------------------------------------------------------

    def tick(
        self, key: str, at: datetime, uid: str, *, done: bool, visitors: int | None, note: str
    ) -> None:
        """A stop was shown, or is skipped; the rest keeps its order and moves in time."""
        with self.lock:
            course = self.course
            if uid in {row["uid"] for row in ticks(self.day, self.desk.kit.site)}:
                return  # sent twice
            stop = next((s for s in course.stops if s.catalogue_id == key), None)
            name = stop.name if stop else self._named(key)
            tick = LoggedStop(at, name, key, done, visitors, note, uid)
            write_tick(self.desk, self.day, evening_document(self.planned.evening), tick)
            stood = course.stood
            if stop is not None and (done or begun(stop, at)):
                stood = (key, stop.chosen.side, min(stop.begin, at, key=datetime.timestamp))
            rest = [s.catalogue_id for s in course.stops if s.catalogue_id != key]
            changed = replace(
                course, ticked=course.ticked | {key}, stood=stood,
                promised=course.promised - {key},
            )  # fmt: skip
            step = say.ticked_words(name, done=done)
            first = course.stops[0].catalogue_id if course.stops else ""
            self._go(
                changed, at, Rest(given=rest, left=key == first), Step(step, course.own, uid)
            )  # fmt: skip

    def reorder(self, keys: Sequence[str], at: datetime) -> None:
        """The person's own order of what is to come; other objects may be put in."""
        with self.lock:
            if len(set(keys)) != len(keys):
                raise AxletreeError("an object stands twice in this order")
            step = self._order_words([s.catalogue_id for s in self.course.stops], list(keys))
            self._go(self.course, at, Rest(given=list(keys)), Step(step, own=True))

    def _order_words(self, before: list[str], after: list[str]) -> str:
        """What a new order changes, as words for taking it back."""
        gone, come = [k for k in before if k not in after], [k for k in after if k not in before]
        if len(gone) == 1 and not come:
            return say.left_out_words(self._named(gone[0]))
        if len(come) == 1 and not gone:
            return say.put_in_words(self._named(come[0]))
        for key in after if not gone and not come else ():
            rest = [k for k in before if k != key]
            if rest == [k for k in after if k != key] and before != after:
                earlier = after.index(key) < before.index(key)
                return say.moved_words(self._named(key), earlier=earlier)
        return say.OTHER_ORDER

    def plan_again(self, at: datetime, *, in_min: float = 0.0) -> None:
        """The best order from now on, or from so many minutes on."""
        with self.lock:
            step = say.planned_again_words(later(at, 60.0 * in_min))
            self._go(self.course, at, Rest(in_min=in_min), Step(step))

    def hours(self, at: datetime, start: time, hours: float) -> None:
        """The session begins at `start` and lasts so long, this night only; planned again.

        The kit's own stop and bedtime no longer count. Objects that the new hours do not know
        are no longer promised or come to.
        """
        with self.lock:
            planned = plan_night(self.desk, self.day, at, (start, hours))
            if planned.session is None:
                raise AxletreeError("there is no darkness for stars in these hours")
            kept = replace(
                self.course.onto(planned), hours=(start, hours), as_kit=left_out(self.desk)
            )
            lost = self.course.promises_gone(planned)
            first = planned.session.first_stop
            step = say.hours_words(first, planned.session.end)
            in_min = max(0.0, first.timestamp() - at.timestamp()) / 60.0
            self._go(kept, at, Rest(in_min=in_min), Step(step))
            told = replace(self.course, broken=(*self.course.broken, *lost))
            self.steps = (*self.steps[:-1], told)

    def longer(self, at: datetime, minutes: float) -> None:
        """The present stop lasts longer."""
        with self.lock:
            first = self._present(at)
            if first is None:
                raise AxletreeError("no stop runs yet: there is nothing to make longer")
            given = [s.catalogue_id for s in self.course.stops[1:]] if self.course.own else None
            step = say.longer_words(first.name, minutes)
            rest = Rest(given=given, longer_min=minutes)
            self._go(self.course, at, rest, Step(step, self.course.own))

    def close(self, parts: Sequence[ClosedSky], at: datetime) -> None:
        """Parts of the sky can't be used; the rest is planned around them."""
        with self.lock:
            closed = (*self.course.closed, *parts)
            if len(closed) > MOST_CLOSED:
                raise AxletreeError(f"at most {MOST_CLOSED} parts of the sky: open some again")
            step = Step(say.AROUND_CLOUDS)
            self._go(replace(self.course, closed=closed), at, Rest(), step)

    def open(self, which: int, at: datetime) -> None:
        """A part of the sky is free again."""
        with self.lock:
            if not 0 <= which < len(self.course.closed):
                raise AxletreeError("that part of the sky is open already")
            kept = tuple(c for i, c in enumerate(self.course.closed) if i != which)
            self._go(replace(self.course, closed=kept), at, Rest(), Step(say.OPEN_AGAIN))

    def promise(self, key: str, promised: bool) -> None:
        """Mark a stop as promised to people, or not."""
        with self.lock:
            course = self.course
            if key not in {s.catalogue_id for s in course.stops}:
                raise AxletreeError("only a stop that is to come can be promised")
            kept = course.promised | {key} if promised else course.promised - {key}
            stops = tuple(
                replace(s, promised=promised) if s.catalogue_id == key else s for s in course.stops
            )
            name = next(s.name for s in stops if s.catalogue_id == key)
            step = say.promised_words(name, promised=promised)
            self._take(replace(course, promised=kept, stops=stops, step=step, tick=""))

    def step_back(self) -> None:
        """Take the last step back; a tick is taken out of the logbook too."""
        with self.lock:
            if len(self.steps) == 1:
                raise AxletreeError("there is no step to take back")
            if self.course.tick:
                take_back_tick(self.day, self.desk.kit.site, self.course.tick)
            self.steps = self.steps[:-1]

    def axis_noted(self, at: datetime, state: State | None) -> None:
        """Plan again where the axis is known otherwise than when it was planned, or where what was
        learned is left out or no longer. What is to come keeps its order, as far as it has room,
        once something was shown or asked for. No step: what was noted is taken back as a note.
        """
        as_kit = left_out(self.desk)
        if self._planned_with(state, as_kit):
            return
        with self.lock:
            if self._planned_with(state, as_kit):
                return
            course = self.course
            anew = not same_axes(_pointing(course.planned.evening.state), _pointing(state))
            if len(self.steps) == 1:
                fresh = first_course(self.desk, self.day, at)
            else:
                planned = plan_night(self.desk, self.day, at, course.hours)
                kept = replace(course.onto(planned), as_kit=as_kit)
                order = [s.catalogue_id for s in kept.stops]
                step = Step(course.step, course.own, course.tick)
                fresh = gone_on(self.desk.kit, kept, at, Rest(given=order), step)
                gone = course.promises_gone(planned)
                fresh = replace(fresh, broken=(*fresh.broken, *gone))
            self.steps = (*self.steps[:-1], replace(fresh, axis_anew=anew))

    def record_read(self, at: datetime, listed: Sequence[Row]) -> None:
        """Go by the logbook where it holds other ticks than the course: one was taken back there,
        or was written by a command. What comes back stands where it was
        planned. No step, like a noted axis.
        """
        if self._as_recorded(listed):
            return
        with self.lock:
            listed = ticks(self.day, self.desk.kit.site)
            if self._as_recorded(listed):
                return  # a tick that was just being made
            course, ticked = self.course, ticked_keys(listed)
            if len(self.steps) == 1:
                fresh = begun_course(course.planned, ticked, as_kit=course.as_kit)
            else:
                kept = replace(course, ticked=ticked, promised=course.promised - ticked)
                step = Step(course.step, course.own, course.tick)
                rest = Rest(given=_put_back(course, ticked))
                fresh = gone_on(self.desk.kit, kept, at, rest, step)
            self.steps = (*self.steps[:-1], fresh)

    def _as_recorded(self, listed: Sequence[Row]) -> bool:
        """Whether the course knows just these ticks of the objects of this night."""
        return not (ticked_keys(listed) ^ self.course.ticked) & self.course.known()

    def _planned_with(self, state: State | None, as_kit: bool) -> bool:
        """Whether the plan's room and ways are those of this state."""
        was = self.planned.evening.state
        same = same_axes(_pointing(was), _pointing(state)) and _gaps(was) == _gaps(state)
        return self.course.as_kit == as_kit and same

    # -- how it goes on ---------------------------------------------------------------------

    def _present(self, at: datetime) -> Stop | None:
        """The stop that runs."""
        first = next(iter(self.course.stops), None)
        return first if first is not None and begun(first, at) else None

    def _go(self, course: Course, at: datetime, rest: Rest, step: Step) -> None:
        """Take the course from `at` on, with the rest as the person wants it, as the next step."""
        self._take(gone_on(self.desk.kit, course, at, rest, step))

    def _take(self, course: Course) -> None:
        self.steps = (*self.steps[-MOST_STEPS_BACK:], course)

    def _named(self, key: str) -> str:
        if key not in self.course.known():
            raise AxletreeError("that is none of this evening's objects")
        assert self.planned.task is not None
        return self.planned.task.name(key)


def _put_back(course: Course, ticked: frozenset[str]) -> list[str]:
    """What is to come with these ticks: whatever is ticked no longer before the first stop that
    was planned after it."""
    planned = [s.catalogue_id for s in course.planned.evening.stops]
    order = [s.catalogue_id for s in course.stops if s.catalogue_id not in ticked]
    for number, key in enumerate(planned):
        if key in course.ticked - ticked:
            later = planned[number:]
            order.insert(next((i for i, k in enumerate(order) if k in later), len(order)), key)
    return order


def _pointing(state: State | None) -> PointingModel | None:
    return None if state is None else state.pointing


def _gaps(state: State | None) -> tuple[GapNote, ...]:
    return () if state is None else state.gaps
