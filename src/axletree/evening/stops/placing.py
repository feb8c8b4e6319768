"""Which object could be shown when, and how does an order of them become stops with their facts?

`OrderTask` is the whole task of ordering one evening, kept so that it can be ordered again. Seconds
count from the session's first stop.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

import numpy as np

from axletree.evening.hosting.pace import ease_of, find_seconds, look_factor, most_stops
from axletree.evening.night.session_grid import FINE_STEP_S, session_grid, shows_between
from axletree.evening.night.set_up_times import Session, pauses_of, seconds_between
from axletree.evening.objects.choosing import Candidate, Chosen
from axletree.evening.objects.tonight import OnObject, TonightSky
from axletree.evening.objects.varied_again import varied_again
from axletree.evening.order.candidates import Opening, OrderedStop, OrderSpan, Target
from axletree.evening.order.moving import Side, handling_of
from axletree.evening.people.children import (
    CHILDREN_POINTS,
    children_leave,
    needs_patience,
)
from axletree.evening.people.newcomers import for_newcomer
from axletree.evening.sequence.replan import Tracks
from axletree.evening.stops.bodies import with_bodies
from axletree.evening.stops.facts import stops_of
from axletree.evening.stops.findings import with_findings
from axletree.evening.stops.outcome import wait_before
from axletree.evening.stops.own_circles import with_own_circles
from axletree.evening.stops.set_on_star import with_circles_set
from axletree.evening.stops.stop import SideChoice, Stop, StopPlan
from axletree.evening.stops.tonight import worth_more
from axletree.evening.stops.windows import OpenTable, OrderTask, Span, open_spans
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.habits import Habits
from axletree.mount.rig.eyepiece import eye_place
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.room.table import RoomTable
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.positions.objects import object_positions
from axletree.sky.positions.stars import Positions
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants

# A stop that begins with the weights above the tube has to be worth this much more (ours).
# Seen lower than this, an object swims in haze and is worth less (ours).
LOW_DEG, LOW_POINTS = 25.0, 5.0
WEIGHTS_UP_POINTS = 6.0


def task_of(
    kit: Kit, observer: Observer, session: Session, table: RoomTable, chosen: Chosen,
    queue_s: float, tonight: TonightSky,
) -> OrderTask:  # fmt: skip
    """The task of one evening, from its candidates and the rig's room."""
    fine = session_grid(session, FINE_STEP_S)
    seconds = fine.seconds_since(fine[0])
    things = [c.thing for c in chosen.candidates]
    tracks = object_positions(things, fine, observer)
    shows = shows_between(chosen.shows, session, seconds)
    sun = SunRule.of(kit, observer)
    shows &= ~sun.closed_to_stops(fine, tracks.azimuth_deg, tracks.altitude_deg)
    open_table = open_spans(table, seconds, tracks.hour_angle_h, tracks.declination_deg, shows)
    opens = np.zeros(len(things), dtype=np.bool_)
    opens[[span.object for span in open_table.spans if span.end_s - span.begin_s >= queue_s]] = True
    chosen = replace(chosen, candidates=varied_again(kit, chosen.candidates, opens))
    targets = tuple(
        _with_more(
            _for_these(
                _target(kit, table, candidate, _course(seconds, tracks, open_table, k), queue_s),
                kit,
                candidate,
                session,
            ),
            tonight.on(candidate.thing.catalogue_id, candidate.thing.name),
            session,
        )
        for k, candidate in enumerate(chosen.candidates)
    )
    breaks = pauses_of(kit.habits, session, session.first_stop, float(seconds[-1]))
    return OrderTask(
        chosen=chosen,
        session=session,
        targets=targets,
        span=OrderSpan(0.0, float(seconds[-1]), breaks, north=kit.site.north, most=most_stops(kit)),
        handling=handling_of(kit),
        tracks=Tracks(seconds, tracks.azimuth_deg, tracks.altitude_deg),
        open_table=open_table,
        queue_s=queue_s,
        tonight=tonight,
    )


