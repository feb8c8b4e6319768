"""What awaits the person on one tube side of an object?"""

from __future__ import annotations

from enum import Enum

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.paths import TurnPath
from axletree.mount.rig.eyepiece import EyePlace, Posture
from axletree.mount.rig.field_orientation import Picture
from axletree.mount.room.ends import NOTHING, RoomEnd


class SideWarning(Enum):
    """What to beware of on a tube side, or on the turn to it."""

    TOO_NEAR_ON_THE_TURN = "too_near_on_the_turn"
    BARREL_DOWN_ON_THE_TURN = "barrel_down_on_the_turn"
    BARREL_DOWN = "barrel_down"
    WEIGHTS_UP = "weights_up"
    WEIGHTS_WILL_RISE = "weights_will_rise"

    @property
    def on_the_turn(self) -> bool:
        """True for what is met only while turning to the object."""
        return self in (SideWarning.TOO_NEAR_ON_THE_TURN, SideWarning.BARREL_DOWN_ON_THE_TURN)


@dataclass(frozen=True)
class SideCaution:
    """A warning with its figures: the two `parts` (moving, other) that come too near, or ()."""

    warning: SideWarning
    parts: tuple[str, ...] = ()


@dataclass(frozen=True)
class SideAnswer:
    """One tube side. `_h` are hours of hour angle, `_s` seconds of the clock; lengths in metres.

    `hour_circle_h` 0-24 counts for this side: a circle set to the hour angle on the other side
    reads 12 h off. `weights_clock_deg` is where the weights hang, clockwise from the top, seen
    from behind the mount looking to the pole. `opens_in_s` is the wait until the side can be
    used (None: not within a day), 0 when it can be now. `way` is the turn to
    this pose from where the rig stood. `nearest_parts` are the two parts (moving, other) that
    come nearest now.
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
    room_h: float
    room_s: float
    ends: RoomEnd
    weights_down_h: float
    weights_down_s: float
    since_s: float
    opens_in_s: float | None
    eye: EyePlace
    posture: Posture
    picture: Picture
    way: TurnPath
    cautions: tuple[SideCaution, ...]
    nearest_parts: tuple[str, ...]

    @property
    def endless(self) -> bool:
        """True where nothing ends the room on a whole turn."""
        return self.ends.by is NOTHING

    @property
    def can_fall(self) -> bool:
        """True where the eyepiece's barrel points below the horizontal."""
        return bool(self.eye.can_fall)
