"""What does the lesson show, and what does its work sheet ask?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from axletree.app.answers.common import OnDesk, moment_of
from axletree.app.answers.target.rig import rig_of
from axletree.app.state import Desk
from axletree.stages.set_up.pole import pole
from axletree.stages.set_up.pole_request import PoleRequest
from axletree.stages.target.teach import teach
from axletree.tell.paper.typeset import Paper
from axletree.tell.pole.swing_drawing import swing_fields
from axletree.tell.teach.data import teach_data

router = APIRouter(prefix="/answer")


@router.get("/teach")
def teach_page(desk: OnDesk, at: str | None = None) -> dict[str, Any]:
    """The site's latitude and two more, the lesson's star and eyepiece, and bright stars as right
    ascension (h), declination, magnitude."""
    return {**teach_data(teach(desk.kit)), "swing": _swing(desk, at)}


def _swing(desk: Desk, at: str | None) -> list[tuple[str, str]]:
    """Drawings of the point that stands still, each with its words; none where it can't be seen."""
    found = pole(desk.kit, PoleRequest(moment_of(desk, at), kit_folder=desk.folder))
    if found.axis_view.kind != "tube":
        if not found.through_tube.possible:
            return []
        found = pole(desk.kit, PoleRequest(found.at, kit_folder=desk.folder, through_tube=True))
    return swing_fields(found)


@router.get("/teach/sheet.pdf")
def work_sheet(desk: OnDesk, paper: Paper = "a4", at: str | None = None) -> Response:
    """A page for pupils and one of answers, with the figures of this place."""
    from axletree.tell.teach.work_sheet import work_sheet_pdf

    pdf = work_sheet_pdf(teach(desk.kit), rig_of(desk), moment_of(desk, at), paper)
    return Response(pdf, media_type="application/pdf")
