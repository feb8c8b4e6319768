"""What has happened to the evening on the desk, and how does it go on?

One `Run` for each night that somebody looks at. Ticks are in the logbook before a method returns;
what else was asked for (an own order, clouds, promises) lasts while the app runs. The order and
its facts come from `evening.going_on`.
"""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from axletree.app.night.course import Course, plan_night
from axletree.app.night.ticks import Row, Tick, take_back_tick, ticks, write_tick
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR
from axletree.tell.evening import changes_text as say
from axletree.tell.evening.data import evening_document

if TYPE_CHECKING:
    from axletree.evening.sheet.going_on import ClosedSky, Standing
    from axletree.evening.sheet.plan import Planned
    from axletree.evening.stops.stop import Stop

MOST_STEPS_BACK = 30
MOST_RUNS = 8
MOST_CLOSED = 12


@dataclass
class Run:
    """One night: the evening as planned, and its course after each step, the present one last.

    Whoever changes it holds the lock; who only looks takes `steps` as they are and never waits.
    """

    desk: Desk
    day: date
    steps: tuple[Course, ...]
    lock: threading.RLock = field(default_factory=threading.RLock)
    told: dict[bool, tuple[tuple[Course, ...], list[Row], str]] = field(default_factory=dict)

    @property
    def course(self) -> Course:
        """How the evening goes on now."""
        return self.steps[-1]

    @property
    def planned(self) -> Planned:
        """The evening as planned, with the hours it has now."""
        return self.course.planned

    def told_before(
        self, steps: tuple[Course, ...], listed: list[Row], looking: bool
    ) -> str | None:
        """What a leader's or a looker's page was last told, if of these very steps and ticks."""
        held = self.told.get(looking)
        same = held is not None and held[0] is steps and held[1] == listed
        return held[2] if held is not None and same else None

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
            tick = Tick(key, name, at, uid, done, visitors, note)
            write_tick(self.desk, self.day, evening_document(self.planned.evening), tick)
            stood = course.stood
            if stop is not None and (done or _begun(stop, at)):
                stood = (key, stop.chosen.side, min(stop.begin, at))
            rest = [s.catalogue_id for s in course.stops if s.catalogue_id != key]
            changed = replace(
                course, ticked=course.ticked | {key}, stood=stood,
                promised=course.promised - {key},
            )  # fmt: skip
            step = say.ticked_words(name, done=done)
            first = course.stops[0].catalogue_id if course.stops else ""
            self._go(changed, at, given=rest, left=key == first, step=step, own=course.own,
                     tick=uid)  # fmt: skip

    def reorder(self, keys: Sequence[str], at: datetime) -> None:
        """The person's own order of what is to come; other objects may be put in."""
        with self.lock:
            if len(set(keys)) != len(keys):
                raise AxletreeError("an object stands twice in this order")
            step = self._order_words([s.catalogue_id for s in self.course.stops], list(keys))
            self._go(self.course, at, given=list(keys), step=step, own=True)

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
            step = say.planned_again_words(at + timedelta(minutes=in_min))
            self._go(self.course, at, in_min=in_min, step=step)

    def hours(self, at: datetime, start: time, hours: float) -> None:
        """The session begins at `start` and lasts so long, this night only; planned again.

        The kit's own stop and bedtime no longer count. Objects that the new hours do not know
        are no longer promised or come to.
        """
        with self.lock:
            planned = plan_night(self.desk, self.day, at, (start, hours))
            if planned.session is None:
                raise AxletreeError("there is no darkness for stars in these hours")
            course = self.course
            promised = tuple(s for s in course.stops if s.catalogue_id in course.promised)
            kept = replace(course, planned=planned)
            known = kept.known()
            kept = replace(
                kept,
                stops=tuple(s for s in course.stops if s.catalogue_id in known),
                promised=course.promised & known,
                stood=course.stood if course.stood and course.stood[0] in known else None,
            )  # fmt: skip
            first = planned.session.first_stop
            step = say.hours_words(first, planned.session.end)
            in_min = max(0.0, first.timestamp() - at.timestamp()) / 60.0
            self._go(kept, at, in_min=in_min, step=step)
            lost = tuple(s.name for s in promised if s.catalogue_id not in known)
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
            self._go(self.course, at, given=given, longer_min=minutes, step=step,
                     own=self.course.own)  # fmt: skip

    def close(self, parts: Sequence[ClosedSky], at: datetime) -> None:
        """Parts of the sky can't be used; the rest is planned around them."""
        with self.lock:
            closed = (*self.course.closed, *parts)
            if len(closed) > MOST_CLOSED:
                raise AxletreeError(f"at most {MOST_CLOSED} parts of the sky: open some again")
            self._go(replace(self.course, closed=closed), at, step=say.AROUND_CLOUDS)

    def open(self, which: int, at: datetime) -> None:
        """A part of the sky is free again."""
        with self.lock:
            if not 0 <= which < len(self.course.closed):
                raise AxletreeError("that part of the sky is open already")
            kept = tuple(c for i, c in enumerate(self.course.closed) if i != which)
            self._go(replace(self.course, closed=kept), at, step=say.OPEN_AGAIN)

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

    # -- how it goes on ---------------------------------------------------------------------

    def _present(self, at: datetime) -> Stop | None:
        """The stop that runs."""
        first = next(iter(self.course.stops), None)
        return first if first is not None and _begun(first, at) else None

    def _go(
        self, course: Course, at: datetime, *, given: Sequence[str] | None = None,
        in_min: float = 0.0, longer_min: float = 0.0, left: bool = False, step: str,
        own: bool = False, tick: str = "",
    ) -> None:  # fmt: skip
        """The course from `at` on. `left`: the rig leaves the stop on which it stood just now."""
        from axletree.evening.sheet.going_on import SoFar, go_on
        from axletree.sky.observer import observer_of

        standing = self._standing(course, at, given, in_min, longer_min, left)
        known = tuple(s.catalogue_id for s in course.stops if s.catalogue_id not in course.ticked)
        goes_on = standing is not None and standing.until is not None
        if given is not None:
            present = standing.key if standing and goes_on else ""
            given = [k for k in given if k != present]
        new = go_on(
            self.desk.kit, observer_of(self.desk.kit.site), course.planned,
            SoFar(
                at=at + timedelta(minutes=in_min),
                gone=tuple(course.ticked & course.known()),
                standing=standing,
                promised=tuple(sorted(course.promised)),
                announced=known,
                closed=course.closed,
                given=None if given is None else tuple(given),
            ),
        )  # fmt: skip
        self._take(
            replace(course, stops=new.stops, own=own, lost=new.lost, broken=new.broken,
                    stay_cut_s=new.stay_cut_s, quality=new.quality,
                    step=step, tick=tick)
        )  # fmt: skip

    def _standing(
        self, course: Course, at: datetime, given: Sequence[str] | None, in_min: float,
        longer_min: float, left: bool,
    ) -> Standing | None:  # fmt: skip
        """Where the rig stands, and until when it stays there."""
        from axletree.evening.sheet.going_on import Standing

        first = next((s for s in course.stops if s.catalogue_id not in course.ticked), None)
        runs = first is not None and _begun(first, at)
        stays = given is None or given[:1] == [first.catalogue_id if first else ""] or longer_min
        if first is not None and runs and stays and not in_min and not left:
            until = max(first.end, at) + timedelta(minutes=longer_min)
            if until > at:
                return Standing(first.catalogue_id, first.chosen.side, first.begin, until)
        if course.stood is None:
            return None
        key, side, begin = course.stood
        # What was shown already needs no second place; what was only begun may come again.
        return Standing(key, side, begin) if key in course.ticked else None

    def _take(self, course: Course) -> None:
        self.steps = (*self.steps[-MOST_STEPS_BACK:], course)

    def _named(self, key: str) -> str:
        if key not in self.course.known():
            raise AxletreeError("that is none of this evening's objects")
        assert self.planned.task is not None
        return self.planned.task.name(key)


