"""Which form has the answer about the axis for programs? Keys carry units; null is unknown."""

from __future__ import annotations

from typing import Any, Literal, NotRequired

from typing_extensions import TypedDict


class EllipseData(TypedDict):
    """Where the axis lies with 95 %: semi-axes, and the long one's turn from east towards high."""

    long_arcmin: float
    short_arcmin: float
    turn_deg: float


class EstimateData(TypedDict):
    """How far the axis is off, great circle; `rank` directions of it are known.

    Where only one is: it lies on a line, `line_deg` from east towards high, so well across it.
    The covariance is in the order high, east.
    """

    rank: int
    high_arcmin: float
    east_arcmin: float
    high_sigma_arcmin: float | None
    east_sigma_arcmin: float | None
    total_arcmin: float
    total_sigma_arcmin: float | None
    line_deg: float | None
    across_line_sigma_arcmin: float | None
    covariance_arcmin2: list[list[float]] | None
    ellipse_95: EllipseData | None


class MeasuredData(EstimateData):
    """One of the measurements that count."""

    method: str
    at: str
    source: str
    left_out: bool
    sigmas_from_the_rest: float | None


class RemarkData(TypedDict):
    """What looked wrong and was settled: places of rows, or a circle."""

    code: str
    rows: list[int]
    circle: str | None


class CircleData(TypedDict):
    """What a setting of a circle shows too much; the setting is null where there is but one."""

    circle: str
    setting: str | None
    on_side_east_arcmin: float
    on_side_west_arcmin: float
    sigma_arcmin: float


class LensData(TypedDict):
    """The lens of all pictures, in pixels as they were reduced; the distortion at the corner is
    a part of the corner's distance from the middle."""

    width_px: int
    height_px: int
    focal_length_px: float
    field_width_deg: float
    field_height_deg: float
    middle_px: list[float]
    distortion_at_corner: float


class OfMethodData(TypedDict, total=False):
    """What only one method says; the keys of its method are there.

    `unknowns_fixed`: how many of the `unknowns` the readings tell; the rest is `assumed`.
    """

    stars: list[dict[str, Any]]
    all_reversed_suspected: bool
    unknowns_fixed: int
    assumed: list[str]
    index_hour_arcmin: float | None
    index_hour_sigma_arcmin: float | None
    index_declination_arcmin: float | None
    index_declination_sigma_arcmin: float | None
    cone_arcmin: float | None
    cone_sigma_arcmin: float | None
    lean_arcmin: float | None
    lean_sigma_arcmin: float | None
    circles_show_too_much: list[CircleData]
    set_anew_between_sides: list[str]
    set_anew_seen_from_arcmin: dict[str, float | None]
    information_per_arcmin2: list[list[float]]
    unknowns: list[str]
    frames: list[dict[str, Any]]
    pictures: list[dict[str, Any]]
    not_recognised: list[str]
    lens: LensData


class FindingData(EstimateData, OfMethodData):
    """What one measurement says by itself.

    `remarks` are the sentences of `remark_codes`, in the same order.
    """

    method: str
    source: str
    chance_of_worse_fit: float
    degrees_of_freedom: int
    remark_codes: list[RemarkData]
    remarks: list[str]


class BoltTurnData(TypedDict):
    """One step for the hand."""

    verb: str
    bolt: str
    turns: float
    clockwise: bool


class BoltsData(TypedDict):
    """What brings the axis onto the pole; turns positive clockwise."""

    raise_deg: float
    move_east_deg: float
    altitude_turns: float
    altitude_turns_sigma: float
    azimuth_turns: float
    azimuth_turns_sigma: float
    altitude_steps: list[BoltTurnData]
    azimuth_steps: list[BoltTurnData]
    beyond_bolts: bool


class MoveStarData(TypedDict):
    """The star that shows the turn while it is made; north and west of each bolt's part."""

    star: str
    hour_angle_h: float
    declination_deg: float
    moves_north_arcmin: float
    moves_west_arcmin: float
    by_altitude_bolt_arcmin: list[float]
    by_azimuth_bolts_arcmin: list[float]


class ProofStarData(TypedDict):
    """The star whose drift verifies the turn."""

    star: str
    hour_angle_h: float
    declination_deg: float
    watched_s: float
    drift_before_arcsec: float
    drift_after_arcsec: float
    drift_after_sigma_arcsec: float | None


class NextDriftData(TypedDict):
    """The star to watch next, and what that brings in the worst direction."""

    star: str
    watch_s: float
    worst_now_arcmin: float | None
    worst_then_arcmin: float | None


class CheckStarData(TypedDict):
    """The star that makes a mistake show, and the part of one that shows then."""

    star: str
    hour_angle_h: float
    watch_s: float
    shown_then: float


class CheckData(EstimateData):
    """The answer of `axletree check`. `doubts` as the notes keep them, each with its source."""

    version: Literal[1]
    at: str
    pole: str
    good_enough_arcmin: float
    good_enough: str
    chance_good_enough: float
    measurements: list[MeasuredData]
    before_last_turn: int
    dated_before_last_turn: bool
    at_odds: bool
    doubts: list[dict[str, Any]]
    this_measurement: NotRequired[FindingData]
    bolts: BoltsData | None
    bolts_to_turn: bool
    learned: list[str]
    while_turning: MoveStarData | None
    afterwards: ProofStarData | None
    next_drift: NextDriftData | None
    check_star: CheckStarData | None
    air_lifts_pole_arcmin: float
    guessed: list[str]
    noted_in: str | None


class TurnedData(TypedDict):
    """The answer of `axletree check turned`."""

    version: Literal[1]
    kind: str
    at: str
    latitude_deg: float
    longitude_deg: float
    altitude_turns: float
    azimuth_turns: float
    noted_in: str
