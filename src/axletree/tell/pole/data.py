"""What does a program get to know about the pole? Keys carry units."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime
from typing import cast

from axletree.logbook.own import Learned
from axletree.pole.aim.bore import Bore
from axletree.pole.aim.view import StarPlace
from axletree.pole.correct.bolts import AxisError, BoltMoves, BoltStep
from axletree.stages.set_up.pole import PoleAnswer
from axletree.tell.pole.bolts_text import sense_words
from axletree.tell.pole.cautions_text import assumed_words, caution_words
from axletree.tell.pole.forms import (
    BoltStepData,
    BoreData,
    LessonData,
    MovesData,
    PictureData,
    PoleData,
    StarPlaceData,
    ThroughTubeData,
    TonightData,
    WithoutViewData,
)
from axletree.tell.pole.rough_text import STEP_WORDS, no_view_words, source_words
from axletree.tell.pole.tube_text import tube_steps
from axletree.tell.shared.words import dial_hour


def pole_data(answer: PoleAnswer, learned: Learned | None = None) -> PoleData:
    """The answer for programs; `learned`: what a logbook brought into its kit."""
    view, target, setting = answer.view, answer.target, answer.setting
    data: PoleData = {
        "version": 1,
        "at": answer.at.isoformat(),
        "hemisphere": "north" if target.north else "south",
        "stop_arcmin": answer.stop_arcmin,
        "pole_altitude_deg": target.altitude_deg,
        "pole_azimuth_deg": target.azimuth_deg,
        "pole_altitude_true_deg": target.true_altitude_deg,
        "refraction_arcmin": target.lift_arcmin,
        "refracted": target.refracted,
        "star": view.star,
        "pole_distance_arcmin": view.pole_distance_arcmin,
        "star_hour_angle_h": view.star_hour_angle_h,
        "clock_hour": view.clock_hour,
        "clock_face": dial_hour(view.clock_hour),
        "view": view.look,
        "rotation_deg": view.rotation_deg,
        "field_deg": view.field_deg,
        "off_centre_fraction": answer.off_centre,
        "engraved_ring_arcmin": view.engraved_ring_arcmin,
        "engraved_ring_year": answer.ring_year,
        "scale": {
            "setting_deg": setting.setting_deg,
            "nearest_mark_deg": setting.nearest_mark_deg,
            "sigma_deg": setting.sigma_deg,
            "within_scale": setting.within_scale,
        },
        "tonight": _tonight(answer),
        "moves": None
        if answer.moves is None or answer.error is None
        else _moves(answer.moves, answer.error),
        "without_view": _without_view(answer),
        "through_tube": _through_tube(answer),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "view_assumption_codes": [a.value for a in answer.axis_view.assumed],
        "learned": _learned(learned),
        "assumption_codes": [a.value for a in answer.assumptions],
        "assumed": assumed_words(answer, learned),
        "picture": cast(PictureData, asdict(view)),
    }
    bore = answer.axis_view.bore
    if bore is not None:
        data["bore"] = _bore(bore, view.pole_distance_arcmin)
    return data


def _tonight(answer: PoleAnswer) -> TonightData:
    tonight = answer.tonight
    return {
        "state": tonight.state.value,
        "sun_depression_deg": tonight.sun_depression_deg,
        "comes_out": _iso(tonight.comes_out),
        "fades": _iso(tonight.fades),
        "first_place": _place(answer.first_place),
        "lowest_sun_altitude_deg": tonight.lowest_sun_altitude_deg,
        "next_night": tonight.next_night.isoformat() if tonight.next_night else None,
        "in_view": [[a.isoformat(), b.isoformat()] for a, b in tonight.out],
        "pole_above_skyline_deg": tonight.pole_margin_deg,
        "star_above_skyline_deg": tonight.star_margin_deg,
        "star_least_above_skyline_deg": tonight.least_margin_deg,
    }


def _place(place: StarPlace | None) -> StarPlaceData | None:
    return None if place is None else cast(StarPlaceData, asdict(place))


def _moves(moves: BoltMoves, error: AxisError) -> MovesData:
    return {
        "high_arcmin": error.high_arcmin,
        "east_arcmin": error.east_arcmin,
        "raise_deg": moves.raise_deg,
        "move_east_deg": moves.move_east_deg,
        "altitude_turns": moves.altitude_turns,
        "altitude_turns_sigma": moves.altitude_turns_sigma,
        "azimuth_turns": moves.azimuth_turns,
        "azimuth_turns_sigma": moves.azimuth_turns_sigma,
        "beyond_bolts": moves.beyond_bolts,
        "steps": [_step(step) for step in moves.steps],
    }


def _step(step: BoltStep) -> BoltStepData:
    return {
        "verb": step.verb.value,
        "bolt": step.bolt.value,
        "turns": step.turns,
        "clockwise": step.clockwise,
        "way": sense_words(step),
    }


def _without_view(answer: PoleAnswer) -> WithoutViewData:
    rough, no_view = answer.rough, answer.no_view
    return {
        "needed": no_view is not None,
        "because_code": None if no_view is None else no_view.value,
        "because": no_view_words(answer),
        "compass_sigma_deg": rough.compass_sigma_deg,
        "level_sigma_deg": rough.level_sigma_deg,
        "scale_sigma_deg": rough.scale_sigma_deg,
        "steps": [
            {
                "code": error.step.value,
                "name": STEP_WORDS[error.step],
                "source": source_words(rough, error.step),
                "high_arcmin": error.high_arcmin,
                "east_arcmin": error.east_arcmin,
            }
            for error in rough.errors
        ],
        "high_sigma_arcmin": rough.high_sigma_arcmin,
        "east_sigma_arcmin": rough.east_sigma_arcmin,
        "after_drift_arcmin": [list(pair) for pair in rough.after_drift],
    }


def _through_tube(answer: PoleAnswer) -> ThroughTubeData:
    tube, view = answer.through_tube, answer.through_tube.view
    return {
        "possible": tube.possible,
        "looked_through": answer.axis_view.kind == "tube",
        "through_code": view.through.value,
        "eyepiece": view.eyepiece,
        "field_deg": view.field_deg,
        "look": tube.axis_view.look,
        "rotation_deg": tube.axis_view.rotation_deg,
        "swing_deg": view.swing_deg,
        "point_sigma_arcmin": view.point_sigma_arcmin,
        "placing_sigma_arcmin": view.placing_sigma_arcmin,
        "sigma_arcmin": tube.sigma_arcmin,
        "within_90_arcmin": tube.within_90_arcmin,
        "star_to_edge_arcmin": view.spare_arcmin,
        "room_from_west_mm": tube.room.from_west_mm,
        "room_from_east_mm": tube.room.from_east_mm,
        "cone_sigma_arcmin": tube.cone_sigma_arcmin,
        "sky_turn_part_per_min": tube.sky_turn_part,
        "sky_rolls_deg": tube.sky_rolls_deg,
        "across_clock_hour": tube.across_clock_h,
        "steps": tube_steps(answer),
    }


def _learned(learned: Learned | None) -> list[LessonData]:
    return (
        []
        if learned is None
        else [
            {
                "code": lesson.lesson.value,
                "bolt": lesson.bolt,
                "turns_per_degree": lesson.learned.turns_per_degree,
                "turns_per_degree_sigma": lesson.learned.sigma,
                "turns_counted": lesson.learned.count,
                "kit_turns_per_degree": lesson.kit_turns_per_degree,
            }
            for lesson in learned.bolts
        ]
    )


def _bore(bore: Bore, pole_distance_arcmin: float) -> BoreData:
    return {
        "diameter_mm": bore.diameter_mm,
        "length_mm": bore.length_mm,
        "eye_distance_mm": bore.eye_distance_mm,
        "eye_pupil_mm": bore.eye_pupil_mm,
        "field_deg": bore.field_deg,
        "full_field_deg": bore.full_field_deg,
        "centring_sigma_arcmin": bore.centring_sigma_arcmin,
        "sigma_arcmin": bore.sigma_arcmin(pole_distance_arcmin),
    }


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
