"""Which stars turn over the mount that explains itself?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk
from axletree.stages.target.teach import teach
from axletree.tell.teach.data import teach_data

router = APIRouter(prefix="/answer")


@router.get("/teach")
def teach_page(desk: OnDesk) -> dict[str, Any]:
    """The site's latitude, and bright stars as right ascension (h), declination, magnitude."""
    return {**teach_data(teach(desk.kit))}
