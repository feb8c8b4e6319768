"""What does a program get to know about the way to true north? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.ground.magnetism import Zone
from axletree.ground.north.method import ClosedMethod, NorthMethod
from axletree.stages.set_up.north import NorthAnswer
from axletree.tell.north.cautions_text import (
    assumed_words,
    caution_words,
    closed_name,
    closed_words,
)
from axletree.tell.north.method_text import how_to, method_name, rank_words
from axletree.tell.shared.skyline_data import UnknownSkyline, unknown_skyline


class MethodData(TypedDict):
    """One method: which line to mark, how the pole lies from it, and its expected error.

    `key` tells it from the others at any moment. `name`, `reason` and `how` are sentences beside
    `method` and `reason_code`, whose figure is `reason_figure`.
    """

    key: str
    method: str
    name: str
    works_now: bool
    usable: bool
    at: str
    until: str | None
    by_shadow: bool
    azimuth_deg: float
    line_deg: float
    turn_to_pole_deg: float
    altitude_deg: float | None
    rate_deg_per_min: float | None
    sigma_deg: float
    error_parts_deg: dict[str, float]
    reason_code: str
    reason_figure: float
    reason: str
    how: str


class ClosedData(TypedDict):
    """A method that isn't open now, why, and when it opens, if it does within a day."""

    method: str
    name: str
    reason_code: str
    reason: str
    opens: str | None


class NorthData(TypedDict):
    """The answer of `axletree north`; codes and, in the same order, sentences."""

    version: Literal[1]
    at: str
    pole: Literal["north", "south"]
    pole_azimuth_deg: float
    magnetic_declination_deg: float
    magnetic_declination_sigma_deg: float
    magnetic_inclination_deg: float
    horizontal_field_nt: float
    zone: Zone
    within_model_years: bool
    compass_bearing_deg: float
    compass_sigma_deg: float
    near_enough_deg: float | None
    sun_altitude_deg: float | None
    methods: list[MethodData]
    not_open: list[ClosedData]
    skyline_unknown: list[UnknownSkyline]
    caution_codes: list[str]
    cautions: list[str]
    assumed: list[str]


def north_data(answer: NorthAnswer) -> NorthData:
    """The answer for programs."""
    field = answer.field
    return {
        "version": 1,
        "at": answer.at.isoformat(),
        "pole": "north" if answer.north else "south",
        "pole_azimuth_deg": answer.pole_azimuth_deg,
        "magnetic_declination_deg": field.declination_deg,
        "magnetic_declination_sigma_deg": field.declination_sigma_deg,
        "magnetic_inclination_deg": field.inclination_deg,
        "horizontal_field_nt": field.horizontal_nt,
        "zone": field.zone,
        "within_model_years": field.valid,
        "compass_bearing_deg": answer.compass_bearing_deg,
        "compass_sigma_deg": answer.compass_sigma_deg,
        "near_enough_deg": answer.near_enough_deg,
        "sun_altitude_deg": answer.sun_altitude_deg,
        "methods": [_method_data(method, answer) for method in answer.methods],
        "not_open": [_closed_data(item) for item in answer.closed],
        "skyline_unknown": unknown_skyline(answer.horizon),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "assumed": assumed_words(answer),
    }


def _method_data(method: NorthMethod, answer: NorthAnswer) -> MethodData:
    return {
        "key": method.key,
        "method": method.kind.value,
        "name": method_name(method),
        "works_now": method.now,
        "usable": method.usable,
        "at": method.at.isoformat(timespec="milliseconds"),
        "until": method.until.isoformat(timespec="seconds") if method.until else None,
        "by_shadow": method.shadow,
        "azimuth_deg": method.azimuth_deg,
        "line_deg": method.line_deg,
        "turn_to_pole_deg": method.turn_to_pole_deg,
        "altitude_deg": method.altitude_deg,
        "rate_deg_per_min": method.rate_deg_per_min,
        "sigma_deg": method.sigma_deg,
        "error_parts_deg": {cause.value: value for cause, value in method.parts},
        "reason_code": method.rank.reason.value,
        "reason_figure": method.rank.figure,
        "reason": rank_words(method),
        "how": how_to(method, answer),
    }


def _closed_data(item: ClosedMethod) -> ClosedData:
    return {
        "method": item.kind.value,
        "name": closed_name(item),
        "reason_code": item.reason.value,
        "reason": closed_words(item),
        "opens": item.opens.isoformat(timespec="seconds") if item.opens else None,
    }