def _begun(stop: Stop, at: datetime) -> bool:
    """True from the second on in which a stop begins: pages count whole seconds."""
    return at.timestamp() > stop.begin.timestamp() - 1.0


_PLANNING = threading.Lock()


def run_of(desk: Desk, day: date, now: datetime) -> Run:
    """The run of a night, planned when it is first asked for (one at a time)."""
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise AxletreeError(f"{day}: no evening of these years")
    runs: dict[date, Run] = desk.kept("evening runs", dict)
    run = runs.get(day)
    if run is None:
        with _PLANNING:
            run = runs.get(day)
            if run is None:
                run = _planned(desk, day, now)
                for old in _spare(runs)[: max(0, len(runs) + 1 - MOST_RUNS)]:
                    del runs[old]
                runs[day] = run
    return run


def _spare(runs: dict[date, Run]) -> list[date]:
    """The nights in the order in which they may be forgotten: last those with a step taken, which
    nobody who only looks at other nights may push out."""
    return sorted(runs, key=lambda day: len(runs[day].steps) > 1)


def _planned(desk: Desk, day: date, now: datetime) -> Run:
    planned = plan_night(desk, day, now)
    stops = planned.evening.stops
    ticked = frozenset(row["catalogue_id"] for row in ticks(day, desk.kit.site))
    promised = frozenset(s.catalogue_id for s in stops if s.promised)
    stood = next(
        (
            (s.catalogue_id, s.chosen.side, s.begin) for s in reversed(stops)
            if s.catalogue_id in ticked
        ),
        None,
    )  # fmt: skip
    course = Course(
        planned,
        stops=tuple(s for s in stops if s.catalogue_id not in ticked),
        ticked=ticked, stood=stood, promised=promised - ticked,
        quality=planned.evening.order,
    )  # fmt: skip
    return Run(desk, day, (course,))
