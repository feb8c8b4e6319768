"""What is the order from now on, after clouds, a late start, a skip or ten minutes more?

Public: ``ClosedPart``, ``Tracks``, ``Now``, ``replan`` -> ``NewOrder``.

The targets and their openings are those of the evening; what has been shown or skipped is taken
out, what clouds hide is cut out of the openings, and the rest is ordered again from where the rig
stands. What people have been promised comes before any points; a promise that can't be kept is
named with the reason. Of two equally good orders the one nearer to the announced one wins.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from axletree.evening.given_up import GivenUpReason
from axletree.evening.order.candidates import LeftOut, Opening, Order, OrderSpan, Target
from axletree.evening.order.moving import Handling, Side
from axletree.evening.order.problem import problem_of
from axletree.evening.sequence.best import Effort, order_stops
from axletree.evening.sequence.for_people import for_people
from axletree.evening.sequence.given import in_given_order
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask

# What it is worth to show an announced stop rather than a new one: less than a showpiece is worth
# more than a familiar object, more than height or variety make of two alike. And in its place.
ANNOUNCED_POINTS = 10.0
# A tick is worth whole thousandths: less than this would not tell one place from the next.
ANNOUNCED_POINTS_PER_H = 1.5


@dataclass(frozen=True)
class ClosedPart:
    """A part of the sky that can't be used for a time: cloud, a lit window, a neighbour's smoke.

    Azimuths run from `from_azimuth_deg` eastward (clockwise) to `to_azimuth_deg`, through north
    where the second is smaller; equal ones mean all around. Seconds from the evening's zero.
    """

    from_azimuth_deg: float
    to_azimuth_deg: float
    low_altitude_deg: float = 0.0
    high_altitude_deg: float = 90.0
    start_s: float = -math.inf
    end_s: float = math.inf

    def holds(self, azimuth_deg: Floats, altitude_deg: Floats, seconds: Floats) -> Mask:
        """True where a direction at a time lies within it; broadcasts."""
        width = (self.to_azimuth_deg - self.from_azimuth_deg) % 360.0 or 360.0
        around = np.mod(azimuth_deg - self.from_azimuth_deg, 360.0) <= width
        high = (altitude_deg >= self.low_altitude_deg) & (altitude_deg <= self.high_altitude_deg)
        return np.asarray(around & high & (seconds >= self.start_s) & (seconds <= self.end_s))


@dataclass(frozen=True)
class Tracks:
    """Where the targets stand through the evening: `seconds` (m,), directions (targets, m).

    Rows in the order of the targets. Steps of a few minutes are enough: a cloud's edge is no
    sharper.
    """

    seconds: Floats
    azimuth_deg: Floats
    altitude_deg: Floats


@dataclass(frozen=True)
class Now:
    """What has happened so far and what is asked for.

    `at_s` is now. `shown` and `skip` are keys that get no stop any more. `current` is the stop
    that runs: (key, tube side); with `stay_s` it goes on for so many seconds, otherwise it is
    over. `given` is the person's own order of what is left: then nothing else is shown, and
    nothing in another order. `promised` are the keys that people have been promised.
    `announced` is the order that people know, best guess first.
    """

    at_s: float
    shown: tuple[str, ...] = ()
    skip: tuple[str, ...] = ()
    current: tuple[str, Side] | None = None
    stay_s: float = 0.0
    promised: tuple[str, ...] = ()
    announced: tuple[str, ...] = ()
    closed: tuple[ClosedPart, ...] = ()
    given: tuple[str, ...] | None = None


@dataclass(frozen=True)
class NewOrder:
    """The order from now on, and the promises that can't be kept, with their reasons.

    `free_from_s` is when the rig leaves the current stop. `stay_cut_s` is how much of the time
    asked for at the current stop it does not have (its opening ends before).
    """

    order: Order
    broken_promises: tuple[LeftOut, ...]
    free_from_s: float
    stay_cut_s: float = 0.0


def replan(
    targets: Sequence[Target],
    session: OrderSpan,
    handling: Handling,
    now: Now,
    tracks: Tracks | None = None,
    *,
    effort: Effort = "quick",
) -> NewOrder:
    """A new order of what is left, from now on; never refuses because too little time is left.

    With `closed` sky, `tracks` are needed. Refuses keys that are no targets.
    """
    by_key = {target.key: target for target in targets}
    for key in (*now.shown, *now.skip, *now.promised, *(now.given or ()), *(now.current or ())[:1]):
        if key not in by_key:
            raise AxletreeError(f"'{key}' is none of this evening's objects")
    if now.stay_s < 0 or not math.isfinite(now.at_s):
        raise AxletreeError("the time to stay must be 0 s or more, and now a moment")
    if now.closed and tracks is None:
        raise AxletreeError("closed sky can only be left out where the objects' tracks are known")

    open_now = _cut(targets, tracks, now.closed) if tracks is not None else by_key
    free, stay_cut = _free_from(open_now, now)
    start = min(max(free, session.start_s), session.end_s)
    breaks = tuple(
        (max(low, start), high) for low, high in session.breaks if high > start
    )  # a break that has begun goes on
    pose = session.start_pose
    if now.current is not None:
        pose = by_key[now.current[0]].pose(now.current[1])
    gone = {*now.shown, *now.skip, *(now.current or ())[:1]}
    left = [_weighed(open_now[target.key], now) for target in targets if target.key not in gone]
    had = len(set(now.shown) | {*(now.current or ())[:1]})
    most = None if session.most is None else max(0, session.most - had)
    span = replace(session, start_s=start, breaks=breaks, start_pose=pose, most=most)
    if now.given is not None:
        order = in_given_order(left, span, handling, [k for k in now.given if k not in gone])
    else:
        order = order_stops(left, span, handling, effort=effort)
        order = for_people(order, left, span, handling)
        order = _as_announced(order, left, span, handling, now.announced)
    if now.closed:
        order = replace(order, left_out=_clouded(order.left_out, by_key, span, handling))
    promised = {*now.promised, *(target.key for target in targets if target.must)} - gone
    broken = tuple(x for x in order.left_out if x.key in promised)
    return NewOrder(order, broken, start, stay_cut)


def _as_announced(
    order: Order, left: Sequence[Target], span: OrderSpan, handling: Handling,
    announced: Sequence[str],
) -> Order:  # fmt: skip
    """The order, or with the same stops the one that people know, where it still holds."""
    keys = {stop.key for stop in order.stops}
    known = [key for key in announced if key in keys]
    if len(known) < len(keys):
        return order
    same = in_given_order(left, span, handling, known)
    if len(same.stops) < len(keys):
        return order
    lost = max(0.0, order.points - same.points) / max(abs(order.points), 1.0)
    return replace(
        order, stops=same.stops, points=same.points, gap=order.gap + lost,
        proven_best=order.proven_best and lost == 0.0,
    )  # fmt: skip


def _clouded(
    left_out: Sequence[LeftOut], uncut: Mapping[str, Target], span: OrderSpan, handling: Handling
) -> tuple[LeftOut, ...]:
    """The same, with those named that a clear sky would leave an opening for their stop."""
    short = (
        GivenUpReason.NEVER_OPEN, GivenUpReason.NO_LONGER_OPEN, GivenUpReason.ROOM_TOO_SHORT,
    )  # fmt: skip
    return tuple(
        replace(x, why=GivenUpReason.CLOUDED, room_s=0.0)
        if x.why in short and problem_of([uncut[x.key]], span, handling).objects_with_options
        else x
        for x in left_out
    )


def _weighed(target: Target, now: Now) -> Target:
    """Promised targets come first of all; announced ones are worth a little more."""
    known = ANNOUNCED_POINTS if target.key in now.announced else 0.0
    # Earlier in the announced order: a little dearer to wait for, so that the order holds.
    urgency = target.urgency_points_per_h
    if known:
        place = now.announced.index(target.key)
        urgency += ANNOUNCED_POINTS_PER_H * (1.0 - place / len(now.announced))
    return replace(
        target,
        value=target.value + known,
        urgency_points_per_h=urgency,
        must=target.must or target.key in now.promised,
    )


def _free_from(open_now: Mapping[str, Target], now: Now) -> tuple[float, float]:
    """When the rig leaves the current stop, and how much of the stay there it can't have."""
    until = now.at_s + now.stay_s
    if now.current is None or now.stay_s == 0.0:
        return until, 0.0
    key, side = now.current
    # Openings of one side may touch or overlap: the weights rise, and it can still be shown.
    last = now.at_s
    for opening in sorted(open_now[key].openings, key=lambda o: o.start_s):
        if opening.side == side and opening.start_s <= last:
            last = max(last, opening.end_s)
    return min(until, last), max(0.0, until - last)


