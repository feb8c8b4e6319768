"""What is to be measured first, drawn, and how is a number written into the kit's text?"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from fastapi import APIRouter
from pydantic import BaseModel, Field

from axletree.app.answers.common import OnDesk
from axletree.app.answers.kit.kit import LARGEST_TEXT, draft_kit
from axletree.kit.kit import Kit
from axletree.kit.writing.units import unit_of
from axletree.mount.dimensions.names import key_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.stages.kit.measure import MeasureRequest, measure, with_typed
from axletree.tell.kit.dimension_text import dimension_words
from axletree.tell.kit.measure_text import brings_words, so_far_words
from axletree.tell.kit.questions_text import unit_words
from axletree.tell.kit.tape_drawing import tape_view
from axletree.tell.kit.tape_text import tape_words

router = APIRouter(prefix="/answer/kit")


class MeasuredDraft(BaseModel):
    """A kit's text, and what was typed for one of its dimensions ('' for none)."""

    text: Annotated[str, Field(max_length=LARGEST_TEXT)]
    units: Literal["metric", "us"] = "metric"
    key: Annotated[str, Field(max_length=80)] = ""
    typed: Annotated[str, Field(max_length=80)] = ""


@router.post("/measure")
def measured(desk: OnDesk, given: MeasuredDraft) -> dict[str, Any]:
    """The text with the number in it, and what is to be measured first then; nothing is kept."""
    text = given.text
    if given.key:
        today = datetime.now(desk.kit.site.zone).date()
        text = with_typed(text, given.key, given.typed, given.units, today)
    return {"text": text, "first": _first(draft_kit(text), given.units)}


def _first(kit: Kit, units: str) -> list[dict[str, Any]]:
    rig, axes = build_rig(kit), align(kit.site.latitude_deg)
    return [
        {
            "key": one.first.name,
            "words": dimension_words(one.first.name),
            "brings": brings_words(one.first),
            "so_far": so_far_words(one, units),
            "tape": tape_words(one.first.name),
            "unit": unit_words(unit_of(key_of(one.first.name), units)),
            "drawing": tape_view(kit, rig, axes, one.first.name),
        }
        for one in measure(kit, MeasureRequest()).dimensions
    ]
