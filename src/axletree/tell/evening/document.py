"""What is an evening, written down? One immutable document that everything is drawn from.

Text, JSON, paper, phone sheet and calendar file are all made from `Evening`, so that they
cannot disagree. `json_schema()` is the published schema (docs/evening.schema.json). Names carry
units; moments are ISO 8601 with the site's offset; angles follow the conventions of the sky.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from axletree.evening.older_sheet import from_version_1
from axletree.kit.errors import AxletreeError

EVENING_VERSION: Literal[2] = 2


class Sheet(BaseModel):
    """A frozen part of the document; nothing unknown, no nan, no infinity."""

    # Checkers are made when the first sheet is, and not at all by commands that write none.
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)


class Place(Sheet):
    """Where the evening happens."""

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    time_zone: str
    elevated_pole: Literal["north", "south"]
    pressure_hpa: float
    temperature_c: float


class Rig(Sheet):
    """What stands there."""

    kit_name: str
    mount: str
    motion: Literal["hand", "motor"]
    tube: str
    tube_kind: Literal["newtonian", "refractor", "catadioptric"]
    aperture_mm: float
    focal_length_mm: float
    guessed: tuple[str, ...] = Field(description="kit keys that were not given but guessed")


class Moonlight(Sheet):
    """The Moon of this night."""

    lit_fraction: float = Field(ge=0, le=1)
    phase: str
    rise: datetime | None
    set: datetime | None


class Darkness(Sheet):
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
    moon: Moonlight


class NorthAnswer(Sheet):
    """How to find true north (or south) with a compass."""

    pole: Literal["north", "south"]
    magnetic_declination_deg: float
    magnetic_declination_sigma_deg: float
    zone: str
    compass_bearing_deg: float = Field(description="magnetic bearing of the elevated pole")
    note: str


class PoleAnswer(Sheet):
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


class WeightPlace(Sheet):
    """One counterweight and where it sits."""

    mass_kg: float
    position_mm: float = Field(description="middle of the weight from the crossing of the axes")


class BalanceAnswer(Sheet):
    """Where weights and tube go."""

    weights: tuple[WeightPlace, ...]
    tube_slide_mm: float | None
    hour_axis_torque_nm: float
    declination_axis_torque_nm: float
    push_to_tip_n: float = Field(description="least level push at the eyepiece, kit's tray load")
    words: tuple[str, ...]


class RingTurnCost(Sheet):
    """What the best turn for the whole list means at one stop."""

    stop: int
    eyepiece_height_mm: float
    discomfort_now_mm: float
    discomfort_then_mm: float


class RingTurnAdvice(Sheet):
    """The turn of the tube in its rings (or of the diagonal) that serves tonight's stops best.

    Discomfort is how far the eyepiece stands outside the range of eye heights, with up to 500 mm
    for a barrel that hangs down and up to 100 mm for an awkward slant.
    """

    turn_deg: float = Field(description="angle of the focuser or diagonal, as ring_turn_deg")
    present_deg: float
    total_now_mm: float
    total_then_mm: float
    costs: tuple[RingTurnCost, ...]
    words: str


class EyepieceDrift(Sheet):
    """What one eyepiece shows and how long the sky takes to cross it."""

    eyepiece: str
    magnification: float
    true_field_deg: float
    exit_pupil_mm: float
    drift_time_s: float = Field(description="celestial equator, across the middle, drive off")


class FollowAnswer(Sheet):
    """How the slow knob keeps an object in view."""

    seconds_per_knob_turn: float | None = Field(description="None: no knob on the hour axis")
    knob_turns_per_minute: float | None
    eyepieces: tuple[EyepieceDrift, ...]
    words: tuple[str, ...]


class Stage(Sheet):
    """One stage of setting up: when, the answer in a line, and what goes with it."""

    name: str
    begin: datetime
    end: datetime
    answer: str
    details: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


class Pose(Sheet):
    """Where an object and the rig stand at one moment."""

    at: datetime
    hour_angle_h: float
    declination_deg: float
    azimuth_deg: float
    altitude_deg: float
    airmass: float
    hour_circle_h: float = Field(description="hour-angle circle of the mount")
    declination_circle_deg: float


class SideChoice(Sheet):
    """One way to reach the object: the tube on one side of the mount."""

    side: Literal["east", "west"]
    weights_up: bool
    room_s: float = Field(description="from the stop's begin, until something ends it")
    room_deg: float
    room_ends: datetime | None = Field(description="None: not within the night")
    ends_by: str


class EyepieceView(Sheet):
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
    orientation: str
    drift_clock: str = Field(description="way the object leaves the field, as a clock hour")


class Nudge(Sheet):
    """How to keep it in the middle."""

    every_s: float | None = Field(description="None: never, the motor follows")
    knob_turns: float
    direction: str
    times_per_visitor: float


class Stop(Sheet):
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
    start: Pose
    finish: Pose
    chosen: SideChoice
    other: SideChoice | None
    why_side: str
    view: EyepieceView
    nudge: Nudge
    visibility: str
    margin_mag: float | None
    why: str
    turn_warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    promised: bool = False


class GivenUp(Sheet):
    """An object that was considered and left out, with the reason."""

    name: str
    reason: str


EmptyBecause = Literal["no session", "session over", "clouds", "nothing fits", "nothing left"]


class OrderFacts(Sheet):
    """How good the order is, honestly; of an order without stops, why it has none."""

    method: str
    proven_best: bool
    gap_percent: float | None
    words: str
    empty_because: EmptyBecause | None = Field(default=None, description="None: there are stops")


class Evening(Sheet):
    """The whole evening."""

    format: Literal["axletree evening"] = "axletree evening"
    version: Literal[2] = EVENING_VERSION
    date: date
    made_at: datetime
    place: Place
    rig: Rig
    units: Literal["metric", "us"]
    visitors: int
    darkness: Darkness
    north: NorthAnswer
    pole: PoleAnswer
    balance: BalanceAnswer
    follow: FollowAnswer
    ring_turn: RingTurnAdvice | None = Field(description="None: nothing can be turned, or no stops")
    stages: tuple[Stage, ...]
    stops: tuple[Stop, ...]
    order: OrderFacts
    given_up: tuple[GivenUp, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
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
    """The document back from its JSON, of version 1 as well; refuses what the schema refuses."""
    try:
        raw = json.loads(text)
        if isinstance(raw, dict) and raw.get("version") == 1:
            text = json.dumps(from_version_1(raw))
    except (AxletreeError, KeyError, TypeError, ValueError, OverflowError, RecursionError):
        pass  # the schema says in its own words what is wrong
    return Evening.model_validate_json(text)
