"""Until when are the children there, and what waits until they have gone?

Public: ``ChildrensPart``, ``children_leave``, ``needs_patience``,
``CHILDREN_POINTS``.

The kit says when the children's evening ends (`children_until`). What asks for patience comes after
it, what children like is worth more before; nothing is shown during their leaving.
"""

from __future__ import annotations

from datetime import datetime

from axletree.evening.hosting.pace import LOOKS
from axletree.evening.night.set_up_times import Session, at_clock
from axletree.evening.objects.choosing import Candidate
from axletree.evening.offered.candidates import THEME_OF_KIND
from axletree.evening.offered.well_known import SPLENDID_LOOKS
from axletree.kit.frozen import dataclass
from axletree.kit.parts.habits import Habits

# What a stop is worth more before the children leave that they like (ours).
CHILDREN_POINTS = 10.0
# Closer pairs ask for a quiet eye (common practice, no source).
CLOSE_PAIR_ARCSEC = 5.0


@dataclass(frozen=True)
class ChildrensPart:
    """Until when the children are there, how many stops they get, and what waits for later."""

    until: datetime
    stops: int
    later: tuple[str, ...]


def children_leave(habits: Habits, session: Session) -> datetime | None:
    """The moment of the session's night at which the children's evening ends, as the kit says."""
    if habits.children_until is None:
        return None
    return at_clock(session.first_stop, habits.children_until)


def needs_patience(candidate: Candidate) -> bool:
    """Whether a look takes more than a child has: galaxies, faint glows, close pairs."""
    thing = candidate.thing
    if thing.catalogue_id in SPLENDID_LOOKS or thing.name in SPLENDID_LOOKS:
        return False
    if thing.separation_arcsec is not None and thing.separation_arcsec < CLOSE_PAIR_ARCSEC:
        return True
    return THEME_OF_KIND.get(thing.kind) == "galaxies" or candidate.margin_mag < LOOKS[0][0]
