"""Where do weights and tube go, and what happens when they are somewhere else?"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk
from axletree.app.state import Cache, Desk
from axletree.kit.errors import AxletreeError
from axletree.stages.set_up.balance import BalanceRequest, balance
from axletree.stages.set_up.balance_locks import (
    LocksRequest,
    PlacedWeight,
    balance_locks,
    owned_weights,
)
from axletree.tell.balance.data import balance_data
from axletree.tell.balance.locks_data import locks_data
from axletree.tell.balance.text import headline

router = APIRouter(prefix="/answer")
MOST_WEIGHTS = 12
MOST_BALANCES = 12


@router.get("/balance")
def balance_page(
    desk: OnDesk, eyepiece: Annotated[str, Query(max_length=60)] = ""
) -> dict[str, Any]:
    """The places of weights and tube, with the sizes that the drawing needs."""
    made: Cache = desk.cached("balances", lambda: Cache(MOST_BALANCES))
    found: dict[str, Any] = made.get(eyepiece, lambda: _balance(desk, eyepiece))
    return found


def _balance(desk: Desk, eyepiece: str) -> dict[str, Any]:
    kit = desk.kit
    found = balance(kit, BalanceRequest(eyepiece=eyepiece or None))
    head, tube = kit.mount.head, kit.tube
    return {
        **balance_data(found),
        "headline": headline(found),
        "units": kit.habits.units,
        "owned": [
            {"mass_kg": w.mass_kg, "thickness_mm": w.thickness_mm, "radius_mm": w.radius_mm}
            for w in owned_weights(kit)[:MOST_WEIGHTS]
        ],
        "shaft_start_mm": head.shaft_start_mm,
        "shaft_length_mm": head.shaft_length_mm,
        "saddle_distance_mm": head.saddle_distance_mm,
        "tube_length_mm": tube.length_mm,
        "tube_diameter_mm": tube.diameter_mm,
        "dovetail_height_mm": tube.dovetail_height_mm,
        "dovetail_length_mm": tube.dovetail_length_mm,
        "balance_from_front_mm": tube.balance_from_front_mm,
        "eyepieces": [e.label for e in kit.eyepieces],
    }


@router.get("/balance/now")
def balance_now(
    desk: OnDesk,
    weights: Annotated[str, Query(max_length=200)] = "",
    over_mm: Annotated[float, Query(ge=0, le=20000)] = 0.0,
    eyepiece: Annotated[str, Query(max_length=60)] = "",
) -> dict[str, Any]:
    """Both axes as they would turn: `weights` like '0@195,1@20' (number of the owned weight, gap
    in mm from the shaft's start), `over_mm` from the tube's front to the saddle's middle."""
    request = LocksRequest(
        weights=tuple(_placed(part) for part in weights.split(",") if part),
        front_to_saddle_mm=over_mm,
        eyepiece=eyepiece,
    )
    return {**locks_data(balance_locks(desk.kit, request))}


def _placed(text: str) -> PlacedWeight:
    """One weight that the page has put on the shaft: '0@195'."""
    number, _, gap = text.partition("@")
    try:
        return PlacedWeight(int(number), float(gap))
    except ValueError:
        raise AxletreeError(f"'{text[:20]}' is no weight of this kit on its shaft") from None
