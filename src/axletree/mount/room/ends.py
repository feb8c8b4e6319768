"""What can end the time for which an object is followed, or keep it from being followed now?"""

from __future__ import annotations

from enum import IntEnum

from axletree.kit.frozen import dataclass


class End(IntEnum):
    """Why a room ends (CONTACT to LOW), or why there is none now (CONTACT, STOP, BEHIND and on)."""

    NOTHING = 0
    CONTACT = 1  # parts come nearer than the margin
    STOP = 2  # the hour axis at its stop or its cable's end
    SKYLINE = 3  # goes behind the skyline, sinking or rising
    LOW = 4  # sinks below the lowest altitude
    BEHIND = 5  # stands behind the skyline now
    BELOW = 6  # stands below the lowest altitude, and sinks or never rises above it
    NOT_RISEN = 7  # stands below the lowest altitude and rises

    @property
    def key(self) -> str:
        """Its name for programs."""
        return "all night" if self is End.NOTHING else self.name.lower().replace("_", " ")


NOTHING, CONTACT, STOP, SKYLINE, LOW = (
    End.NOTHING, End.CONTACT, End.STOP, End.SKYLINE, End.LOW,
)  # fmt: skip
BEHIND, BELOW, NOT_RISEN = End.BEHIND, End.BELOW, End.NOT_RISEN
# The sky itself is closed: no other tube side would help.
CLOSED_SKY = (BEHIND, BELOW, NOT_RISEN)


@dataclass(frozen=True)
class RoomEnd:
    """What ends a room, with its figures.

    `parts` are the rig's two parts (moving, other) that meet, () where nothing meets;
    `lowest_altitude_deg` is the kit's, below which nothing is shown.
    """

    by: End
    parts: tuple[str, ...]
    lowest_altitude_deg: float
