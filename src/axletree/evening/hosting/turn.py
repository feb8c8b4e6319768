"""When is somebody's turn at the eyepiece likely, with so many people before them?

Public: ``Queue``, ``LikelyTurn``, ``likely_turn``.

Looks follow one another; where those before fill a stop, the rest look at the next. How long one
look takes differs from person to person by half of itself, the host's pace from what the kit says
by a fifth, and a stop that hasn't begun may be four minutes off (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence

from axletree.kit.frozen import dataclass

LOOK_SPREAD_PART, PACE_SPREAD_PART = 0.5, 0.2
BEGIN_SPREAD_S = 240.0


@dataclass(frozen=True)
class Queue:
    """One stop as a queue sees it, seconds from any one moment: when it begins and ends, the talk
    before the first look, and how long one look takes."""

    begin_s: float
    end_s: float
    talk_s: float
    look_s: float


@dataclass(frozen=True)
class LikelyTurn:
    """At which stop (index) and when; one standard deviation. Seconds from that same moment."""

    stop: int
    at_s: float
    sigma_s: float


def likely_turn(stops: Sequence[Queue], now_s: float, before: int) -> LikelyTurn | None:
    """The turn of who has `before` people in front; None where the evening ends sooner.

    The first stop may have begun: its talk is over then, and those in front look there until its
    time is up. What lies behind it waits for it, however late it is.
    """
    free_s = now_s
    for k, stop in enumerate(stops):
        begun = k == 0 and stop.begin_s <= now_s
        begin = max(stop.begin_s, free_s)
        first = now_s if begun else begin + stop.talk_s
        end = max(stop.end_s, now_s) if begun else begin + stop.end_s - stop.begin_s
        # Who stands at the eyepiece when time is up still looks.
        room = max(int(max(end - first, 0.0) // stop.look_s), 1 if begun else 0)
        if before < room:
            looks = before * stop.look_s
            spread = before * (LOOK_SPREAD_PART * stop.look_s) ** 2
            spread += (PACE_SPREAD_PART * looks) ** 2 + (0.0 if begun else BEGIN_SPREAD_S**2)
            return LikelyTurn(k, first + looks, float(spread**0.5))
        before -= room
        free_s = end
    return None
