"""How is this object kept in view, and how long is there room?"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, ask, plain
from axletree.app.answers.target.point import point_page

router = APIRouter(prefix="/answer")


@router.get("/follow")
def follow(
    desk: OnDesk,
    object: Annotated[str, Query(min_length=1, max_length=80)],
    at: str | None = None,
) -> dict[str, Any]:
    """`axletree follow` for an object, with its room on both sides from `axletree point`."""
    pointed = point_page(desk, object, at)
    if not pointed.get("sides"):
        return {"object": pointed["object"], "sides": None, "words": pointed["words"],
                "cautions": pointed["cautions"]}  # fmt: skip
    words = [*([f"--at={at}"] if at else []), "--", object]
    answer = ask(desk, "follow", words)
    habits = desk.kit.habits
    data: dict[str, Any] = plain(answer.data)
    return {
        **data,
        "sides": pointed["sides"],
        "better_side": pointed["better_side"],
        "reason": pointed["reason"],
        "hour_angle_growth_h_per_s": pointed["hour_angle_growth_h_per_s"],
        "mirrored": pointed["sides"][0]["view_mirrored"],
        "visitors": habits.visitors,
        "seconds_per_visitor": habits.seconds_per_visitor,
    }
