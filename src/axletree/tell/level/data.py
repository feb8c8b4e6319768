"""What does a program get to know about levelling? Keys carry units."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from axletree.stages.set_up.level import LevelAnswer
from axletree.tell.level.text import assumed_words, caution_words

# An axis within a hair of the zenith mixes the bolts beyond all bounds; JSON knows no infinity.
MOST_LEFT = 1e9


class LegChange(TypedDict):
    """One leg, numbered from 1: lengthen it by so much along itself (negative: shorten)."""

    leg: int
    along_leg_mm: float
    rise_mm: float


class LeftAsItIs(TypedDict):
    """What the tilt does if nobody corrects it."""

    tracking_error_arcsec: float
    latitude_scale_shift_deg: float
    head_turn_east_deg: float
    altitude_bolt_high_arcmin_per_deg: float
    altitude_bolt_east_arcmin_per_deg: float
    azimuth_bolt_high_arcmin_per_deg: float
    azimuth_bolt_east_arcmin_per_deg: float
    error_left_per_round: float


class LevelData(TypedDict):
    """The answer of `axletree level`; cautions as codes and, in the same order, as sentences."""

    version: Literal[1]
    tilt_deg: float
    tilt_sigma_deg: float
    tilt_is_lower_bound: bool
    high_side_from_pole_deg: float
    tilt_towards_pole_deg: float
    tilt_to_the_right_deg: float
    legs: list[LegChange]
    leg_sigma_mm: float
    leg_slant_deg: float
    top_sinks_mm: float
    left_as_it_is: LeftAsItIs
    caution_codes: list[str]
    cautions: list[str]
    guessed: list[str]
    assumed: list[str]


def level_data(answer: LevelAnswer) -> LevelData:
    """The answer for programs."""
    changes, tilt, after = answer.changes, answer.tilt, answer.after
    return {
        "version": 1,
        "tilt_deg": tilt.tilt_deg,
        "tilt_sigma_deg": tilt.sigma_deg,
        "tilt_is_lower_bound": tilt.at_least,
        "high_side_from_pole_deg": tilt.high_side_deg,
        "tilt_towards_pole_deg": tilt.towards_pole_deg,
        "tilt_to_the_right_deg": tilt.to_the_right_deg,
        "legs": [
            {"leg": i, "along_leg_mm": along, "rise_mm": rise}
            for i, (along, rise) in enumerate(
                zip(changes.along_leg_mm, changes.rise_mm, strict=True), start=1
            )
        ],
        "leg_sigma_mm": changes.sigma_mm,
        "leg_slant_deg": changes.slant_deg,
        "top_sinks_mm": changes.top_sinks_mm,
        "left_as_it_is": {
            "tracking_error_arcsec": after.tracking_arcsec,
            "latitude_scale_shift_deg": after.scale_shift_deg,
            "head_turn_east_deg": after.base_turn_deg,
            "altitude_bolt_high_arcmin_per_deg": float(after.bolts[0, 0]),
            "altitude_bolt_east_arcmin_per_deg": float(after.bolts[0, 1]),
            "azimuth_bolt_high_arcmin_per_deg": float(after.bolts[1, 0]),
            "azimuth_bolt_east_arcmin_per_deg": float(after.bolts[1, 1]),
            "error_left_per_round": min(after.remains_per_pass, MOST_LEFT),
        },
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "guessed": list(answer.guessed),
        "assumed": assumed_words(answer),
    }
