"""Where does the pole star go, and what do the bolts have to do?"""

from __future__ import annotations

from typing import Any, Literal

from fastapi import APIRouter

from axletree.app.answers.common import OnDesk, moment_of
from axletree.logbook.own import learned_bolts, logbook_to_learn_from
from axletree.stages.set_up.pole import pole
from axletree.stages.set_up.pole_request import HeadReading, PoleRequest
from axletree.tell.pole.data import pole_data
from axletree.tell.pole.swing_drawing import swing_fields
from axletree.tell.pole.text import page_words

router = APIRouter(prefix="/answer")


@router.get("/pole")
def pole_page(
    desk: OnDesk,
    at: str | None = None,
    scale: float | None = None,
    azimuth: float | None = None,
    through: Literal["tube", "own"] | None = None,
) -> dict[str, Any]:
    """The pole at a moment; `scale` is what the altitude scale shows (degrees), `azimuth` how far
    east of the pole the axis points along the horizon (arcminutes). `through`: look with the tube,
    or with what the mount has; without it as the kit asks for."""
    learned = learned_bolts(desk.kit, logbook_to_learn_from(demo=desk.demo))
    read = scale is not None or azimuth is not None
    found = pole(
        learned.kit,
        PoleRequest(
            at=moment_of(desk, at),
            reading=HeadReading(scale, azimuth) if read else None,
            kit_folder=desk.folder,
            through_tube=None if through is None else through == "tube",
        ),
    )
    return {
        **pole_data(found, learned),
        "words": page_words(found),
        "has_own": desk.kit.mount.polar_scope.kind != "none",
        "swing": swing_fields(found) if found.axis_view.kind == "tube" else [],
    }
