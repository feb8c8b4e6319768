"""When can visitors look up, for a satellite of the person's own list crosses the sky?

Public: ``crossings_tonight``, ``crossings_from``, ``CrossingsTonight``, ``MOST_TOLD``.

Times for the naked eye, never stops: no mount is turned to a satellite. They lie in the session,
with the Sun 6 degrees below the horizon and more.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from axletree.evening.brought.own_objects import BrokenRow
from axletree.evening.brought.satellites import TooOld, satellites_of_kit
from axletree.evening.night.set_up_times import Session
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.observer import Observer
from axletree.sky.satellites.crossings import Crossing, CrossingsAsked, crossings_in
from axletree.sky.satellites.two_line import TwoLine

MOST_TOLD = 12  # what a sheet has room for (ours)


@dataclass(frozen=True)
class CrossingsTonight:
    """The crossings of the session in their order, the best `MOST_TOLD`; how many more there are;
    satellites whose elements are too old, and lines that could not be used. `satellites` are those
    of the crossings, `asked` what they were looked for with."""

    crossings: tuple[Crossing, ...]
    more: int
    too_old: tuple[TooOld, ...]
    broken: tuple[BrokenRow, ...]
    satellites: tuple[TwoLine, ...]
    asked: CrossingsAsked


def crossings_tonight(
    kit: Kit, observer: Observer, session: Session, horizon: Horizon, folder: Path | None
) -> CrossingsTonight | None:
    """What crosses in the session over this skyline; None where the kit names no file.

    The brightest are told where magnitudes are known, then the highest.
    """
    if not kit.habits.satellite_files:
        return None
    known = satellites_of_kit(kit, folder, session.first_stop)
    lights = {one.number: one.magnitude for one in kit.habits.satellites}
    asked = CrossingsAsked(session.first_stop, session.end, horizon.altitude_at, lights)
    found = crossings_in(known.satellites, asked, observer)
    told = sorted(found, key=_rank)[:MOST_TOLD]
    numbers = {one.number for one in told}
    return CrossingsTonight(
        crossings=tuple(one for one in found if one in told),
        more=len(found) - len(told),
        too_old=known.too_old,
        broken=known.broken,
        satellites=tuple(one for one in known.satellites if one.number in numbers),
        asked=asked,
    )


def crossings_from(tonight: CrossingsTonight, observer: Observer) -> CrossingsTonight:
    """The same satellites as they cross for another place near by."""
    found = crossings_in(tonight.satellites, tonight.asked, observer)
    best = sorted(found, key=_rank)[:MOST_TOLD]
    return replace(tonight, crossings=tuple(one for one in found if one in best))


def _rank(one: Crossing) -> tuple[bool, float]:
    light = one.brightest_mag
    return (light is None, -one.highest.altitude_deg if light is None else light)
