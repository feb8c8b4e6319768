"""Where do weights and tube go, and what happens when they are somewhere else?"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, ask, lead_words, plain
from axletree.app.answers.target.rig import axes_of
from axletree.app.state import Desk, Few
from axletree.kit.errors import AxletreeError
from axletree.mount.balance.weights import Loading

router = APIRouter(prefix="/answer")
MOST_WEIGHTS = 12
MOST_BALANCES = 12


@router.get("/balance")
def balance(desk: OnDesk, eyepiece: Annotated[str, Query(max_length=60)] = "") -> dict[str, Any]:
    """`axletree balance` with the sizes that the drawing needs."""
    made: Few = desk.kept("balances", lambda: Few(MOST_BALANCES))
    found: dict[str, Any] = made.get(eyepiece, lambda: _balance(desk, eyepiece))
    return found


def _balance(desk: Desk, eyepiece: str) -> dict[str, Any]:
    words = [f"--eyepiece={eyepiece}"] if eyepiece else []
    answer = ask(desk, "balance", words)
    kit = desk.kit
    head, tube = kit.mount.head, kit.tube
    data: dict[str, Any] = plain(answer.data)
    return {
        **data,
        "headline": lead_words(answer),
        "units": kit.habits.units,
        "owned": [
            {"mass_kg": w.mass_kg, "thickness_mm": w.thickness_mm, "radius_mm": w.radius_mm}
            for w in kit.mount.weights
            for _ in range(w.count)
        ][:MOST_WEIGHTS],
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
    from axletree.mount.rig.build import build_rig
    from axletree.mount.steady.swing import FRICTION_NM, Freed, freed_declination, freed_hour

    kit = desk.kit
    labels = [e.label for e in kit.eyepieces]
    rig = build_rig(
        kit,
        eyepiece=labels.index(eyepiece) if eyepiece in labels else 0,
        loading=_loading(desk, weights),
        clamp_from_front_mm=over_mm,
    )

    on_shaft = sum(_loading(desk, weights).mass_kg)

    def told(freed: Freed) -> dict[str, Any]:
        return {
            "torque_nm": freed.torque_nm,
            "along_kg_m": freed.along_kg_m,
            "across_kg_m": freed.across_kg_m,
            "inertia_kg_m2": freed.inertia_kg_m2,
            "gravity_m_s2": freed.gravity_m_s2,
            "stays": freed.stays,
        }

    hour, declination = freed_hour(rig, axes_of(desk).altitude_deg), freed_declination(rig)
    return {
        "hour": told(hour),
        "declination": told(declination),
        "weights_outward_mm": hour.along_kg_m * 1000 / on_shaft if on_shaft else None,
        "tube_to_the_back_mm": declination.along_kg_m * 1000 / declination.mass_kg,
        "friction_nm": FRICTION_NM,
    }


def _loading(desk: Desk, words: str) -> Loading:
    """The weights that the page has put on the shaft."""
    head = desk.kit.mount.head
    owned = [w for w in desk.kit.mount.weights for _ in range(w.count)]
    mass, thick, at, gap = [], [], [], []
    for part in (p for p in words.split(",") if p):
        try:
            number, place = part.split("@")
            weight, where = owned[int(number)], float(place)
        except (ValueError, IndexError):
            raise AxletreeError(f"'{part[:20]}' is no weight of this kit on its shaft") from None
        if not 0 <= where <= head.shaft_length_mm - weight.thickness_mm + 1e-6:
            raise AxletreeError(f"{where:.0f} mm lies outside the shaft")
        mass.append(weight.mass_kg)
        thick.append(weight.thickness_mm)
        gap.append(where)
        at.append(head.shaft_start_mm + where + weight.thickness_mm / 2)
    return Loading(tuple(mass), tuple(thick), tuple(at), tuple(gap), 0.0, 0.0, 0.0)
