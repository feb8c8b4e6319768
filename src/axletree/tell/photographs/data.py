"""What does a program get to know about what pictures of the rig say? Keys carry units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from typing_extensions import TypedDict

from axletree.stages.kit.photographs import PhotographsAnswer
from axletree.tell.learned.data import DimensionLearnedData, dimension_data
from axletree.tell.learned.text import value_words
from axletree.tell.photographs.text import mark_words


class WrongMarkData(TypedDict):
    """A mark far from where all else has its place; pictures count from 1."""

    picture: int
    place_code: str
    off_px: float
    sigmas: float
    words: str


class KitPhotographsData(TypedDict):
    """The answer of `axletree kit photographs`; `told` dimensions may be written, `open` not."""

    version: Literal[1]
    pictures: int
    told: list[DimensionLearnedData]
    open: list[str]
    marks: list[WrongMarkData]
    rms_px: float
    written: list[str]


def kit_photographs_data(
    answer: PhotographsAnswer, written: Sequence[str] = ()
) -> KitPhotographsData:
    """What pictures tell, for programs."""
    units = answer.kit.habits.units
    return {
        "version": 1,
        "pictures": len(answer.pictures),
        "told": [dimension_data(one, units) for one in answer.told],
        "open": [value_words(one, units) for one in answer.open],
        "marks": [
            {
                "picture": mark.picture + 1,
                "place_code": mark.place.value,
                "off_px": round(mark.off_px, 1),
                "sigmas": round(mark.sigmas, 1),
                "words": mark_words(mark),
            }
            for mark in answer.marks
        ],
        "rms_px": round(answer.rms_px, 2),
        "written": list(written),
    }
