"""In which sentences are the answers of the set-up told?"""

from __future__ import annotations

import math

from axletree.evening.document import BalanceAnswer, NorthAnswer, PoleAnswer
from axletree.evening.sheet.set_up import over_saddle_mm
from axletree.ground.north.pointers import ObservingErrors
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.kit import Kit
from axletree.mount.steady.tipping import LEANING_CHILD_N
from axletree.pole.correct.advice import good_enough

StageWords = tuple[str, tuple[str, ...], tuple[str, ...]]

# A pole lower than this stands in the haze of any horizon (ours).
LOW_POLE_DEG = 3.0


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
        "check": _check_words(kit),
    }


def _spot_words(pole: PoleAnswer, horizon: Horizon) -> StageWords:
    altitude = pole.room_above_skyline_deg
    assumed = tuple(f"{note[:1].upper()}{note[1:]}." for note in horizon.notes)
    if pole.pole_altitude_deg < LOW_POLE_DEG:
        answer = (
            "The pole lies on the horizon here: set north and latitude with care, then measure "
            "the drift of two stars."
        )
    elif pole.skyline_clear:
        answer = f"The pole is in view, {altitude:.0f}° above the skyline."
    else:
        answer = (
            "The pole is hidden by the skyline here: set north and latitude with care, then "
            "measure the drift of two stars."
        )
    return answer, assumed, ("Tie cords, cables and tripod feet where nobody walks.",)


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
    sigma = math.hypot(north.magnetic_declination_sigma_deg, ObservingErrors().compass_deg)
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
    cautions = [
        "Weights on before the tube, tube off before the weights.",
        "Hold the tube while a lock is open.",
    ]
    if balance.push_to_tip_n < LEANING_CHILD_N:
        cautions.append(
            f"A push of {balance.push_to_tip_n:.0f} N at the eyepiece tips this rig, less than a "
            "leaning child (50 N, our own figure): 'axletree balance' says what helps."
        )
    return answer, tuple(details), tuple(cautions)


def _pole_words(kit: Kit, pole: PoleAnswer) -> StageWords:
    scope = kit.mount.polar_scope
    answer = f"Latitude scale to {pole.latitude_scale_deg:.1f}°."
    details: list[str] = []
    if pole.pole_altitude_deg < LOW_POLE_DEG:
        details.append("No pole star is to be seen so low: finish with the drift of two stars.")
    elif not pole.skyline_clear:
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


def _check_words(kit: Kit) -> StageWords:
    enough = good_enough(kit).largest_arcmin
    answer = (
        f"Good enough is {enough:.1f}′ off the pole; 'axletree check' makes bolt turns of a "
        "star's drift."
    )
    return answer, (), ()
