"""Where does the pole star go, and what do the bolts have to do?"""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk, ask, lead_words

router = APIRouter(prefix="/answer")


@router.get("/pole")
def pole(
    desk: OnDesk,
    at: str | None = None,
    scale: float | None = None,
    azimuth: float | None = None,
) -> dict[str, Any]:
    """`axletree pole`; `scale` is what the altitude scale shows (degrees), `azimuth` how far east
    of the pole the axis points along the horizon (arcminutes)."""
    words: list[object] = [f"--at={at}"] if at else []
    if scale is not None:
        words.append(f"--scale-reading={scale:g}")
    if azimuth is not None:
        words.append(f"--azimuth-error-arcmin={azimuth:g}")
    answer = ask(desk, "pole", words)
    bolts = desk.kit.mount.bolts
    moved = scale is not None or azimuth is not None
    return {
        **answer.data,
        "headline": lead_words(answer, 2 if moved else 1),
        "moves_words": lead_words(answer, 1).split(" 1. ")[0] if moved else "",
        "scale_step_deg": bolts.latitude_scale_step_deg,
    }
