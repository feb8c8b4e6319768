"""What happens on this body between two instants?  One answer for any of them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, tzinfo

from axletree.sky.happenings.kinds import Happening, Turn
from axletree.sky.happenings.on_planets import planet_happenings
from axletree.sky.happenings.on_the_moon import moon_happenings
from axletree.sky.moons.systems import SYSTEMS
from axletree.sky.observer import Observer
from axletree.sky.positions.ephemeris import Ephemeris


def happenings(
    body: str,
    start: datetime,
    stop: datetime,
    observer: Observer,
    zone: str | tzinfo = UTC,
    *,
    ephemeris: Ephemeris | None = None,
) -> tuple[Happening, ...]:
    """What happens on "moon", "jupiter" or "saturn"; nothing on any other body.

    From start to stop (aware), times in `zone`. Whether the body is up and the sky dark is not
    asked; dates outside the kernel (2020-2050) are refused.
    """
    if body == "moon":
        return moon_happenings(start, stop, observer, zone, ephemeris)
    if body in SYSTEMS:
        return planet_happenings(body, start, stop, zone, ephemeris)
    return ()


def turns_between(
    told: Iterable[Happening], start: datetime, stop: datetime
) -> tuple[tuple[Happening, Turn], ...]:
    """Every moment from start to stop (both included) that can be seen, in the order of time,
    with what it belongs to: what a stop at the eyepiece may wait for."""
    moments = [(h, t) for h in told for t in h.turns if t.seen and start <= t.time <= stop]
    return tuple(sorted(moments, key=lambda moment: moment[1].time))
