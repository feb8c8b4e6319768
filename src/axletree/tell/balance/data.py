"""What does a program get to know about balance? Keys carry units."""

from __future__ import annotations

import math
from typing import Literal

from typing_extensions import TypedDict

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2, Swap
from axletree.mount.balance.scale_reading import Correction
from axletree.mount.balance.weights import Loading, longer_shaft_mm, missing_at_end_kg
from axletree.stages.set_up.balance import BalanceAnswer
from axletree.tell.balance.stand_data import TippingData, tipping_data
from axletree.tell.balance.text import position_from_words, slide_from_words
from axletree.tell.balance.work_text import assumed_words, caution_words, work_words


class PlacedWeightData(TypedDict):
    """One weight: its middle from the crossing of the axes, its face from the shaft's start."""

    mass_kg: float
    position_mm: float
    gap_mm: float
    thickness_mm: float


class LoadingData(TypedDict):
    """Weights from the head outwards; short by a torque, negative where they are too heavy."""

    weights: list[PlacedWeightData]
    balanced: bool
    weights_short_by_nm: float


class CrosswiseData(TypedDict):
    """The moment beside the tube's axis, and two ways to take it away."""

    code: str
    moment_kg_m: float
    torque_nm: float
    ring_turn_deg: float | None
    ring_turn_under_deg: float | None
    trim_mass_kg: float
    trim_angle_deg: float
    trim_radius_mm: float


class SwapData(TypedDict):
    """What another eyepiece does to the balanced rig, and what would balance it again."""

    eyepiece: str
    mass_kg: float
    hour_axis_torque_nm: float
    declination_axis_torque_nm: float
    tube_slide_mm: float
    weights_outward_mm: float | None


class LoadData(TypedDict):
    """What hangs on the saddle against the mount's rating."""

    carried_kg: float
    limit_kg: float
    fraction: float
    code: str


class CorrectionData(TypedDict):
    """What one reading of a luggage scale asks for."""

    axis: str
    end: str
    reading_kg: float
    distance_mm: float
    torque_nm: float
    weights_outward_mm: float | None
    tube_slide_mm: float | None
    sigma_mm: float | None
    trim_mass_kg: float | None
    trim_angle_deg: float | None
    best: LoadingData | None


class BalanceData(LoadingData):
    """The answer of `axletree balance`; codes stand beside sentences, in the same order."""

    version: Literal[1]
    kit: str
    eyepiece: str
    shortfall_code: str | None
    position_from: str
    missing_at_end_kg: float
    longer_shaft_mm: float | None
    tube_balance_from_front_mm: float
    tube_slide_mm: float
    tube_slide_from: str
    tube_short_of_slide_mm: float
    tube_stuck_code: str | None
    hour_axis_torque_nm: float
    declination_axis_torque_nm: float
    weights_sigma_mm: float | None
    tube_sigma_mm: float
    crosswise: CrosswiseData
    swaps: list[SwapData]
    other_loadings: list[LoadingData]
    load: LoadData
    scale: list[CorrectionData]
    tipping: TippingData
    order_of_work_codes: list[str]
    order_of_work: list[str]
    caution_codes: list[str]
    cautions: list[str]
    assumption_codes: list[str]
    assumed: list[str]
    guessed: list[str]


def balance_data(answer: BalanceAnswer) -> BalanceData:
    """The answer for programs."""
    found, trim, sure = answer.balance, answer.trim, answer.certainty
    head, loading, stuck = answer.kit.mount.head, found.loading, found.stuck_slide
    longer = longer_shaft_mm(loading)
    return {
        "version": 1,
        "kit": answer.kit.name,
        "eyepiece": answer.eyepiece[0],
        **_loading_data(loading),
        "shortfall_code": None if answer.shortfall is None else answer.shortfall.kind.value,
        "position_from": position_from_words(),
        "missing_at_end_kg": missing_at_end_kg(loading, head.shaft_start_mm, head.shaft_length_mm),
        "longer_shaft_mm": longer if math.isfinite(longer) else None,
        "tube_balance_from_front_mm": found.over_saddle_mm,
        "tube_slide_mm": found.slide_forward_mm,
        "tube_slide_from": slide_from_words(answer),
        "tube_short_of_slide_mm": found.short_of_slide_mm,
        "tube_stuck_code": None if stuck is None else stuck.value,
        "hour_axis_torque_nm": found.hour_torque_nm,
        "declination_axis_torque_nm": found.declination_torque_nm,
        "weights_sigma_mm": sure.weights_sigma_mm,
        "tube_sigma_mm": sure.tube_sigma_mm,
        "crosswise": {
            "code": answer.crosswise.value,
            "moment_kg_m": found.crosswise_kg_m,
            "torque_nm": found.crosswise_torque_nm,
            "ring_turn_deg": trim.turn_deg,
            "ring_turn_under_deg": trim.turn_under_deg,
            "trim_mass_kg": trim.mass_kg,
            "trim_angle_deg": trim.mass_angle_deg,
            "trim_radius_mm": trim.radius_mm,
        },
        "swaps": [_swap_data(swap) for swap in answer.swaps],
        "other_loadings": [_loading_data(other) for other in found.loadings[1:4]],
        "load": {
            "carried_kg": found.load.carried_kg,
            "limit_kg": found.load.limit_kg,
            "fraction": found.load.fraction,
            "code": answer.load_verdict.value,
        },
        "scale": [_correction_data(fix) for fix in answer.corrections],
        "tipping": tipping_data(answer),
        "order_of_work_codes": [step.value for step in answer.order_of_work],
        "order_of_work": work_words(answer),
        "caution_codes": [caution.value for caution in answer.cautions],
        "cautions": caution_words(answer),
        "assumption_codes": [assumption.value for assumption in answer.assumptions],
        "assumed": assumed_words(answer),
        "guessed": list(answer.kit.guessed),
    }


def _loading_data(loading: Loading) -> LoadingData:
    return {
        "weights": [
            {"mass_kg": m, "position_mm": at, "gap_mm": gap, "thickness_mm": t}
            for m, at, gap, t in zip(
                loading.mass_kg, loading.position_mm, loading.gap_mm, loading.thickness_mm,
                strict=True,
            )
        ],
        "balanced": loading.exact,
        "weights_short_by_nm": loading.leftover_kg_m * STANDARD_GRAVITY_M_S2,
    }  # fmt: skip


def _swap_data(swap: Swap) -> SwapData:
    return {
        "eyepiece": swap.eyepiece,
        "mass_kg": swap.mass_kg,
        "hour_axis_torque_nm": swap.hour_torque_nm,
        "declination_axis_torque_nm": swap.declination_torque_nm,
        "tube_slide_mm": swap.slide_forward_mm,
        "weights_outward_mm": swap.weights_outward_mm,
    }


def _correction_data(fix: Correction) -> CorrectionData:
    return {
        "axis": fix.reading.axis.value,
        "end": fix.reading.end.value,
        "reading_kg": fix.reading.reading_kg,
        "distance_mm": fix.reading.distance_mm,
        "torque_nm": fix.reading.torque_nm,
        "weights_outward_mm": fix.weights_outward_mm,
        "tube_slide_mm": fix.slide_forward_mm,
        "sigma_mm": fix.sigma_mm,
        "trim_mass_kg": fix.trim_kg,
        "trim_angle_deg": fix.trim_angle_deg,
        "best": _loading_data(fix.loadings[0]) if fix.loadings else None,
    }
