"""Which form has the answer about the pole for programs? Keys carry units."""

from __future__ import annotations

from typing import Literal, NotRequired

from typing_extensions import TypedDict

Look = Literal["erect", "inverted", "mirrored"]


class StarPlaceData(TypedDict):
    """The pole star at one moment, in the picture: right of and above the middle."""

    at: str
    right_arcmin: float
    up_arcmin: float
    distance_arcmin: float
    clock_hour: float


class FieldStarData(TypedDict):
    """Another star of the field; `hip` is 0 and `name` empty where it has none."""

    hip: int
    name: str
    magnitude_v: float
    right_arcmin: float
    up_arcmin: float
    distance_arcmin: float


class GuideData(TypedDict):
    """A figure for the bare eye: its direction in the picture, its place outside."""

    name: str
    clock_hour: float
    azimuth_deg: float
    altitude_deg: float
    up: bool
    clear: bool | None


class PictureData(TypedDict):
    """The look along the axis, so that a page can draw and turn it itself."""

    at: str
    north: bool
    target_altitude_deg: float
    target_azimuth_deg: float
    refracted: bool
    look: Look
    rotation_deg: float
    field_deg: float
    limit_mag: float
    star: str
    star_magnitude_v: float
    pole_distance_arcmin: float
    star_hour_angle_h: float
    star_altitude_deg: float
    star_azimuth_deg: float
    clock_hour: float
    now: StarPlaceData
    quarters: list[StarPlaceData]
    ring: list[tuple[float, float]]
    engraved_ring_arcmin: float | None
    stars: list[FieldStarData]
    figure: list[tuple[tuple[float, float], tuple[float, float]]]
    guides: list[GuideData]
    turn_deg_per_h: float


class ScaleData(TypedDict):
    """What the altitude scale must show."""

    setting_deg: float
    nearest_mark_deg: float
    sigma_deg: float
    within_scale: bool


class TonightData(TypedDict):
    """When the pole star comes out, and what stands before it."""

    state: str
    sun_depression_deg: float
    comes_out: str | None
    fades: str | None
    first_place: StarPlaceData | None
    lowest_sun_altitude_deg: float
    next_night: str | None
    in_view: list[list[str]]
    pole_above_skyline_deg: float | None
    star_above_skyline_deg: float | None
    star_least_above_skyline_deg: float | None


class BoltStepData(TypedDict):
    """One step for the hand."""

    verb: str
    bolt: str
    turns: float
    clockwise: bool
    way: str


class MovesData(TypedDict):
    """What brings the axis onto the pole; turns are positive clockwise."""

    high_arcmin: float
    east_arcmin: float
    raise_deg: float
    move_east_deg: float
    altitude_turns: float
    altitude_turns_sigma: float
    azimuth_turns: float
    azimuth_turns_sigma: float
    beyond_bolts: bool
    steps: list[BoltStepData]


class RoughStepData(TypedDict):
    """One step without a view of the pole, its error as one standard deviation."""

    code: str
    name: str
    source: str
    high_arcmin: float
    east_arcmin: float


class WithoutViewData(TypedDict):
    """The way by level, north, scale and drift; `because_code` is null where it isn't needed."""

    needed: bool
    because_code: str | None
    because: str
    compass_sigma_deg: float
    level_sigma_deg: float
    scale_sigma_deg: float
    steps: list[RoughStepData]
    high_sigma_arcmin: float
    east_sigma_arcmin: float
    after_drift_arcmin: list[list[float]]


class BoreData(TypedDict):
    """What the eye sees through a hollow axis, and how well it sets the star there."""

    diameter_mm: float
    length_mm: float
    eye_distance_mm: float
    eye_pupil_mm: float
    field_deg: float
    full_field_deg: float
    centring_sigma_arcmin: float
    sigma_arcmin: float


class ThroughTubeData(TypedDict):
    """The way by the point of the tube's field that stands still while the hour axis swings.

    `through_code` "finder" or "eyepiece" (its label in `eyepiece`, else empty). Errors in
    arcminutes, one standard deviation each way; `sigma_arcmin` with the bolts' locking. `look` and
    `rotation_deg`: how the sky lies in it. Least distances in the swing from level to weights down.
    `sky_rolls_deg`: before the eye, in that swing. Across, the point lies towards
    `across_clock_hour` or the hour opposite.
    """

    possible: bool
    looked_through: bool
    through_code: Literal["finder", "eyepiece"]
    eyepiece: str
    field_deg: float
    look: Look
    rotation_deg: float
    swing_deg: float
    point_sigma_arcmin: float
    placing_sigma_arcmin: float
    sigma_arcmin: float
    within_90_arcmin: float
    star_to_edge_arcmin: float
    room_from_west_mm: float
    room_from_east_mm: float
    cone_sigma_arcmin: float
    sky_turn_part_per_min: float
    sky_rolls_deg: float
    across_clock_hour: float
    steps: list[str]


class LessonData(TypedDict):
    """What past turns taught about one bolt."""

    code: str
    bolt: str
    turns_per_degree: float
    turns_per_degree_sigma: float
    turns_counted: int
    kit_turns_per_degree: float


class PoleData(TypedDict):
    """The answer of `axletree pole`; codes stand beside the sentences, in the same order.

    `assumed` holds first what `view_assumption_codes` names, then what the logbook taught
    (`learned`), then what `assumption_codes` names.
    """

    version: Literal[1]
    at: str
    hemisphere: Literal["north", "south"]
    stop_arcmin: float
    pole_altitude_deg: float
    pole_azimuth_deg: float
    pole_altitude_true_deg: float
    refraction_arcmin: float
    refracted: bool
    star: str
    pole_distance_arcmin: float
    star_hour_angle_h: float
    clock_hour: float
    clock_face: str
    view: Look
    rotation_deg: float
    field_deg: float
    off_centre_fraction: float
    engraved_ring_arcmin: float | None
    engraved_ring_year: float | None
    scale: ScaleData
    tonight: TonightData
    moves: MovesData | None
    without_view: WithoutViewData
    through_tube: ThroughTubeData
    caution_codes: list[str]
    cautions: list[str]
    view_assumption_codes: list[str]
    learned: list[LessonData]
    assumption_codes: list[str]
    assumed: list[str]
    picture: PictureData
    bore: NotRequired[BoreData]
