"""What is an evening, written down? One immutable document that everything is drawn from.

Made from the evening's typed answer by `tell.evening.data`: figures and codes, and beside them
sentences. Text, paper, phone sheet and calendar file are made from it, so that they cannot
disagree. `json_schema()` is the published schema (docs/evening.schema.json). Names carry
units; moments are ISO 8601 with the site's offset; angles follow the conventions of the sky.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any, Literal

from pydantic import Field

from axletree.kit.errors import AxletreeError
from axletree.tell.evening.document_part import DocumentPart, code_field, codes_field
from axletree.tell.evening.finding_facts import FindingFacts
from axletree.tell.evening.older_sheet import from_older
from axletree.tell.evening.set_up_facts import (
    BalanceFacts,
    NightFacts,
    NorthFacts,
    PoleFacts,
    RigFacts,
    RingTurnFacts,
    SiteFacts,
    StageFacts,
)
from axletree.tell.eyepiece.forms import AtEyepieceData, HappeningData
from axletree.tell.kit.measure_data import DimensionToMeasure
from axletree.tell.learned.data import RigLearnedData
from axletree.tell.orbit.data import OrbitData
from axletree.tell.satellites.data import SatellitesData
from axletree.tell.side.doubt_data import RoomDoubtData
from axletree.tell.special.data import SpecialNightData

EVENING_VERSION: Literal[3] = 3


class DriftFacts(DocumentPart):
    """What one eyepiece shows and how long the sky takes to cross it."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    drift_time_s: float = Field(description="celestial equator, across the middle, drive off")


class FollowFacts(DocumentPart):
    """How the slow knob keeps an object in view."""

    seconds_per_knob_turn: float | None = Field(description="None: no knob on the hour axis")
    knob_turns_per_minute: float | None
    eyepieces: tuple[DriftFacts, ...]
    words: tuple[str, ...]


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
    meanwhile_code: str = Field(description="stay (with the stop before) or bare_eye")
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


class HappeningFacts(DocumentPart):
    """What happens on a body in the session; `words` without a full stop."""

    happening: HappeningData
    words: str


class GivenUpFacts(DocumentPart):
    """An object that was considered and left out, with the reason."""

    name: str
    reason: str
    reason_code: str | None = Field(
        default=None, description="as a code; None: the sheet was older"
    )


EmptyBecause = Literal["no session", "session over", "clouds", "nothing fits", "nothing left"]


class OrderFacts(DocumentPart):
    """How good the order is, honestly; of an order without stops, why it has none."""

    method: str
    proven_best: bool
    gap_percent: float | None
    words: str
    empty_because: EmptyBecause | None = Field(default=None, description="None: there are stops")
    ended_by: str | None = code_field()
    idle_from: datetime | None = Field(
        default=None, description="None: the last stop ends with the session"
    )
    could_follow: tuple[str, ...] = Field(
        default=(), description="what could be shown after the last stop"
    )


class ChildrenFacts(DocumentPart):
    """Until when the children are there, stops that end by then, later ones for the patient."""

    until: datetime
    stops: int
    later: tuple[str, ...]
    words: str


class StateFacts(DocumentPart):
    """The notes of this mount by which its circles are told: the evening of the latest, its moment.

    `measurements` of that evening; `stands_since`: the evening of the axis where the mount was left
    standing.
    """

    evening: date
    at: datetime
    measurements: int
    stands_since: date | None


class Evening(DocumentPart):
    """The whole evening."""

    format: Literal["axletree evening"] = "axletree evening"
    version: Literal[3] = EVENING_VERSION
    date: date
    made_at: datetime
    place: SiteFacts
    rig: RigFacts
    units: Literal["metric", "us"]
    visitors: int
    darkness: NightFacts
    north: NorthFacts
    pole: PoleFacts
    balance: BalanceFacts
    follow: FollowFacts
    ring_turn: RingTurnFacts | None = Field(description="None: nothing can be turned, or no stops")
    stages: tuple[StageFacts, ...]
    stops: tuple[StopFacts, ...]
    order: OrderFacts
    given_up: tuple[GivenUpFacts, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    caution_codes: tuple[str, ...] | None = codes_field()
    notes: tuple[str, ...]
    happenings: tuple[HappeningFacts, ...] | None = Field(
        default=None,
        description="what begins or ends in the session on bodies with a stop; None: older sheet",
    )
    ways_words: str = Field(default="", description="what holds for the turns to every stop")
    state: StateFacts | None = Field(
        default=None, description="None: the circles are those of a perfect mount"
    )
    special: tuple[SpecialNightData, ...] = Field(
        default=(), description="eclipses, meetings, meteors; none in an older sheet"
    )
    satellites: SatellitesData | None = Field(
        default=None, description="None: the kit names none, no session, or an older sheet"
    )
    measure_first: tuple[DimensionToMeasure, ...] = Field(
        default=(), description="what makes tonight's rooms surer; none in an older sheet"
    )
    rig_learned: RigLearnedData | None = Field(
        default=None, description="what notes of gaps taught of the rig; None without any"
    )
    children: ChildrenFacts | None = Field(
        default=None, description="None: the kit names no end of their evening"
    )
    tonight: str = Field(default="", description="the great ones of them, for the first lines")
    stop_sign: str = Field(
        default="", description="why this rig must not be set up as it is, before all else"
    )


def json_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of the document."""
    schema = Evening.model_json_schema(mode="serialization")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"axletree:evening:{EVENING_VERSION}",
        **schema,
    }


def evening_json(evening: Evening) -> str:
    """The document as JSON text."""
    return evening.model_dump_json(indent=2)


def read_evening(text: str) -> Evening:
    """The document back from its JSON, of any version; refuses what the schema refuses."""
    try:
        raw = json.loads(text)
        if isinstance(raw, dict) and raw.get("version") in (1, 2):
            text = json.dumps(from_older(raw))
    except (AxletreeError, KeyError, TypeError, ValueError, OverflowError, RecursionError):
        pass  # the schema says in its own words what is wrong
    return Evening.model_validate_json(text)
