"""Which leg, for the bubble as the page shows it?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk, ask, lead_words

router = APIRouter(prefix="/answer")


@router.get("/level")
def level(
    desk: OnDesk,
    divisions: float = 0.0,
    towards: float = 0.0,
    rim: bool = False,
    along: float | None = None,
    across: float | None = None,
    shorten: bool = False,
) -> dict[str, Any]:
    """`axletree level` for a bubble, or for an inclinometer laid along (to the pole) and across."""
    words: list[object] = ["--shorten"] if shorten else []
    if along is not None or across is not None:
        words += ["--incline", 0, f"{along or 0.0:g}", "--incline", 90, f"{across or 0.0:g}"]
    else:
        words += ["--bubble", "rim" if rim else f"{divisions:g}", f"{towards:g}"]
    answer = ask(desk, "level", words)
    tripod = desk.kit.mount.tripod
    return {
        **answer.data,
        "headline": lead_words(answer),
        "leg_directions_deg": tripod.leg_directions_deg,
        "rim_divisions": tripod.bubble_edge_divisions,
        "pole": "north" if desk.kit.site.north else "south",
        "units": desk.kit.habits.units,
    }
