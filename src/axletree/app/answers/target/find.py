"""How does an object get into the eyepiece, step by step, and what will the eye see there?"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query

from axletree.app.answers.common import OnDesk, moment_of
from axletree.app.answers.target.point import own_table
from axletree.app.mount_notes import state_on
from axletree.logbook.found import learned_finding
from axletree.logbook.own import logbook_to_learn_from
from axletree.stages.target.find import FindRequest, find_object
from axletree.tell.find.data import find_data
from axletree.tell.find.page_data import find_page_data

router = APIRouter(prefix="/answer")


@router.get("/find")
def find_page(
    desk: OnDesk,
    object: Annotated[str, Query(min_length=1, max_length=80)],
    at: str | None = None,
    start: Annotated[str | None, Query(alias="from", min_length=1, max_length=80)] = None,
    side: Literal["east", "west"] | None = None,
) -> dict[str, Any]:
    """All ways to an object on arrival at a moment, with what the page shows besides."""
    moment = moment_of(desk, at)
    state = state_on(desk, moment)
    request = FindRequest(
        object, moment, start=start, side=side, state=state,
        table=own_table(desk, state, moment), kit_folder=desk.folder,
        learned=learned_finding(desk.kit, logbook_to_learn_from(demo=desk.demo)),
    )  # fmt: skip
    found = find_object(desk.kit, request)
    return {**find_data(found), "page": find_page_data(found)}
