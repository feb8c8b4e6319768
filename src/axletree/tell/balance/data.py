"""What does a program get to know about balance?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from axletree.mount.balance.positions import STANDARD_GRAVITY_M_S2
from axletree.mount.balance.scale_reading import Correction
from axletree.mount.balance.weights import Loading, longer_shaft_mm, missing_at_end_kg
from axletree.mount.steady.balanced import BalanceReport
from axletree.tell.balance.stand_text import stand_data
from axletree.tell.balance.text import ORDER_OF_WORK, cautions

POSITION_FROM = "middle of the weight from the crossing of the axes; gap_mm from the shaft's start"


def balance_data(report: BalanceReport) -> dict[str, Any]:
    """The same for programs; every key carries its unit."""
    balance, ways, sure = report.balance, report.trim, report.certainty
    head = report.kit.mount.head
    loading = balance.loading
    longer = longer_shaft_mm(loading)
    data: dict[str, Any] = {
        "kit": report.kit.name,
        "eyepiece": report.eyepiece[0],
        **_loading_data(loading),
        "position_from": POSITION_FROM,
        "missing_at_end_kg": missing_at_end_kg(loading, head.shaft_start_mm, head.shaft_length_mm),
        "longer_shaft_mm": longer if longer != float("inf") else None,
        "tube_balance_from_front_mm": balance.over_saddle_mm,
        "tube_slide_mm": balance.slide_forward_mm,
        "tube_slide_from": "bare tube's balance point" if report.present_mm is None else "now",
        "tube_short_of_slide_mm": balance.short_of_slide_mm,
        "hour_axis_torque_nm": balance.hour_torque_nm,
        "declination_axis_torque_nm": balance.declination_torque_nm,
        "weights_sigma_mm": sure.weights_sigma_mm,
        "tube_sigma_mm": sure.tube_sigma_mm,
        "crosswise": {
            "moment_kg_m": balance.crosswise_kg_m,
            "torque_nm": abs(balance.crosswise_kg_m) * STANDARD_GRAVITY_M_S2,
            "ring_turn_deg": ways.turn_deg,
            "ring_turn_under_deg": ways.turn_under_deg,
            "trim_mass_kg": ways.mass_kg,
            "trim_angle_deg": ways.mass_angle_deg,
            "trim_radius_mm": ways.radius_mm,
        },
        "swaps": [
            {
                "eyepiece": s.eyepiece,
                "mass_kg": s.mass_kg,
                "hour_axis_torque_nm": s.hour_torque_nm,
                "declination_axis_torque_nm": s.declination_torque_nm,
                "tube_slide_mm": s.slide_forward_mm,
                "weights_outward_mm": s.weights_outward_mm,
            }
            for s in report.swaps
        ],
        "other_loadings": [_loading_data(x) for x in balance.loadings[1:4]],
        "load": {
            "carried_kg": balance.load.carried_kg,
            "limit_kg": balance.load.limit_kg,
            "fraction": balance.load.fraction,
        },
        "scale": [_correction_data(c) for c in report.corrections],
        **stand_data(report),
        "order_of_work": list(ORDER_OF_WORK),
        "cautions": cautions(report),
        "guessed": list(report.kit.guessed),
    }
    return data


def _loading_data(loading: Loading) -> Mapping[str, Any]:
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


def _correction_data(fix: Correction) -> dict[str, Any]:
    return {
        "axis": fix.reading.axis,
        "end": fix.reading.end,
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