def stops_from(
    kit: Kit, observer: Observer, table: RoomTable, task: OrderTask,
    ordered: Sequence[OrderedStop], promised: frozenset[str] = frozenset(),
) -> tuple[Stop, ...]:  # fmt: skip
    """The stops of an order with everything needed at each, numbered from 1."""
    plans = _plans(task, ordered, promised)
    if not plans:
        return ()
    things = [p.thing for p in plans]
    begins = object_positions(things, Instants.from_datetimes([p.begin for p in plans]), observer)
    ends = object_positions(things, Instants.from_datetimes([p.end for p in plans]), observer)
    made = stops_of(kit, observer, table, plans, begins, ends)
    waits = [wait_before(kit, observer, task, ordered, k) for k in range(len(made))]
    made = tuple(
        replace(_within_the_night(stop, task.sunrise), wait=wait)
        for stop, wait in zip(made, waits, strict=True)
    )
    own = with_own_circles(made, task.model, observer)
    found = with_findings(kit, observer, table, with_bodies(own, observer, task.tonight), task.here)
    return with_circles_set(kit, observer, table, found, task.model)


def _within_the_night(stop: Stop, sunrise: datetime | None) -> Stop:
    """The stop, its room without an end where that comes only after the night."""

    def cut(side: SideChoice) -> SideChoice:
        ends = side.room_ends
        if sunrise is None or ends is None or ends <= sunrise:
            return side
        return replace(side, room_ends=None)

    other = None if stop.other is None else cut(stop.other)
    return replace(stop, chosen=cut(stop.chosen), other=other)


@dataclass(frozen=True)
class _Course:
    """One object through the session: places at `seconds`, and when it is open on which side."""

    seconds: Floats
    hour_angle_h: Floats
    declination_deg: Floats
    right_ascension_h: Floats
    altitude_deg: Floats
    spans: Sequence[Span]


def _course(seconds: Floats, tracks: Positions, open_table: OpenTable, k: int) -> _Course:
    return _Course(
        seconds, tracks.hour_angle_h[k], tracks.declination_deg[k], tracks.right_ascension_h[k],
        tracks.altitude_deg[k], open_table.of(k),
    )  # fmt: skip


def _target(
    kit: Kit, table: RoomTable, candidate: Candidate, course: _Course, show_s: float
) -> Target:
    seconds = course.seconds
    show_s = show_s * look_factor(candidate.margin_mag)
    openings: list[Opening] = []
    soonest_end = np.inf
    for span in course.spans:
        side: Side = "east" if span.side == "east" else "west"
        if span.level_s > span.begin_s:
            end = min(span.end_s, span.level_s + show_s)
            openings.append(Opening(side, span.begin_s, end))
        if span.level_s < span.end_s:
            up_from = max(span.begin_s, span.level_s)
            openings.append(Opening(side, up_from, span.end_s, -WEIGHTS_UP_POINTS))
        soonest_end = min(soonest_end, span.end_s)
    openings = for_newcomer(
        openings, kit, table, seconds, course.hour_angle_h, course.declination_deg
    )
    openings = _by_height(openings, seconds, course.altitude_deg, show_s)
    last = max((o.end_s for o in openings), default=0.0)
    sets_soon = last < seconds[-1] - 60.0
    middle = len(seconds) // 2
    declination_deg = float(course.declination_deg[middle])
    heights = _heights(kit, table, float(course.hour_angle_h[middle]), declination_deg)
    return Target(
        key=candidate.thing.catalogue_id,
        value=candidate.value,
        show_s=show_s,
        openings=tuple(openings),
        right_ascension_h=float(course.right_ascension_h[middle]),
        declination_deg=declination_deg,
        eyepiece=candidate.eyepiece,
        eye_height_mm=heights,
        urgency_points_per_h=2.0 if sets_soon else 0.0,
        must=candidate.must,
        find_s=find_seconds(kit, ease_of(candidate.thing)),
        splendid=candidate.splendid,
    )


