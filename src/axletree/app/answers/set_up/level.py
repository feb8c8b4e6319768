"""Which leg, for the bubble as the page shows it?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk
from axletree.stages.set_up.level import BubbleReading, InclineReading, LevelRequest, level
from axletree.tell.level.data import level_data
from axletree.tell.level.text import page_words

router = APIRouter(prefix="/answer")


@router.get("/level")
def level_page(
    desk: OnDesk,
    divisions: float = 0.0,
    towards: float = 0.0,
    rim: bool = False,
    along: float | None = None,
    across: float | None = None,
    shorten: bool = False,
) -> dict[str, Any]:
    """The legs for a bubble, or for an inclinometer laid along (to the pole) and across."""
    if along is not None or across is not None:
        inclines = (InclineReading(0.0, along or 0.0), InclineReading(90.0, across or 0.0))
        request = LevelRequest(inclines=inclines, shorten=shorten)
    else:
        bubble = BubbleReading(None if rim else divisions, towards)
        request = LevelRequest(bubble, shorten=shorten)
    found = level(desk.kit, request)
    return {
        **level_data(found),
        "words": page_words(found),
        "leg_directions_deg": found.tripod.leg_directions_deg,
        "rim_divisions": found.tripod.bubble_edge_divisions,
        "north": desk.kit.site.north,
        "units": found.units,
    }
