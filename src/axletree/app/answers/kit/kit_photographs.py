"""Which lengths do marks on pictures tell? The pictures themselves stay in the browser."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import BaseModel, Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.kit.kit import LARGEST_TEXT, draft_kit
from axletree.mount.photographed.marks import pictures_of
from axletree.mount.photographed.picture import MOST_PICTURES
from axletree.mount.photographed.places import PLACES
from axletree.mount.rig.build import build_rig
from axletree.stages.kit.photographs import photographs, with_photographed
from axletree.tell.photographs.data import kit_photographs_data
from axletree.tell.photographs.drawing import places_view
from axletree.tell.photographs.text import PLACES as PLACE_WORDS
from axletree.tell.photographs.text import SET_UP, photographs_text

router = APIRouter(prefix="/answer/kit/photographs")


class MarkedLength(BaseModel):
    """A length between two places that a tape told."""

    start: Annotated[str, Field(max_length=40)]
    end: Annotated[str, Field(max_length=40)]
    length_mm: float
    error_mm: float = 2.0


class MarksOnPicture(BaseModel):
    """Marks on one picture, in its pixels."""

    width_px: Annotated[int, Field(ge=1, le=100_000)]
    height_px: Annotated[int, Field(ge=1, le=100_000)]
    marks: Annotated[dict[str, tuple[float, float]], Field(max_length=40)]
    mark_px: Annotated[float, Field(gt=0, le=1000, allow_inf_nan=False)] | None = None
    focal_35mm: float | None = None
    known: MarkedLength | None = None


class MarkedDraft(BaseModel):
    """A kit's text and the marks on pictures of its rig."""

    text: Annotated[str, Field(max_length=LARGEST_TEXT)]
    pictures: Annotated[list[MarksOnPicture], Field(min_length=1, max_length=MOST_PICTURES)]


@router.get("/places")
def places(desk: OnDesk) -> dict[str, Any]:
    """The places by number, where they are, and how the rig is to stand."""
    rig, latitude = build_rig(desk.kit), desk.kit.site.latitude_deg
    return {
        "set_up": SET_UP,
        "places": [{"code": one.value, "words": PLACE_WORDS[one]} for one in PLACES],
        "drawings": [places_view(rig, latitude, behind=behind) for behind in (False, True)],
    }


@router.post("")
def solved(desk: OnDesk, given: MarkedDraft) -> dict[str, Any]:
    """What the marks tell, and the text with it written in; nothing is kept."""
    found = photographs(draft_kit(given.text), pictures_of([_raw(one) for one in given.pictures]))
    today = datetime.now(desk.kit.site.zone).date()
    text, written = with_photographed(given.text, found, today)
    return {
        **kit_photographs_data(found, written),
        "text": text,
        "lines": photographs_text(found).split("\n"),
    }


def _raw(one: MarksOnPicture) -> dict[str, Any]:
    """As the file of the command has it."""
    raw: dict[str, Any] = {
        "width_px": one.width_px, "height_px": one.height_px,
        "marks": {name: list(at) for name, at in one.marks.items()},
    }  # fmt: skip
    if one.mark_px is not None:
        raw["mark_px"] = one.mark_px
    if one.focal_35mm is not None:
        raw["focal_35mm"] = one.focal_35mm
    if one.known is not None:
        raw["known"] = {
            "from": one.known.start, "to": one.known.end, "length_mm": one.known.length_mm,
            "error_mm": one.known.error_mm,
        }  # fmt: skip
    return raw
