"""How good is the order, what got no stop, why is it empty, and why does the host wait?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from enum import StrEnum

from axletree.evening.given_up import GivenUp, GivenUpReason
from axletree.evening.night.set_up_times import SessionEnd, seconds_between
from axletree.evening.objects.not_offered import NotShown, Omission
from axletree.evening.order.candidates import LeftOut, Order, OrderedStop, Target
from axletree.evening.seeing.shows_from import FIRST_STARS_SUN_DOWN_DEG
from axletree.evening.sequence.for_people import LONG_WAIT_S, wait_seconds
from axletree.evening.stops.stop import Meanwhile, Wait, WaitFor
from axletree.evening.stops.windows import OrderTask
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.room.ends import CONTACT, STOP
from axletree.sky.events.twilight import ASTRONOMICAL_DEG
from axletree.sky.observer import Observer
from axletree.sky.positions.bodies import body_positions, sun_altitude_deg
from axletree.sky.positions.objects import object_positions
from axletree.sky.time.instants import Instants

# After the last stop people go on talking and looking for so long without a word on the sheet, and
# so many objects are named for those who stay (ours).
LONG_IDLE_S, MOST_TO_FOLLOW = 900.0, 3


class EmptyBecause(StrEnum):
    """Why an order has no stops."""

    NO_SESSION = "no session"
    SESSION_OVER = "session over"
    CLOUDS = "clouds"
    NOTHING_FITS = "nothing fits"
    NOTHING_LEFT = "nothing left"


@dataclass(frozen=True)
class IdleEnd:
    """The session goes on from `begin` without a stop: as many as the host wants have been
    (`enough`), or nothing else fits. `could_follow` names what could be shown then all the same."""

    begin: datetime
    enough: bool
    could_follow: tuple[str, ...]


@dataclass(frozen=True)
class OrderQuality:
    """How good the order is: by which method, proven or with a gap; why it has no stops.

    `session_end` and `ended_by` are None where there is no session. `idle`: None where the last
    stop ends with the session.
    """

    method: str
    proven_best: bool
    gap_percent: float
    empty_because: EmptyBecause | None
    session_end: datetime | None
    ended_by: SessionEnd | None
    idle: IdleEnd | None = None


NO_SESSION = OrderQuality("none", True, 0.0, EmptyBecause.NO_SESSION, None, None)


def given_up(task: OrderTask, order: Order) -> list[GivenUp]:
    """What was considered and got no stop, each with its reason."""
    unseen = [omitted(omission) for omission in task.chosen.left_out]
    return unseen + [left_without(task, left) for left in order.left_out]


def omitted(omission: Omission) -> GivenUp:
    """An object that was not even offered to the order."""
    reason = {
        NotShown.EXCLUDED: GivenUpReason.EXCLUDED,
        NotShown.TOO_LOW: GivenUpReason.BELOW,
        NotShown.TOO_CLOSE: GivenUpReason.TOO_CLOSE,
        NotShown.UNKNOWN_LIGHT: GivenUpReason.UNKNOWN,
        NotShown.TOO_FAINT: GivenUpReason.TOO_FAINT,
        NotShown.NEVER_DARK: GivenUpReason.NEVER_DARK,
        NotShown.MANY_BETTER: GivenUpReason.MANY_BETTER,
    }[omission.why]
    if omission.by_moon and reason is GivenUpReason.TOO_FAINT:
        reason = GivenUpReason.TOO_FAINT_BY_MOON
    return GivenUp(
        omission.name, reason, promised=omission.must, short_mag=omission.lacking_mag or 0.0
    )


def left_without(task: OrderTask, left: LeftOut) -> GivenUp:
    """Why an object got no stop; where the mount bars its way all the time, that."""
    keys = [target.key for target in task.targets]
    code = int(task.open_table.closed_by[keys.index(left.key)])
    barred = {int(CONTACT): GivenUpReason.CONTACT, int(STOP): GivenUpReason.TRAVEL_STOP}
    if code in barred:
        return GivenUp(task.name(left.key), barred[code], promised=left.must)
    chances = [side.touch_chance for side in task.barred if side.key == left.key]
    if chances:
        return GivenUp(
            task.name(left.key), GivenUpReason.MAY_TOUCH, promised=left.must,
            touch_chance=max(chances),
        )  # fmt: skip
    return GivenUp(
        name=task.name(left.key),
        reason=left.why,
        promised=left.must,
        needed_s=left.needed_s,
        room_s=left.room_s,
        instead_of=tuple(task.name(key) for key in left.instead_of),
    )


def order_quality(task: OrderTask, order: Order, from_s: float = 0.0) -> OrderQuality:
    """How good the order from `from_s` on is; of an empty one, why it is empty."""
    return OrderQuality(
        method=order.method,
        proven_best=order.proven_best,
        gap_percent=order.gap * 100.0,
        empty_because=_empty_because(task, order, from_s),
        session_end=task.session.end,
        ended_by=task.session.ended_by,
        idle=_idle_end(task, order),
    )


def _idle_end(task: OrderTask, order: Order) -> IdleEnd | None:
    """What of the session is left after the last stop, where that is long."""
    if not order.stops:
        return None
    last = order.stops[-1]
    if task.span.end_s - last.end_s < LONG_IDLE_S:
        return None
    enough = task.span.most is not None and len(order.stops) >= task.span.most
    by_key = {target.key: target for target in task.targets}
    out = sorted((by_key[x.key] for x in order.left_out), key=lambda target: -target.value)
    handling = task.handling
    begin_s = last.end_s + handling.find_s + handling.focus_s
    could = [
        task.name(target.key) for target in out if _open_from(target, begin_s, task.span.end_s)
    ]
    return IdleEnd(task.at(last.end_s), enough, tuple(could[:MOST_TO_FOLLOW]))


def _open_from(target: Target, begin_s: float, end_s: float) -> bool:
    """Whether a whole stop of the target fits between two moments."""
    return any(
        min(o.end_s, end_s) - max(o.start_s, begin_s) >= target.show_s for o in target.openings
    )


def _empty_because(task: OrderTask, order: Order, from_s: float) -> EmptyBecause | None:
    if order.stops:
        return None
    whys = {left.why for left in order.left_out}
    left_s = task.span.end_s - from_s
    if left_s < task.queue_s or GivenUpReason.SESSION_OVER in whys:
        return EmptyBecause.SESSION_OVER
    if GivenUpReason.CLOUDED in whys:
        return EmptyBecause.CLOUDS
    return EmptyBecause.NOTHING_FITS if whys else EmptyBecause.NOTHING_LEFT


def wait_before(
    kit: Kit, observer: Observer, task: OrderTask, ordered: Sequence[OrderedStop], at: int
) -> Wait | None:
    """The wait before this stop of an order; None where it is short."""
    stop, before = ordered[at], ordered[at - 1] if at else None
    waited = wait_seconds(stop, task.span)
    if waited < LONG_WAIT_S:
        return None
    end_s = stop.start_s - (stop.move_s if before else 0.0)
    begin_s = before.end_s if before else stop.arrive_s
    begin_s, end_s = _longest_gap(begin_s, end_s, task.span.breaks)
    stay = before is not None and before.room_end_s >= end_s
    return Wait(
        begin=task.at(begin_s),
        end=task.at(end_s),
        waits_for=_waits_for(kit, observer, task, stop),
        meanwhile=Meanwhile.STAY if stay else _without_a_stop(observer, task.at(end_s)),
        stay_with=task.name(before.key) if before is not None and stay else None,
    )


def _without_a_stop(observer: Observer, until: datetime) -> Meanwhile:
    """What there is to look at until then where no stop lasts so long."""
    sun = float(sun_altitude_deg(Instants.from_datetime(until), observer)[0])
    return Meanwhile.RIG if -sun < FIRST_STARS_SUN_DOWN_DEG else Meanwhile.BARE_EYE


def _longest_gap(
    begin_s: float, end_s: float, breaks: Sequence[tuple[float, float]]
) -> tuple[float, float]:
    """The longest stretch of a wait that no break takes: setting the axis on its star is none."""
    gaps, at = [], begin_s
    for low, high in sorted(breaks):
        if begin_s < high and low < end_s:
            gaps.append((at, max(at, low)))
            at = max(at, high)
    return max([*gaps, (at, max(at, end_s))], key=lambda gap: gap[1] - gap[0])


def _waits_for(kit: Kit, observer: Observer, task: OrderTask, stop: OrderedStop) -> WaitFor:
    row = [target.key for target in task.targets].index(stop.key)
    target = task.targets[row]
    if _open_at(target, stop.arrive_s):
        return WaitFor.MOMENT if _has_moment(task, stop) else WaitFor.PLACE
    too_light = _too_light(kit, observer, task, row, task.at(stop.arrive_s))
    return WaitFor.LIGHT if too_light else WaitFor.WAY


def _open_at(target: Target, seconds: float) -> bool:
    return any(
        o.start_s <= seconds + LONG_WAIT_S / 2 and seconds + target.show_s <= o.end_s
        for o in target.openings
    )


def _has_moment(task: OrderTask, stop: OrderedStop) -> bool:
    """Whether something happens on it while it is shown, and not before."""
    times = task.tonight.on(stop.key, task.name(stop.key)).times()
    moments = (seconds_between(task.session.first_stop, time) for time in times)
    return any(stop.start_s <= moment <= stop.end_s for moment in moments)


def _too_light(kit: Kit, observer: Observer, task: OrderTask, row: int, at: datetime) -> bool:
    """Whether the object stands clear by then, in twilight: only light can hide it."""
    now = Instants.from_datetime(at)
    seen = object_positions([task.chosen.candidates[row].thing], now, observer)
    lowest = kit.habits.lowest_altitude_deg
    if task.here is not None and task.here.horizon is not None:
        lowest = max(lowest, float(task.here.horizon.altitude_at(seen.azimuth_deg[0])[0]))
    sun = float(body_positions("sun", now, observer).altitude_true_deg[0, 0])
    return float(seen.altitude_deg[0, 0]) > lowest and sun > -ASTRONOMICAL_DEG
