"""What does a program get to know about tipping? Keys carry units."""

from __future__ import annotations

import math
from typing import NotRequired

from typing_extensions import TypedDict

from axletree.mount.steady.steadier import Remedy, RemedyKind
from axletree.mount.steady.tipping import LEANING_CHILD_N, Tipping, TippingPose
from axletree.stages.set_up.balance import BalanceAnswer
from axletree.tell.balance.stand_text import push_wanted_source


class PoseData(TypedDict):
    """The pose in which the rig stands worst."""

    side: str
    hour_angle_h: float
    declination_deg: float
    eye_height_mm: float


class StandData(TypedDict):
    """How firmly a rig stands; no push or pull where none tips it."""

    mass_kg: float
    tray_kg: float
    margin_mm: float
    margin_pose: PoseData
    lean_deg: float
    push_n: float | None
    push_azimuth_deg: float
    push_pose: PoseData
    pull_down_n: float | None


class HalfBuiltData(TypedDict):
    """The worst moment while the rig is put up."""

    part: str
    margin_mm: float
    mass_kg: float


class RemedyData(TypedDict):
    """One thing to change, in kilograms or millimetres, and the push that then tips the rig."""

    kind: str
    amount_kg: NotRequired[float]
    amount_mm: NotRequired[float]
    push_n: float | None
    enough: bool
    drop_mm: float


class TippingData(StandData):
    """How the whole rig stands, what it would take, and what helps."""

    push_sigma_n: float
    child_tips_chance: float
    margin_sigma_mm: float
    push_empty_tray_n: float | None
    push_wanted_n: float
    push_wanted_source: str
    too_easy: bool
    leaning_with_slope: StandData | None
    half_built: list[HalfBuiltData]
    remedies: list[RemedyData]


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def tipping_data(answer: BalanceAnswer) -> TippingData:
    """The tipping part of the JSON answer."""
    leaning = answer.leaning
    return {
        **_stand_data(answer.standing),
        "push_sigma_n": answer.push_sigma_n,
        "child_tips_chance": round(answer.child_tips_chance, 4),
        "margin_sigma_mm": answer.margin_sigma_mm,
        "push_empty_tray_n": _finite(answer.empty_tray.push_n),
        "push_wanted_n": LEANING_CHILD_N,
        "push_wanted_source": push_wanted_source(),
        "too_easy": answer.standing.too_easy,
        "leaning_with_slope": None if leaning is None else _stand_data(leaning),
        "half_built": [
            {"part": half.part.value, "margin_mm": half.margin_mm, "mass_kg": half.mass_kg}
            for half in answer.half_built
        ],
        "remedies": [_remedy_data(remedy) for remedy in answer.remedies],
    }


def _stand_data(found: Tipping) -> StandData:
    return {
        "mass_kg": found.mass_kg,
        "tray_kg": found.tray_kg,
        "margin_mm": found.margin_mm,
        "margin_pose": _pose_data(found.margin_pose),
        "lean_deg": found.lean_deg,
        "push_n": _finite(found.push_n),
        "push_azimuth_deg": found.push_azimuth_deg,
        "push_pose": _pose_data(found.push_pose),
        "pull_down_n": _finite(found.pull_down_n),
    }


def _pose_data(pose: TippingPose) -> PoseData:
    return {
        "side": pose.side,
        "hour_angle_h": pose.hour_angle_h,
        "declination_deg": pose.declination_deg,
        "eye_height_mm": pose.eye_height_mm,
    }


def _remedy_data(remedy: Remedy) -> RemedyData:
    found: RemedyData = {
        "kind": remedy.kind.value,
        "push_n": _finite(remedy.push_n),
        "enough": remedy.enough,
        "drop_mm": remedy.drop_mm,
    }
    if remedy.kind is RemedyKind.TRAY:
        found["amount_kg"] = remedy.amount
    else:
        found["amount_mm"] = remedy.amount
    return found