def _by_height(
    openings: Sequence[Opening], seconds: Floats, altitude_deg: Floats, show_s: float
) -> list[Opening]:
    """The openings, worth less where the object is lower than `LOW_DEG`.

    Its high stretches keep their worth; the whole opening stays open beside them for less, so
    that a stop may begin or last where it is low.
    """
    above = altitude_deg - LOW_DEG
    at = np.flatnonzero((above[1:] < 0.0) != (above[:-1] < 0.0))
    step = seconds[at + 1] - seconds[at]
    cuts = seconds[at] - step * above[at] / (above[at + 1] - above[at])
    worth = []
    for opening in openings:
        inner = [float(c) for c in cuts if opening.start_s < c < opening.end_s]
        edges = [opening.start_s, *inner, opening.end_s]
        pieces = list(itertools.pairwise(edges))
        high = [p for p in pieces if float(np.interp(sum(p) / 2, seconds, above)) >= 0.0]
        for begin, end in high:
            # A stop that begins high may end a little lower.
            until = min(end + show_s, opening.end_s)
            worth.append(Opening(opening.side, begin, until, opening.value_change))
        if len(high) < len(pieces):
            change = opening.value_change - LOW_POINTS
            worth.append(Opening(opening.side, opening.start_s, opening.end_s, change))
    return worth


def _for_these(target: Target, kit: Kit, candidate: Candidate, session: Session) -> Target:
    """The target, open and worth what it is with children among the people."""
    return replace(
        target, openings=tuple(for_children(target.openings, candidate, kit.habits, session))
    )


def for_children(
    openings: Sequence[Opening], candidate: Candidate, habits: Habits, session: Session
) -> list[Opening]:
    """The openings of an object, with the children's evening in mind; as they are without one.

    What asks for patience opens when they have gone; what they like is worth more before. A
    must-see object stays open all the time.
    """
    leave = children_leave(habits, session)
    if leave is None:
        return list(openings)
    end_s = seconds_between(session.first_stop, leave)
    if needs_patience(candidate):
        if candidate.must:
            return list(openings)
        return [
            replace(o, start_s=max(o.start_s, end_s)) for o in openings if o.end_s > end_s
        ]  # fmt: skip
    if not candidate.splendid:
        return list(openings)
    early = [
        replace(o, end_s=min(o.end_s, end_s), value_change=o.value_change + CHILDREN_POINTS)
        for o in openings if o.start_s < end_s
    ]  # fmt: skip
    return [*openings, *early]


def _with_more(target: Target, on_it: OnObject, session: Session) -> Target:
    """The target, worth more around what happens on it."""
    if not on_it.told and not on_it.special:
        return target
    more = worth_more(target.openings, on_it, session, target.show_s)
    return replace(target, openings=tuple(more))


def _heights(
    kit: Kit, table: RoomTable, hour_angle_h: float, declination_deg: float
) -> tuple[float | None, float | None]:
    """Eyepiece heights (mm) with the tube east and west, for the order's stool."""
    habits = kit.habits
    angles = axis_angles(table.axes, np.array([1, -1]), hour_angle_h, declination_deg)
    eye = eye_place(
        table.rig, table.axes, *angles, (habits.eye_height_min_mm, habits.eye_height_max_mm)
    )
    return float(eye.height_m[0]) * 1000.0, float(eye.height_m[1]) * 1000.0


def _plans(
    task: OrderTask, ordered: Sequence[OrderedStop], promised: frozenset[str]
) -> list[StopPlan]:
    by_key = {c.thing.catalogue_id: c for c in task.chosen.candidates}
    plans = []
    for stop in ordered:
        candidate = by_key[stop.key]
        plans.append(
            StopPlan(
                candidate=candidate,
                side=stop.side,
                begin=task.at(stop.start_s),
                end=task.at(stop.end_s),
                queue_s=stop.end_s - stop.start_s,
                promised=candidate.must or stop.key in promised,
            )
        )
    return plans
