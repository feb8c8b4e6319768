"""What do the hands need before the first object: north, level, pole, balance, follow?

Each function answers one stage for the document from the floors below; `words_of` puts the
answers into the sentences of the stages.
"""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any

import numpy as np

from axletree.evening.document import (
    BalanceAnswer,
    EyepieceDrift,
    FollowAnswer,
    NorthAnswer,
    PoleAnswer,
    WeightPlace,
)
from axletree.ground.magnetism import bearing_to_pole_deg, magnetic_field
from axletree.ground.pointers import Hands
from axletree.ground.skyline import Horizon
from axletree.kit.kit import Kit
from axletree.mount.balance import eyepieces_of, middle_eyepiece, solve
from axletree.mount.gearing import hour_knob
from axletree.mount.nudge import eyepiece_follow
from axletree.pole.picture import face_words
from axletree.pole.scale import scale_setting
from axletree.pole.sight import sight_of
from axletree.pole.target import pole_target
from axletree.pole.view import pole_view
from axletree.sky.observer import Observer

StageWords = tuple[str, tuple[str, ...], tuple[str, ...]]


def north_answer(kit: Kit, at: datetime) -> NorthAnswer:
    """The compass bearing of the elevated pole, with its uncertainty."""
    site = kit.site
    field = magnetic_field(site.latitude_deg, site.longitude_deg, site.elevation_m, at)
    return NorthAnswer(
        pole="north" if site.north else "south",
        magnetic_declination_deg=field.declination_deg,
        magnetic_declination_sigma_deg=field.declination_sigma_deg,
        zone=field.zone,
        compass_bearing_deg=bearing_to_pole_deg(site.latitude_deg, field.declination_deg),
        note=field.note,
    )


def pole_answer(kit: Kit, observer: Observer, at: datetime, horizon: Horizon) -> PoleAnswer:
    """Where the axis points, what the scale shows, and where the pole star stands at `at`."""
    scope = kit.mount.polar_scope
    target = pole_target(observer)
    setting = scale_setting(kit.mount.bolts, target)
    sight = sight_of(scope, 5.5)
    view = pole_view(
        observer,
        at,
        look=sight.look,
        rotation_deg=sight.rotation_deg,
        field_deg=sight.field_deg,
        engraved_ring_arcmin=scope.ring_radius_arcmin,
    )
    skyline = float(np.asarray(horizon.altitude_at(target.azimuth_deg)))
    room = target.altitude_deg - skyline
    return PoleAnswer(
        pole_altitude_deg=target.altitude_deg,
        latitude_scale_deg=setting.setting_deg,
        star=view.star,
        pole_distance_arcmin=view.pole_distance_arcmin,
        star_hour_angle_h=view.star_hour_angle_h,
        clock_hour=view.clock_hour,
        clock_face=face_words(view.clock_hour),
        view=sight.look,
        at=at,
        skyline_clear=room > view.pole_distance_arcmin / 60.0,
        room_above_skyline_deg=room,
    )


def balance_answer(kit: Kit) -> BalanceAnswer:
    """Weights and tube for the middle eyepiece, with what balance cannot reach."""
    answer = solve(kit, middle_eyepiece(eyepieces_of(kit)))
    loading = answer.loading
    words: list[str] = []
    if not loading.exact:
        lack = loading.leftover_kg_m
        words.append(
            "the weights cannot balance this tube: "
            + ("too little" if lack > 0 else "too much")
            + f" by {abs(lack) * 9.81:.1f} N·m"
        )
    if answer.load.fraction > 1.0:
        words.append(
            f"the mount carries {answer.load.carried_kg:.1f} kg, more than its "
            f"{answer.load.limit_kg:.1f} kg"
        )
    if answer.short_of_slide_mm > 0:
        words.append(f"the dovetail is {answer.short_of_slide_mm:.0f} mm too short to balance")
    pairs = zip(loading.mass_kg, loading.position_mm, strict=True)
    return BalanceAnswer(
        weights=tuple(WeightPlace(mass_kg=m, position_mm=p) for m, p in pairs),
        tube_slide_mm=answer.slide_forward_mm,
        hour_axis_torque_nm=answer.hour_torque_nm,
        declination_axis_torque_nm=answer.declination_torque_nm,
        words=tuple(words),
    )


def over_saddle_mm(kit: Kit) -> float:
    """The place on the tube, from its front, that lies over the declination axis."""
    return float(solve(kit, middle_eyepiece(eyepieces_of(kit))).over_saddle_mm)


def follow_answer(kit: Kit) -> FollowAnswer:
    """Knob rhythm and drift through each eyepiece, for the celestial equator."""
    knob = hour_knob(kit.mount.gears, kit.site.north)
    rows = [row for row in eyepiece_follow(kit, 0.0) if row.barlow == 1.0]
    words: list[str] = []
    if knob is None:
        words.append("the hour axis has no knob: push the tube gently towards the west")
    else:
        way = "clockwise" if knob.clockwise else "anticlockwise"
        words.append(f"turn the hour knob {way}, one turn every {knob.seconds_per_turn:.0f} s")
        if knob.backlash_s > 0:
            words.append(f"after turning back, {knob.backlash_s:.0f} s of slack come first")
    if kit.mount.motor is not None:
        words.append("the motor follows the stars; the knob or the keys only correct")
    return FollowAnswer(
        seconds_per_knob_turn=knob.seconds_per_turn if knob else None,
        knob_turns_per_minute=knob.turns_per_minute if knob else None,
        eyepieces=tuple(
            EyepieceDrift(
                eyepiece=row.label,
                magnification=row.magnification,
                true_field_deg=row.true_field_deg,
                exit_pupil_mm=row.exit_pupil_mm,
                drift_time_s=row.drift_time_s,
            )
            for row in rows
        ),
        words=tuple(words),
    )


