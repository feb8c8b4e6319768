"""How are the night and the setting up written down?"""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from pydantic import Field

from axletree.tell.evening.parts.document_part import DocumentPart, code_field


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
    hour_marks: Literal["hour angle", "right ascension"] = Field(
        default="hour angle", description="what the hour circle counts"
    )
    hour_circle: Literal["fixed", "slipped", "driven"] = Field(
        default="fixed", description="slipped and driven ones are set on a star"
    )
    guessed: tuple[str, ...] = Field(description="kit keys that were not given but guessed")


class MoonFacts(DocumentPart):
    """The Moon of this night."""

    lit_fraction: float = Field(ge=0, le=1)
    phase: str
    phase_code: str | None = code_field()
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
        description="Sun at -8 degrees for Polaris, -12 or -14 for sigma Octantis; common practice."
        " None: it doesn't come out, or the axis can't be set on it from here"
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


class StillPointFacts(DocumentPart):
    """In which finder or eyepiece the point that stands still is the axis."""

    through: Literal["finder", "eyepiece"]
    eyepiece: str = Field(description="its label in the kit; empty for the finder")
    field_deg: float
    sigma_arcmin: float = Field(description="point and star together, each way")


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
    still_point: StillPointFacts | None = Field(
        None,
        description="null: the mount has a polar scope or a hollow axis, or the star won't fit",
    )


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


class StageFacts(DocumentPart):
    """One stage of setting up: when, the answer in a line, and what goes with it."""

    name: str
    begin: datetime
    end: datetime
    answer: str
    details: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


class OwnMinutesFacts(DocumentPart):
    """How long setting up or taking down usually takes, by notes of earlier evenings."""

    work_code: Literal["set_up", "take_down"]
    minutes: float
    sigma_min: float = Field(description="one standard deviation")
    evenings: int = Field(description="how many were noted")
    assumed_min: float = Field(description="what would stand for it without notes")
