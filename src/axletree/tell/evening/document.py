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

from pydantic import BaseModel, ConfigDict, Field

from axletree.kit.errors import AxletreeError
from axletree.tell.evening.older_sheet import from_older

EVENING_VERSION: Literal[3] = 3


def _code() -> Any:
    """What stands before it, as a code for programs."""
    return Field(default=None, description="as a code; None: the sheet was older")


def _codes() -> Any:
    return Field(default=None, description="as codes, in the same order; None: older sheet")


class DocumentPart(BaseModel):
    """A frozen part of the document; nothing unknown, no nan, no infinity."""

    # Checkers are made when the first sheet is, and not at all by commands that write none.
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class SiteFacts(DocumentPart):
    """Where the evening happens."""

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    time_zone: str
    elevated_pole: Literal["north", "south"]
    pressure_hpa: float
    temperature_c: float


class RigFacts(DocumentPart):
    """What stands there."""

    kit_name: str
    mount: str
    motion: Literal["hand", "motor"]
    tube: str
    tube_kind: Literal["newtonian", "refractor", "catadioptric"]
    aperture_mm: float
    focal_length_mm: float
    guessed: tuple[str, ...] = Field(description="kit keys that were not given but guessed")


class MoonFacts(DocumentPart):
    """The Moon of this night."""

    lit_fraction: float = Field(ge=0, le=1)
    phase: str
    phase_code: str | None = _code()
    rise: datetime | None
    set: datetime | None


class NightFacts(DocumentPart):
    """The Sun and the Moon of this night; None where the event does not happen."""

    sunset: datetime | None
    sunrise: datetime | None
    civil_dusk: datetime | None
    nautical_dusk: datetime | None
    astronomical_dusk: datetime | None
    astronomical_dawn: datetime | None
    nautical_dawn: datetime | None
    civil_dawn: datetime | None
    pole_star_visible: datetime | None = Field(
        description="Sun at -8 degrees for Polaris, -12 or -14 for sigma Octantis; common practice"
    )
    note: str
    moon: MoonFacts


class NorthFacts(DocumentPart):
    """How to find true north (or south) with a compass."""

    pole: Literal["north", "south"]
    magnetic_declination_deg: float
    magnetic_declination_sigma_deg: float
    zone: str
    compass_bearing_deg: float = Field(description="magnetic bearing of the elevated pole")
    note: str


class PoleFacts(DocumentPart):
    """How to put the axis on the pole."""

    pole_altitude_deg: float = Field(description="refracted")
    latitude_scale_deg: float
    star: str
    pole_distance_arcmin: float
    star_hour_angle_h: float
    clock_hour: float = Field(description="place on the dial as seen, 12 at the top")
    clock_face: str
    view: str
    at: datetime
    skyline_clear: bool
    room_above_skyline_deg: float


class WeightFacts(DocumentPart):
    """One counterweight and where it sits."""

    mass_kg: float
    position_mm: float = Field(description="middle of the weight from the crossing of the axes")


class BalanceFacts(DocumentPart):
    """Where weights and tube go."""

    weights: tuple[WeightFacts, ...]
    tube_slide_mm: float | None
    hour_axis_torque_nm: float
    declination_axis_torque_nm: float
    push_to_tip_n: float = Field(description="least level push at the eyepiece, kit's tray load")
    words: tuple[str, ...]


class RingTurnCostFacts(DocumentPart):
    """What the best turn for the whole list means at one stop."""

    stop: int
    eyepiece_height_mm: float
    discomfort_now_mm: float
    discomfort_then_mm: float


class RingTurnFacts(DocumentPart):
    """The turn of the tube in its rings (or of the diagonal) that serves tonight's stops best.

    Discomfort is how far the eyepiece stands outside the range of eye heights, with up to 500 mm
    for a barrel that hangs down and up to 100 mm for an awkward slant.
    """

    turn_deg: float = Field(description="angle of the focuser or diagonal, as ring_turn_deg")
    present_deg: float
    total_now_mm: float
    total_then_mm: float
    costs: tuple[RingTurnCostFacts, ...]
    words: str


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


class StageFacts(DocumentPart):
    """One stage of setting up: when, the answer in a line, and what goes with it."""

    name: str
    begin: datetime
    end: datetime
    answer: str
    details: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


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


class SideFacts(DocumentPart):
    """One way to reach the object: the tube on one side of the mount."""

    side: Literal["east", "west"]
    weights_up: bool
    room_s: float = Field(description="from the stop's begin, until something ends it")
    room_deg: float
    room_ends: datetime | None = Field(description="None: not within the night")
    ends_by: str
    ends_code: str | None = _code()


class ViewFacts(DocumentPart):
    """What the eye gets, and where the eye must be."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    height_mm: float
    face_azimuth_deg: float | None = Field(description="None: looking straight down")
    face_words: str
    barrel_tilt_deg: float = Field(description="above the horizontal; negative points down")
    reach: str
    reach_code: str | None = _code()
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
    why: str
    turn_warnings: tuple[str, ...]
    turn_warning_codes: tuple[str, ...] | None = _codes()
    cautions: tuple[str, ...]
    caution_codes: tuple[str, ...] | None = _codes()
    promised: bool = False


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
    ended_by: str | None = _code()


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
    caution_codes: tuple[str, ...] | None = _codes()
    notes: tuple[str, ...]


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
