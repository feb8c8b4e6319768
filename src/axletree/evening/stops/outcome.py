"""How good is the order, what got no stop, and why is it empty?"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from axletree.evening.given_up import GivenUp, GivenUpReason
from axletree.evening.night.set_up_times import SessionEnd
from axletree.evening.objects.choosing import NotShown, Omission
from axletree.evening.order.best import Order
from axletree.evening.order.left_out import LeftOut
from axletree.evening.stops.placing import OrderTask
from axletree.mount.room.ends import CONTACT, STOP


class EmptyBecause(StrEnum):
    """Why an order has no stops."""

    NO_SESSION = "no session"
    SESSION_OVER = "session over"
    CLOUDS = "clouds"
    NOTHING_FITS = "nothing fits"
    NOTHING_LEFT = "nothing left"


@dataclass(frozen=True)
class OrderQuality:
    """How good the order is: by which method, proven or with a gap; why it has no stops.

    `session_end` and `ended_by` are None where there is no session.
    """

    method: str
    proven_best: bool
    gap_percent: float
    empty_because: EmptyBecause | None
    session_end: datetime | None
    ended_by: SessionEnd | None


NO_SESSION = OrderQuality("none", True, 0.0, EmptyBecause.NO_SESSION, None, None)


def given_up(task: OrderTask, order: Order) -> list[GivenUp]:
    """What was considered and got no stop, each with its reason."""
    omitted = [_omitted(omission) for omission in task.chosen.left_out]
    return omitted + [left_without(task, left) for left in order.left_out]


def _omitted(omission: Omission) -> GivenUp:
    """An object that was not even offered to the order."""
    reason = {
        NotShown.EXCLUDED: GivenUpReason.EXCLUDED,
        NotShown.TOO_LOW: GivenUpReason.BELOW,
        NotShown.TOO_CLOSE: GivenUpReason.TOO_CLOSE,
        NotShown.UNKNOWN_LIGHT: GivenUpReason.UNKNOWN,
        NotShown.TOO_FAINT: GivenUpReason.TOO_FAINT,
    }[omission.why]
    if omission.moon_up and reason is GivenUpReason.TOO_FAINT:
        reason = GivenUpReason.TOO_FAINT_BY_MOON
    return GivenUp(omission.name, reason, short_mag=omission.lacking_mag or 0.0)


def left_without(task: OrderTask, left: LeftOut) -> GivenUp:
    """Why an object got no stop; where the mount bars its way all the time, that."""
    keys = [target.key for target in task.targets]
    code = int(task.open_table.closed_by[keys.index(left.key)])
    barred = {int(CONTACT): GivenUpReason.CONTACT, int(STOP): GivenUpReason.TRAVEL_STOP}
    if code in barred:
        return GivenUp(task.name(left.key), barred[code])
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
