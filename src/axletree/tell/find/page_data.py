"""What does a page that goes through the steps get besides the figures: drawings, and sentences."""

from __future__ import annotations

from collections.abc import Mapping

from typing_extensions import TypedDict

from axletree.find.finding import Finding
from axletree.find.turning.sweep import Sweep
from axletree.find.view import FieldView
from axletree.stages.target.find import FindAnswer
from axletree.stages.target.hop_views import hop_views
from axletree.tell.find.hop_text import (
    hop_end_words,
    hop_picture_turns,
    hop_star_names,
    hop_start_words,
    hop_step_words,
)
from axletree.tell.find.search_text import no_search_words
from axletree.tell.find.text import first_words, no_turns_words
from axletree.tell.find.view_drawing import field_view_svg
from axletree.tell.find.view_text import head_words
from axletree.tell.find.where_text import guide_words
from axletree.tell.point.cautions_text import NEVER_AT_THE_SUN


class DrawnViewData(TypedDict):
    """One instrument's field: what is looked through, and the drawing as SVG text."""

    head: str
    drawing: str


class FindPageData(TypedDict):
    """Drawings by the place they have on the way (None where there is no such instrument; 'hop0'
    is the finder's field at a hop's first star, and so on), whether it is turned much at the end of
    a step of the hop, and the sentences that don't run with
    the clock. `parallel_seconds` from its star to the object, `look_seconds` the first look, after
    which the search begins."""

    driven: bool
    near_sun: str
    first: str
    guides: list[str]
    no_turns: str
    no_search: str
    parallel_seconds: float | None
    look_seconds: float
    hop_start: str
    hop_steps: list[list[str]]
    hop_end: list[str]
    hop_turned: list[bool]
    views: dict[str, DrawnViewData | None]


def find_page_data(answer: FindAnswer) -> FindPageData:
    """What the page shows of the answer besides `find_data`; empty where nothing is to be found."""
    found = answer.finding
    beside = None if found is None else found.parallel
    return {
        "driven": answer.driven,
        "near_sun": "" if answer.refusal is None else NEVER_AT_THE_SUN,
        "first": "" if found is None else first_words(answer),
        "guides": [] if found is None else guide_words(found),
        "no_turns": "" if found is None else no_turns_words(found),
        "no_search": "" if found is None else no_search_words(found),
        "parallel_seconds": None if beside is None else beside.seconds,
        "look_seconds": 0.0 if found is None else _look_seconds(found),
        "hop_start": "" if found is None else hop_start_words(found),
        "hop_steps": hop_step_words(answer),
        "hop_end": [] if found is None else hop_end_words(found),
        "hop_turned": hop_picture_turns(answer),
        "views": {} if found is None else _views(answer, found),
    }


def _look_seconds(found: Finding) -> float:
    searched = found.sweep
    if not isinstance(searched, Sweep):
        return 0.0
    return searched.seconds - sum(leg.seconds for leg in searched.legs)


def _views(answer: FindAnswer, found: Finding) -> dict[str, DrawnViewData | None]:
    views = found.views
    places = {
        "bare_eye": views.bare_eye,
        "finder": views.finder,
        "weakest": views.weakest,
        "planned": views.planned,
    }
    names = {number: words[0] for number, words in found.star_names.items() if words}

    def drawn(view: FieldView | None, named: Mapping[int, str] = names) -> DrawnViewData | None:
        if view is None:
            return None
        svg = field_view_svg(view, answer.thing.name, named, driven=answer.driven)
        return {"head": head_words(view.instrument), "drawing": svg}

    shown = {place: drawn(view) for place, view in places.items()}
    if found.hop is not None:
        seen = hop_views(answer)
        for n, (view, step) in enumerate(zip(seen, found.hop.steps, strict=True)):
            shown[f"hop{n}"] = drawn(view, hop_star_names(found, step))
    return shown
