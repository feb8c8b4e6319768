"""What is known of a night before it is planned whole: its times and a first order?

Preparing a night and ordering it roughly takes a quarter of planning it whole. What was prepared is
held for the whole plan, which is asked for next; not for long, since logbook and notes go on.
"""

from __future__ import annotations

import threading
import time
from datetime import date, datetime
from typing import TYPE_CHECKING

from axletree.app.mount_notes import left_out
from axletree.app.night.course import plan_night, prepare_night
from axletree.app.state import Desk
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.positions.ephemeris import FIRST_YEAR, LAST_YEAR

if TYPE_CHECKING:
    from axletree.evening.order.candidates import OrderedStop
    from axletree.evening.sheet.answer import Prepared
    from axletree.evening.sheet.plan import Planned

HELD_S = 30.0
MOST_HELD = 2

_LOOKING = threading.Lock()


@dataclass(frozen=True)
class FirstLook:
    """A night as it was prepared, with a first order of its stops; () without a session.

    `as_kit`: what was learned is left out. `made_s`: of the clock that never jumps.
    """

    prepared: Prepared
    stops: tuple[OrderedStop, ...]
    as_kit: bool
    made_s: float


def refuse_foreign_year(day: date) -> None:
    """Refuse dates that the planets' kernel does not hold."""
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise AxletreeError(f"{day}: no evening of these years")


def first_look(desk: Desk, day: date, now: datetime) -> FirstLook:
    """The first look at a night, made once while it is held (one night at a time)."""
    from axletree.evening.sheet.plan import first_order

    refuse_foreign_year(day)
    with _LOOKING:
        found = _held(desk, day)
        if found is None:
            prepared, as_kit = prepare_night(desk, day, now), left_out(desk)
            found = FirstLook(prepared, first_order(prepared), as_kit, time.monotonic())
            looks = _looks(desk)
            looks[day] = found
            for old in list(looks)[:-MOST_HELD]:
                del looks[old]
        return found


def planned_from_look(desk: Desk, day: date, now: datetime) -> Planned:
    """The night planned whole, from its first look where one is held: that is used up."""
    from axletree.evening.sheet.plan import plan_prepared

    found = _held(desk, day)
    _looks(desk).pop(day, None)
    return plan_night(desk, day, now) if found is None else plan_prepared(found.prepared)


def _held(desk: Desk, day: date) -> FirstLook | None:
    found = _looks(desk).get(day)
    fresh = found is not None and time.monotonic() - found.made_s < HELD_S
    return found if found is not None and fresh and found.as_kit == left_out(desk) else None


def _looks(desk: Desk) -> dict[date, FirstLook]:
    looks: dict[date, FirstLook] = desk.cached("first looks", dict)
    return looks