def _cut(
    targets: Sequence[Target], tracks: Tracks, closed: Sequence[ClosedPart]
) -> dict[str, Target]:
    """The targets with what is closed cut out of their openings."""
    if tracks.azimuth_deg.shape != (len(targets), len(tracks.seconds)):
        raise AxletreeError(
            f"tracks of shape {tracks.azimuth_deg.shape} for {len(targets)} objects at "
            f"{len(tracks.seconds)} times"
        )
    hidden = np.zeros(tracks.azimuth_deg.shape, dtype=bool)
    for part in closed:
        hidden |= part.holds(tracks.azimuth_deg, tracks.altitude_deg, tracks.seconds)
    return {
        target.key: replace(target, openings=_without(target.openings, tracks.seconds, row))
        for target, row in zip(targets, hidden, strict=True)
    }


def _without(openings: Sequence[Opening], seconds: Floats, hidden: Mask) -> tuple[Opening, ...]:
    """Openings less the hidden spans; a span reaches to the neighbouring clear samples."""
    if not hidden.any():
        return tuple(openings)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], hidden, [False]]).astype(np.int8)))
    last = len(seconds) - 1
    spans = [
        (
            float(seconds[a - 1]) if a > 0 else -math.inf,
            float(seconds[b]) if b <= last else math.inf,
        )
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]
    found: list[Opening] = []
    for opening in openings:
        start = opening.start_s
        for low, high in spans:
            if start < min(low, opening.end_s):
                found.append(replace(opening, start_s=start, end_s=min(low, opening.end_s)))
            start = max(start, high)
        if start < opening.end_s:
            found.append(replace(opening, start_s=start))
    return tuple(found)
