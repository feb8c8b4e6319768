"""What do the hands and the eye need at one stop: side, room, circles, eyepiece, nudge?"""

from __future__ import annotations

from datetime import datetime
from enum import Enum, StrEnum

from axletree.axis.circles_read import SetOnStar, StopPlace
from axletree.evening.objects.choosing import Candidate
from axletree.evening.order.moving import Side
from axletree.evening.seeing.grades import Visibility
from axletree.find.at_eyepiece.answer import AtEyepiece
from axletree.find.finding import Finding
from axletree.kit.frozen import dataclass
from axletree.mount.rig.eyepiece import Posture
from axletree.mount.rig.field_orientation import PictureKind
from axletree.mount.room.choice import Choice
from axletree.mount.room.ends import RoomEnd
from axletree.mount.room.side_answer import SideCaution
from axletree.mount.sure.room_doubt import RoomDoubt
from axletree.sky.catalogue.objects import SkyObject
from axletree.sky.orbits.orbit import OrbitDoubt
from axletree.sky.special.kinds import SpecialNight


@dataclass(frozen=True)
class StopPlan:
    """What the order decided about one stop."""

    candidate: Candidate
    side: Side
    begin: datetime
    end: datetime
    queue_s: float
    promised: bool

    @property
    def thing(self) -> SkyObject:
        """The object."""
        return self.candidate.thing


@dataclass(frozen=True)
class SideChoice:
    """One way to reach the object: the tube on one side of the mount.

    Room counts from the stop's begin; `room_ends` is None where nothing ends it. `doubt` is how
    sure it is, None of a side that wasn't asked about.
    """

    side: Side
    weights_up: bool
    room_s: float
    room_deg: float
    room_ends: datetime | None
    ends: RoomEnd
    doubt: RoomDoubt | None = None


@dataclass(frozen=True)
class EyepieceView:
    """What the eye gets, and where the eye must be.

    `face_azimuth_deg` is None where any way will do, looking straight down. `barrel_tilt_deg` is
    above the horizontal. `north_deg` and `drift_deg` are clockwise from the top of the picture:
    where north is, and where the object leaves it.
    """

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    height_mm: float
    face_azimuth_deg: float | None
    barrel_tilt_deg: float
    posture: Posture
    picture: PictureKind
    north_deg: float
    drift_deg: float


class NudgeDirection(Enum):
    """Which way the hand keeps the object in the middle."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"
    MOTOR = "motor"
    PUSH_WEST = "push_west"


@dataclass(frozen=True)
class Nudge:
    """How to keep it in the middle; `every_s` is None where the motor follows for ever."""

    every_s: float | None
    knob_turns: float
    direction: NudgeDirection
    times_per_visitor: float


@dataclass(frozen=True)
class CutOff:
    """The object is larger than its eyepiece's field, both in arcminutes.

    `held_by` is the weakest eyepiece of the kit where that holds all of it; else "".
    """

    size_arcmin: float
    field_arcmin: float
    moon: bool = False
    held_by: str = ""


class WaitFor(StrEnum):
    """What a stop waits for: a moment that is worth it, less light in the sky, its way being free
    (skyline, height, the mount's room), a better place of the object or of the weights."""

    MOMENT = "moment"
    LIGHT = "light"
    WAY = "way"
    PLACE = "place"


class Meanwhile(StrEnum):
    """What people do meanwhile: stay with the stop before, or look with the bare eye; before any
    star shows to it, look at the rig."""

    STAY = "stay"
    BARE_EYE = "bare_eye"
    RIG = "rig"


@dataclass(frozen=True)
class Wait:
    """Free time before a stop, from `begin` until the next object is turned to at `end`.

    `stay_with`: the name of the stop before, where its room lasts so long.
    """

    begin: datetime
    end: datetime
    waits_for: WaitFor
    meanwhile: Meanwhile
    stay_with: str | None = None


@dataclass(frozen=True)
class Stop:
    """One object's turn in the evening, with everything needed at it.

    Right ascension and declination of date are apparent, true equator and equinox, from the site
    at the begin; the J2000.0 place (ICRS) is None of what moves. `choice` holds both sides and
    what tells the better one; where that is another side than `chosen`, the order decided.
    `turn_cautions` are for the turn to the object, `cautions` for the stop itself. `set_on`: None
    where the hour circle is never set, or no star shows. `finding`: the way to it on the chosen
    side, there when the stop begins; None where nobody asked for ways. `body`: what Moon, planet or
    double star show when it begins. `wait`: why the host is idle for long before it. `special`:
    what makes tonight special for it.
    """

    number: int
    name: str
    also_called: tuple[str, ...]
    kind: str
    constellation: str | None
    catalogue_id: str
    right_ascension_of_date_h: float
    declination_of_date_deg: float
    right_ascension_j2000_h: float | None
    declination_j2000_deg: float | None
    magnitude_v: float | None
    size_arcmin: float | None
    begin: datetime
    end: datetime
    queue_s: float
    start: StopPlace
    finish: StopPlace
    chosen: SideChoice
    other: SideChoice | None
    choice: Choice
    view: EyepieceView
    nudge: Nudge
    candidate: Candidate
    visibility: Visibility
    margin_mag: float | None
    turn_cautions: tuple[SideCaution, ...]
    cautions: tuple[SideCaution | CutOff | OrbitDoubt, ...]
    promised: bool = False
    set_on: SetOnStar | None = None
    finding: Finding | None = None
    body: AtEyepiece | None = None
    wait: Wait | None = None
    special: tuple[SpecialNight, ...] = ()
