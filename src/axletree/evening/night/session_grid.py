"""At which instants of a session is it asked what shows, and what does that say between them?

Public: ``session_grid``, ``coarse_grid``, ``shows_between``, ``moments_of``,
``FINE_STEP_S``.
"""

from __future__ import annotations

from datetime import date, datetime

import numpy as np

from axletree.evening.night.darkness import FIRST_STARS_DEG
from axletree.evening.night.set_up_times import Session, seconds_between, session_of
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Mask
from axletree.sky.events.rise_and_set import darkness, sun_events
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants
from axletree.sky.time.nights import Night

# How often it is asked what shows: oftener in dusk, when the sky changes from minute to minute.
COARSE_STEP_S, DUSK_STEP_S, DUSK_S = 1200.0, 480.0, 4800.0
FINE_STEP_S = 240.0
LIST_STEP_S = 900.0


def session_grid(session: Session, step_s: float) -> Instants:
    """Evenly spaced instants from the first stop to the session's end."""
    return _evenly(session.first_stop, session.end, step_s)


def coarse_grid(session: Session) -> Instants:
    """Instants from the first stop to the session's end, closer in the first hour or so."""
    length = seconds_between(session.first_stop, session.end)
    dusk = np.arange(0.0, min(DUSK_S, length), DUSK_STEP_S)
    begin = len(dusk) * DUSK_STEP_S
    steps = max(1, int(np.ceil((length - begin) / COARSE_STEP_S)))
    later_on = np.linspace(begin, length, steps + 1) if begin < length else [length]
    return Instants.from_datetimes([session.first_stop]).plus(np.concatenate((dusk, later_on)))


def shows_between(shows: Mask, session: Session, seconds: Floats) -> Mask:
    """Marks on the session's coarse grid carried to other seconds of it: a span counts where both
    its ends do, and after the session what showed at its end."""
    coarse = coarse_grid(session)
    at, seconds = coarse.seconds_since(coarse[0]).round(6), seconds.round(6)
    right = np.clip(np.searchsorted(at, seconds, side="left"), 0, len(at) - 1)
    left = np.clip(np.searchsorted(at, seconds, side="right") - 1, 0, len(at) - 1)
    return np.asarray(shows[:, left] & shows[:, right])


def moments_of(
    kit: Kit, observer: Observer, day: date, *, all_night: bool = False, step_s: float = LIST_STEP_S
) -> Instants:
    """Instants spread over the evening of a date (or all of its dark night).

    Refuses a night on which the Sun does not sink low enough, or the kit's hours leave nothing.
    """
    night = Night.of(day, kit.site.time_zone)
    intervals = darkness(night, observer, FIRST_STARS_DEG).intervals
    session = session_of(sun_events(night, observer), intervals, kit.habits, kit.tube.cool_down_min)
    if not intervals or (session is None and not all_night):
        why = "the Sun does not sink" if not intervals else "within the kit's hours it is not"
        raise AxletreeError(
            f"{day}: {why} {FIRST_STARS_DEG:.0f}° below the horizon; try another date"
            + ("" if not intervals else " or --all-night")
        )
    begin, end = intervals[0][0], intervals[-1][1]
    if session is not None and not all_night:
        begin, end = session.first_stop, session.end
    return _evenly(begin, end, step_s)


def _evenly(begin: datetime, end: datetime, step_s: float) -> Instants:
    length = seconds_between(begin, end)
    count = max(2, int(np.ceil(length / step_s)) + 1)
    return Instants.grid(begin, count=count, step_s=length / (count - 1))
