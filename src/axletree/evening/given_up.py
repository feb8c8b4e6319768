"""Which objects get no stop, and why?"""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

from axletree.kit.frozen import dataclass


class GivenUpReason(StrEnum):
    """Why an object that was thought of gets no stop.

    Not even thought of for an order: EXCLUDED by the kit, BELOW the skyline or too low, a pair TOO
    CLOSE, UNKNOWN light, TOO_FAINT, TOO_FAINT_BY_MOON, for a night that is NEVER_DARK, MANY_BETTER
    than a list can hold. The mount is in the way: CONTACT, MAY_TOUCH (too probably, as long as
    nobody measured more), TRAVEL_STOP. The order has no place for it: the others, see
    `order.left_out`. ELSEWHERE: another telescope of the event shows it.
    """

    EXCLUDED = "excluded"
    BELOW = "below"
    TOO_CLOSE = "too close"
    UNKNOWN = "unknown"
    TOO_FAINT = "too faint"
    TOO_FAINT_BY_MOON = "too faint by moon"
    NEVER_DARK = "never dark"
    CONTACT = "contact"
    MAY_TOUCH = "may touch"
    TRAVEL_STOP = "travel stop"
    NEVER_OPEN = "never open"
    NO_LONGER_OPEN = "no longer open"
    CLOUDED = "clouded"
    SESSION_OVER = "session over"
    ROOM_TOO_SHORT = "room too short"
    WORTH_LESS = "worth less"
    NO_TIME = "no time"
    ENOUGH = "enough"
    MANY_BETTER = "many better"
    NOT_IN_THIS_ORDER = "not in this order"
    ELSEWHERE = "elsewhere"


@dataclass(frozen=True)
class GivenUp:
    """An object without a stop, by its name, and the figures that its reason has.

    `promised`: people were promised it. `needed_s` is what a stop takes, `room_s` the longest time
    for which it is free, `instead_of` names the stops that would have to make room, `short_mag` is
    how much light it lacks; `neighbour` shows it at `shown_at`; `touch_chance` that something
    touches at its stop.
    """

    name: str
    reason: GivenUpReason
    promised: bool = False
    needed_s: float = 0.0
    room_s: float = 0.0
    instead_of: tuple[str, ...] = ()
    short_mag: float = 0.0
    neighbour: str = ""
    shown_at: datetime | None = None
    touch_chance: float = 0.0
