"""Is the machine that runs the app still there?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

router = APIRouter(prefix="/answer")


@router.get("/here")
def here() -> dict[str, Any]:
    """Nothing but that."""
    return {}
