"""How is one stop written into the document, with where everything stands and what shows?"""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from pydantic import Field

from axletree.tell.evening.parts.document_part import DocumentPart, code_field, codes_field
from axletree.tell.evening.parts.finding_facts import FindingFacts
from axletree.tell.eyepiece.forms import AtEyepieceData
from axletree.tell.orbit.data import OrbitData
from axletree.tell.side.doubt_data import RoomDoubtData


class PlaceFacts(DocumentPart):
    """Where an object and the rig stand at one moment."""

    at: datetime
    hour_angle_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    airmass: float
    hour_circle_h: float = Field(description="hour-angle circle of the mount")
    declination_circle_deg: float
    sidereal_h: float | None = Field(default=None, description="None: the sheet was older")
    hour_reading_h: float | None = Field(
        default=None,
        description="the hour circle as the kit's is marked (rig.hour_marks); None: older sheet",
    )
    hour_circle_sigma_min: float | None = Field(
        default=None, description="minutes of the circle; None: nothing is known of this mount"
    )
    declination_circle_sigma_deg: float | None = None
    circles_code: str | None = code_field()


class SetOnStarFacts(DocumentPart):
    """The hour circle set on a star before the turn to the object, as it is marked."""

    star: str
    apart_deg: float = Field(description="the star from the object, on the sky")
    at: datetime = Field(description="when the readings count")
    star_reading_h: float
    object_reading_h: float
    sigma_min: float | None = Field(
        default=None, description="with both readings by the person; None: mount not measured"
    )
    then_code: str = Field(description="with_clock, falls or kept: how the reading changes")
    words: str


class SideFacts(DocumentPart):
    """One way to reach the object: the tube on one side of the mount."""

    side: Literal["east", "west"]
    weights_up: bool
    room_s: float = Field(description="from the stop's begin, until something ends it")
    room_deg: float
    room_ends: datetime | None = Field(description="None: not within the night")
    ends_by: str
    ends_code: str | None = code_field()
    doubt: RoomDoubtData | None = Field(
        default=None, description="how sure it is; None: nobody asked, or the sheet was older"
    )

    @property
    def bar(self) -> str:
        """' ± 26 min' behind the end of the room, or ''."""
        return "" if self.doubt is None else self.doubt["bar"]

    @property
    def touch(self) -> str:
        """From when on something may touch, in a sentence, or ''."""
        return "" if self.doubt is None else self.doubt["words"]


class ViewFacts(DocumentPart):
    """What the eye gets, and where the eye must be."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    height_mm: float
    height_error_mm: float = Field(default=0.0, description="one standard deviation")
    face_azimuth_deg: float | None = Field(description="None: looking straight down")
    face_words: str
    barrel_tilt_deg: float = Field(description="above the horizontal; negative points down")
    reach: str
    reach_code: str | None = code_field()
    orientation: str
    orientation_code: str | None = Field(
        default=None, description="as a code; None: the sheet was older"
    )
    drift_clock: str = Field(description="way the object leaves the field, as a clock hour")


class NudgeFacts(DocumentPart):
    """How to keep it in the middle."""

    every_s: float | None = Field(description="None: never, the motor follows")
    knob_turns: float
    direction: str
    direction_code: str | None = Field(
        default=None, description="as a code; None: the sheet was older"
    )
    times_per_visitor: float


class WorthFacts(DocumentPart):
    """Why it has a stop: five parts, each 0 to 100, and the points that the kit's weights make."""

    points: float
    shows: float = Field(description="how well it shows in this tube under this sky")
    rewards: float = Field(description="how rewarding it is to these people")
    tonight: float = Field(description="what happens on it tonight")
    differs: float = Field(description="how it differs from better ones of its theme")
    comfort: float = Field(description="how comfortably it stands")


class WaitFacts(DocumentPart):
    """Free time of more than ten minutes before a stop: what it waits for, what to do meanwhile."""

    begin: datetime
    end: datetime = Field(description="when the next object is turned to")
    waits_for_code: str = Field(description="moment, light, way or place")
    meanwhile_code: str = Field(description="stay (with the stop before), bare_eye or rig")
    words: str


class StopFacts(DocumentPart):
    """One object's turn in the evening."""

    number: int
    name: str
    also_called: tuple[str, ...]
    kind: str
    constellation: str | None
    catalogue_id: str
    right_ascension_of_date_h: float = Field(
        description="apparent, true equator and equinox of date, seen from the site at the begin"
    )
    declination_of_date_deg: float
    right_ascension_j2000_h: float | None = Field(
        description="ICRS, epoch J2000.0; None: it moves, or the sheet was of version 1"
    )
    declination_j2000_deg: float | None
    magnitude_v: float | None
    size_arcmin: float | None
    begin: datetime
    end: datetime
    queue_s: float
    start: PlaceFacts
    finish: PlaceFacts
    chosen: SideFacts
    other: SideFacts | None
    why_side: str
    why_side_code: str | None = Field(
        default=None, description="as a code; None: the sheet was older"
    )
    view: ViewFacts
    nudge: NudgeFacts
    visibility: str
    visibility_code: str | None = Field(
        default=None, description="as a code; None: the sheet was older"
    )
    margin_mag: float | None
    line_filter: str = Field(default="", description="before the eyepiece; '': none")
    why: str
    turn_warnings: tuple[str, ...]
    turn_warning_codes: tuple[str, ...] | None = codes_field()
    cautions: tuple[str, ...]
    caution_codes: tuple[str, ...] | None = codes_field()
    promised: bool = False
    set_on: SetOnStarFacts | None = Field(
        default=None, description="None: the hour circle is never set, or no star shows"
    )
    finding: FindingFacts | None = Field(
        default=None, description="None: the sheet was older, or nobody asked for ways"
    )
    eyepiece: AtEyepieceData | None = Field(
        default=None, description="at its begin; None: older sheet, or no more than a spot"
    )
    sayings: tuple[str, ...] = Field(
        default=(), description="two sentences to say to visitors; (): older sheet, or none known"
    )
    worth: WorthFacts | None = Field(default=None, description="None: the sheet was older")
    wait: WaitFacts | None = Field(default=None, description="None: no long wait before it")
    orbit: OrbitData | None = Field(
        default=None, description="None: it goes by no elements, or the sheet was older"
    )
    tonight: tuple[str, ...] = Field(
        default=(), description="what makes this night special for it, with its moments"
    )
