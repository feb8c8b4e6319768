"""What do the moons of Jupiter and Saturn do between two instants?"""

from __future__ import annotations

from datetime import UTC, datetime, tzinfo

from axletree.sky.happenings.kinds import Happening, HappeningKind, Turn, TurnKind
from axletree.sky.moons.phenomena import MoonEvent, moon_phenomena
from axletree.sky.positions.ephemeris import Ephemeris

_KINDS = {
    MoonEvent.TRANSIT: HappeningKind.MOON_BEFORE_DISC,
    MoonEvent.SHADOW: HappeningKind.SHADOW_ON_DISC,
    MoonEvent.OCCULTATION: HappeningKind.MOON_BEHIND_DISC,
    MoonEvent.ECLIPSE: HappeningKind.MOON_IN_SHADOW,
}


def planet_happenings(
    planet: str,
    start: datetime,
    stop: datetime,
    zone: str | tzinfo = UTC,
    ephemeris: Ephemeris | None = None,
) -> tuple[Happening, ...]:
    """Passages of the moons of "jupiter" or "saturn" that touch start to stop, in their order.

    All contacts of a passage are told, also those before start and after stop; passages of which
    nothing can be seen are left out.
    """
    found = []
    for one in moon_phenomena(planet, start, stop, zone, ephemeris):
        turns = tuple(
            Turn(TurnKind(c.contact.value), c.time, c.doubt_s, c.seen) for c in one.contacts
        )
        if any(t.seen for t in turns):
            kind = _KINDS[one.event]
            found.append(Happening(one.planet, kind, one.moon, turns, one.grazing))
    return tuple(found)
