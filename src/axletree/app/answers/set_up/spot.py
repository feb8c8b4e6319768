"""Which place of the yard is the best, as the page has drawn it?"""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Any

import tomlkit
from fastapi import APIRouter
from pydantic import BaseModel, Field

from axletree.app.answers.common import OnDesk
from axletree.app.state import Desk
from axletree.ground.spot.directions import SpotCriteria
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.site import Yard
from axletree.sky.time.parse import date_from, tonight
from axletree.stages.set_up.spot import SpotRequest, spot
from axletree.tell.spot.data import spot_data
from axletree.tell.spot.grid import spot_grid
from axletree.tell.spot.skyline_drawing import spot_skyline
from axletree.tell.spot.text import FROM_THERE, page_words

router = APIRouter()
MOST_SHAPES = 120
MOST_CORNERS = 600
FINEST_M = 0.2  # the page asks for 0.25; anybody who looks may ask, and finer takes many seconds


class SpotQuery(BaseModel):
    """A yard as drawn (None: the kit's), a night, and how fine to look."""

    yard: Yard | None = None
    date: Annotated[str, Field(max_length=20)] | None = None
    spacing_m: Annotated[float, Field(ge=FINEST_M, le=10)] = 0.25
    pole_needed: bool = True


class KeptYard(BaseModel):
    """A yard to keep in the kit that has this revision."""

    yard: Yard
    revision: int


@router.get("/answer/yard")
def yard(desk: OnDesk) -> dict[str, Any]:
    """The kit's yard plan, or one to begin with, as the kit file writes it."""
    kept = desk.kit.yard
    begin = Yard(area_m=((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)))
    return {
        "yard": (kept or begin).model_dump(mode="json", by_alias=True),
        "planned": kept is not None,
        "revision": desk.revision,
        "units": desk.kit.habits.units,
        "foot_radius_m": desk.kit.mount.tripod.foot_radius_mm / 1000,
        "pole": "north" if desk.kit.site.north else "south",
    }


@router.post("/answer/spot")
def spot_page(desk: OnDesk, asked: SpotQuery) -> dict[str, Any]:
    """The yard judged, with every place of the grid."""
    kit = desk.kit
    if asked.yard is not None:
        _few(asked.yard)
        kit = kit.model_copy(update={"yard": asked.yard})
    criteria = SpotCriteria(pole_needed=asked.pole_needed)
    evening = _evening(desk, asked.date)
    request = SpotRequest(evening, criteria, asked.spacing_m, kit_folder=desk.folder)
    found = spot(kit, request)
    return {
        **spot_data(found),
        "grid": spot_grid(found),
        "words": page_words(found),
        "drawing": spot_skyline(found, FROM_THERE),
        "date": evening.isoformat(),
    }


def _evening(desk: Desk, words: str | None) -> date:
    return tonight(datetime.now(desk.kit.site.zone)) if words is None else date_from(words)


def _few(yard: Yard) -> None:
    shapes = (yard.posts, yard.walls, yard.trees, yard.roofs, yard.views)
    count = sum(len(kind) for kind in shapes)
    if count > MOST_SHAPES:
        raise AxletreeError(f"{count} obstacles are more than a page can draw: {MOST_SHAPES} do")
    lines = [yard.area_m, *yard.keep_out_m, *(w.points_m for w in yard.walls),
             *(r.corners_m for r in yard.roofs)]  # fmt: skip
    corners = sum(len(line) for line in lines)
    if corners > MOST_CORNERS:
        raise AxletreeError(f"{corners} corners are more than a page can draw: {MOST_CORNERS} do")


@router.put("/kit/yard")
def keep_yard(desk: OnDesk, kept: KeptYard) -> dict[str, Any]:
    """Write the yard into the kit."""
    _few(kept.yard)
    problems = desk.keep_kit(_with_yard(desk, kept.yard), kept.revision)
    if problems:
        raise AxletreeError(f"not kept: {problems[0]}")
    return {"revision": desk.revision}


def _with_yard(desk: Desk, yard: Yard) -> str:
    """The kit's text with this yard in it."""
    document = tomlkit.parse(desk.text)
    plain = yard.model_dump(mode="json", by_alias=True, exclude_none=True, exclude_defaults=True)
    table = tomlkit.table()
    shapes = {"post", "wall", "tree", "roof", "view"}
    for key, value in plain.items():
        if key not in shapes:
            table[key] = value
    for key in sorted(shapes & plain.keys()):
        entries = tomlkit.aot()
        for entry in plain[key]:
            entries.append(tomlkit.item(entry))
        table[key] = entries
    document["yard"] = table
    return tomlkit.dumps(document)
