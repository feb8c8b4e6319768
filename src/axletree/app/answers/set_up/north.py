"""Which ways lead to the pole's direction at this moment?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk, ask

router = APIRouter(prefix="/answer")


@router.get("/north")
def north(
    desk: OnDesk,
    at: str | None = None,
    landmark: str = "",
    landmark_name: str = "",
) -> dict[str, Any]:
    """`axletree north`, with a landmark if one is given."""
    words: list[object] = [f"--at={at}"] if at else []
    if landmark.strip():
        words += [f"--landmark={landmark[:200]}", f"--landmark-name={landmark_name[:60] or 'it'}"]
    return dict(ask(desk, "north", words).data)
