"""At which instants of a session is it asked what shows, and what does that say between them?

Public: ``session_grid``, ``coarse_grid``, ``shows_between``, ``FINE_STEP_S``.
"""

from __future__ import annotations

import numpy as np

from axletree.evening.night.set_up_times import Session, seconds_between
from axletree.sky.arrays import Floats, Mask
from axletree.sky.time.instants import Instants

# How often it is asked what shows: oftener in dusk, when the sky changes from minute to minute.
COARSE_STEP_S, DUSK_STEP_S, DUSK_S = 1200.0, 480.0, 4800.0
FINE_STEP_S = 240.0


def session_grid(session: Session, step_s: float) -> Instants:
    """Evenly spaced instants from the first stop to the session's end."""
    length = seconds_between(session.first_stop, session.end)
    count = max(2, int(np.ceil(length / step_s)) + 1)
    return Instants.grid(session.first_stop, count=count, step_s=length / (count - 1))


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
