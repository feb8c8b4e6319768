"""What does a page get to know about axes whose locks are open? Keys carry units."""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.mount.steady.swing import Freed
from axletree.stages.set_up.balance_locks import LocksAnswer


class FreedData(TypedDict):
    """One axis with its lock open, its lever level."""

    torque_nm: float
    along_kg_m: float
    across_kg_m: float
    inertia_kg_m2: float
    gravity_m_s2: float
    stays: bool


class LocksData(TypedDict):
    """Both axes, what would bring them to rest level, and the friction that they have."""

    hour: FreedData
    declination: FreedData
    weights_outward_mm: float | None
    tube_to_the_back_mm: float
    friction_nm: float


def locks_data(answer: LocksAnswer) -> LocksData:
    """The answer for a page."""
    return {
        "hour": _freed_data(answer.hour),
        "declination": _freed_data(answer.declination),
        "weights_outward_mm": answer.weights_outward_mm,
        "tube_to_the_back_mm": answer.tube_to_the_back_mm,
        "friction_nm": answer.friction_nm,
    }


def _freed_data(freed: Freed) -> FreedData:
    return {
        "torque_nm": freed.torque_nm,
        "along_kg_m": freed.along_kg_m,
        "across_kg_m": freed.across_kg_m,
        "inertia_kg_m2": freed.inertia_kg_m2,
        "gravity_m_s2": freed.gravity_m_s2,
        "stays": freed.stays,
    }