def words_of(
    kit: Kit,
    north: NorthAnswer,
    pole: PoleAnswer,
    balance: BalanceAnswer,
    horizon: Horizon,
) -> dict[str, StageWords]:
    """Answer, details and cautions of each stage, by its name."""
    return {
        "spot": _spot_words(pole, horizon),
        "level": _level_words(kit),
        "north": _north_words(north),
        "balance": _balance_words(kit, balance),
        "pole": _pole_words(kit, pole),
    }


def _spot_words(pole: PoleAnswer, horizon: Horizon) -> StageWords:
    altitude = pole.room_above_skyline_deg
    gaps = tuple(
        f"The skyline from {a:.0f}° to {b:.0f}° was not measured; taken as "
        f"{horizon.open_altitude_deg:.0f}° high."
        for a, b in horizon.gaps
    )
    if pole.skyline_clear:
        answer = f"The pole is in view, {altitude:.0f}° above the skyline."
    else:
        answer = (
            "The pole is hidden by the skyline here: set north and latitude with care, then "
            "measure the drift of two stars."
        )
    return answer, gaps, ("Tie cords, cables and tripod feet where nobody walks.",)


def _level_words(kit: Kit) -> StageWords:
    slope = kit.yard.slope_percent if kit.yard else 0.0
    details: tuple[str, ...] = ()
    if slope:
        drop = slope / 100.0 * kit.mount.tripod.foot_radius_mm * 1.5
        details = (
            f"The ground falls {slope:.1f} %: up to {drop:.0f} mm between the feet, the longest "
            "leg downhill.",
        )
    off = [abs((d + 180.0) % 360.0 - 180.0) for d in kit.mount.tripod.leg_directions_deg]
    legs = "One leg towards the pole"
    if min(off) > 45.0:  # near the equator, where the weights swing low on the pole's side
        legs = "One leg away from the pole"
    elif min(off) > 15.0:
        legs = "Legs as the kit says"
    return (
        f"{legs}; lengthen the low legs until the bubble is in the middle.",
        details,
        (),
    )


def _north_words(north: NorthAnswer) -> StageWords:
    side = "east" if north.magnetic_declination_deg >= 0 else "west"
    sigma = math.hypot(north.magnetic_declination_sigma_deg, Hands().compass_deg)
    answer = (
        f"Turn the axis to compass bearing {north.compass_bearing_deg:.1f}° "
        f"(± {sigma:.1f}° with the reading): true {north.pole}."
    )
    details = [
        f"The needle points {abs(north.magnetic_declination_deg):.1f}° {side} of true north here."
    ]
    if north.note:
        details.append(north.note)
    cautions = ["Read the compass two metres from steel, cars and the mount."]
    if north.zone:
        if north.zone == "blackout":
            cautions.insert(0, "Magnetic blackout zone: do not use a compass here.")
        elif north.zone == "caution":
            cautions.insert(0, "Magnetic caution zone: a compass is poor here.")
    return answer, tuple(details), tuple(cautions)


def _length(kit: Kit, value_mm: float) -> str:
    """A length in the person's units."""
    return f"{value_mm / 25.4:.1f} in" if kit.habits.units == "us" else f"{value_mm:.0f} mm"


def _mass(kit: Kit, value_kg: float) -> str:
    """A mass in the person's units."""
    us = kit.habits.units == "us"
    return f"{value_kg / 0.45359237:.1f} lb" if us else f"{value_kg:.1f} kg"


def _balance_words(kit: Kit, balance: BalanceAnswer) -> StageWords:
    if balance.weights:
        weights = " and ".join(
            f"{_mass(kit, w.mass_kg)} at {_length(kit, w.position_mm)}" for w in balance.weights
        )
        answer = f"Weights: {weights} from the crossing of the axes to their middle."
    else:
        answer = "No weight is needed on the shaft."
    over = over_saddle_mm(kit)
    details = [
        f"Tube: the place {_length(kit, over)} from its front lies over the declination axis.",
        f"Left over at the worst pose: {balance.hour_axis_torque_nm:.2f} N·m about the hour "
        f"axis, {balance.declination_axis_torque_nm:.2f} N·m about the declination axis.",
        *(w[:1].upper() + w[1:] + "." for w in balance.words),
    ]
    return (
        answer,
        tuple(details),
        (
            "Weights on before the tube, tube off before the weights.",
            "Hold the tube while a lock is open.",
        ),
    )


def _pole_words(kit: Kit, pole: PoleAnswer) -> StageWords:
    scope = kit.mount.polar_scope
    answer = f"Latitude scale to {pole.latitude_scale_deg:.1f}°."
    details: list[str] = []
    if not pole.skyline_clear:
        details.append("The pole star is behind the skyline: finish with the drift of two stars.")
    elif scope.kind == "none":
        details.append(
            f"{pole.star} stands {pole.pole_distance_arcmin:.0f}′ from the pole; there is no "
            "polar scope, so sight along the housing and finish with the drift of two stars."
        )
    else:
        details.append(
            f"Put {pole.star} at {pole.clock_face} on the dial, {pole.pole_distance_arcmin:.1f}′ "
            f"from the middle, as the {pole.view} picture shows it."
        )
    details.append(f"The pole is {pole.pole_altitude_deg:.2f}° high as seen through the air.")
    return answer, tuple(details), ()


def facts(answer: Any) -> dict[str, Any]:
    """A part of the document as plain data for --json."""
    return dict(answer.model_dump(mode="json"))
