"""Which methods lead to the pole's direction at this moment?"""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from axletree.app.answers.common import OnDesk, moment_of
from axletree.ground.north.landmark import typed_landmark
from axletree.stages.set_up.north import NorthRequest, north
from axletree.tell.north.data import north_data

router = APIRouter(prefix="/answer")
LONGEST_PLACE, LONGEST_NAME = 200, 60


@router.get("/north")
def north_page(
    desk: OnDesk,
    at: str | None = None,
    landmark: str = "",
    landmark_name: str = "",
) -> Response:
    """Every method at the moment, with a landmark if one is given."""
    mark = None
    if landmark.strip():
        mark = typed_landmark(landmark[:LONGEST_PLACE], landmark_name[:LONGEST_NAME] or None)
    request = NorthRequest(moment_of(desk, at), mark, kit_folder=desk.folder)
    return JSONResponse(north_data(north(desk.kit, request)))
