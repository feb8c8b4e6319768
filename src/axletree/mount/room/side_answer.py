"""What awaits the person on one tube side?"""

from __future__ import annotations

from dataclasses import dataclass

from axletree.mount.clearance.paths import TurnPath
from axletree.mount.rig.eyepiece import EyePlace
from axletree.mount.rig.field_orientation import Picture
from axletree.mount.room.ends import NOTHING


@dataclass(frozen=True)
class SideAnswer:
    """One tube side. `_h` are hours of hour angle, `_s` seconds of the clock; lengths in metres.

    `hour_circle_h` 0-24 counts for this side: a circle set to the hour angle on the other side
    reads 12 h off. `weights_clock_deg` is where the weights hang, clockwise from the top, seen
    from behind the mount looking to the pole. `opens_in_s` is the wait until the side can be
    used (None: not within a day), 0 when it can be now. `way` is the turn to
    this pose from where the rig stood.
    """

    side: str
    usable: bool
    hour_circle_h: float
    declination_circle_deg: float
    tube_end_h: float
    swing_deg: float
    weights_clock_deg: float
    weights_up: bool
    clearance_m: float
    nearest: str
    room_h: float
    room_s: float
    ends: str
    ends_code: int
    weights_down_h: float
    weights_down_s: float
    since_s: float
    opens_in_s: float | None
    eye: EyePlace
    posture: str
    picture: Picture
    way: TurnPath
    warnings: tuple[str, ...]
    nearest_parts: tuple[str, ...] = ()  # names in the rig: what comes nearest now
    end_parts: tuple[str, ...] = ()  # what meets where a contact ends the room

    @property
    def endless(self) -> bool:
        """True where nothing ends the room on a whole turn."""
        return self.ends_code == NOTHING

    @property
    def can_fall(self) -> bool:
        """True where the eyepiece's barrel points below the horizontal."""
        return bool(self.eye.can_fall)
