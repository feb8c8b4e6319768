"""How is this object kept in view, and how long is there room?"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, moment_of
from axletree.app.answers.target.point import point_page
from axletree.app.mount_notes import state_on
from axletree.evening.brought.named import object_named
from axletree.stages.target.follow import FollowRequest, follow
from axletree.tell.follow.data import follow_data

router = APIRouter(prefix="/answer")


@router.get("/follow")
def follow_page(
    desk: OnDesk,
    object: Annotated[str, Query(min_length=1, max_length=80)],
    at: str | None = None,
    as_kit: bool = False,
) -> dict[str, Any]:
    """How an object is followed, with its room on both sides; `as_kit`: by a perfect axis."""
    pointed = point_page(desk, object, at, as_kit=as_kit)
    if not pointed.get("sides"):
        return {"object": pointed["object"], "sides": None, "words": pointed["words"],
                "cautions": pointed["cautions"]}  # fmt: skip
    kit, habits = desk.kit, desk.kit.habits
    moment = moment_of(desk, at)
    state = state_on(desk, moment, as_kit=as_kit)
    target = object_named(object, kit, desk.folder, moment)
    found = follow(kit, FollowRequest(target=target, at=moment, state=state))
    return {
        **follow_data(found),
        "sides": pointed["sides"],
        "better_side": pointed["better_side"],
        "eyepiece": pointed["eyepiece"],
        "sayings": pointed["sayings"],
        "reason": pointed["reason"],
        "hour_angle_growth_h_per_s": pointed["hour_angle_growth_h_per_s"],
        "mirrored": pointed["sides"][0]["view_mirrored"],
        "visitors": habits.visitors,
        "seconds_per_visitor": habits.seconds_per_visitor,
    }
