"""How does the rig look: its parts for a picture in space, or a drawing from one side?"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk
from axletree.app.state import Desk
from axletree.mount.rig.kinematics import Axes, align
from axletree.mount.rig.parts import Rig

router = APIRouter(prefix="/answer")
MOST_TOUCHING = 8


def rig_of(desk: Desk) -> Rig:
    """The rig of the kit on the desk, built once."""
    from axletree.mount.rig.build import build_rig

    rig: Rig = desk.cached("rig", lambda: build_rig(desk.kit))
    return rig


def axes_of(desk: Desk) -> Axes:
    """Its axes on the pole."""
    return align(desk.kit.site.latitude_deg)


@router.get("/rig")
def rig(desk: OnDesk) -> dict[str, Any]:
    """Every part of the rig."""
    from axletree.tell.shared.rig_data import rig_data

    return rig_data(rig_of(desk))


@router.get("/rig/side")
def side(
    desk: OnDesk,
    tube_end_h: Annotated[float, Query(ge=-24, le=24)] = 0.0,
    swing_deg: Annotated[float, Query(ge=-360, le=360)] = 0.0,
    view: Annotated[int, Query(ge=0, le=2)] = 0,
    touching: str = "",
    latitude_deg: Annotated[float | None, Query(ge=-90, le=90)] = None,
) -> dict[str, Any]:
    """The rig in one pose from one side, for a browser that can't draw in space."""
    from axletree.tell.shared.rig_side import rig_side

    axes = axes_of(desk) if latitude_deg is None else align(latitude_deg)
    names = touching.split("|")[:MOST_TOUCHING]
    return {"drawing": rig_side(rig_of(desk), axes, tube_end_h, swing_deg, view=view,
                                touching=names)}  # fmt: skip
