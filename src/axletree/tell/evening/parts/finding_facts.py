"""How is the way to a stop's object written into the document?"""

from __future__ import annotations

from pydantic import Field

from axletree.evening.stops.stop import Stop
from axletree.find.start_star import StartStar
from axletree.tell.evening.parts.document_part import DocumentPart
from axletree.tell.find.forms.hop import HopData, hop_data
from axletree.tell.find.forms.steps import ParallelData, StepsData, parallel_data, steps_data
from axletree.tell.find.forms.view import ViewData, view_data
from axletree.tell.find.forms.where import WhereToLookData, where_data
from axletree.tell.find.stop_text import stop_eyepiece_words, stop_find_words

MOST_STARS = 150  # of a view in the document, the brightest; a small drawing holds no more


class FindingFacts(DocumentPart):
    """How a stop's object is found, there when the stop begins. Chances 0-1, assumed ones.

    Parts are None where there is no such way, or where a plainer one is fair already.
    """

    words: str
    eyepieces: str
    first_code: str | None = Field(description="the way to try first; None: none is fair")
    chance: float | None
    eyepiece: str = Field(description="to find with; the stop's view has the one to look with")
    where_to_look: WhereToLookData
    start_refused_code: str | None = Field(description="why no star serves to begin at")
    steps: StepsData | None
    parallel: ParallelData | None
    hop: HopData | None
    views: tuple[ViewData, ...] = Field(
        description="finder or sight, weakest and planned eyepiece; the brightest 150 stars of each"
    )


def finding_facts(stop: Stop) -> FindingFacts | None:
    """The way of one stop; None where nobody asked for ways."""
    found = stop.finding
    if found is None:
        return None
    views = (found.views.finder, found.views.weakest, found.views.planned)
    start = found.start
    return FindingFacts(
        words=stop_find_words(stop, found),
        eyepieces=stop_eyepiece_words(stop),
        first_code=None if found.first is None else found.first.value,
        chance=found.chance,
        eyepiece=found.views.weakest.instrument.label,
        where_to_look=where_data(found),
        start_refused_code=None if start is None or isinstance(start, StartStar) else start.value,
        steps=steps_data(found),
        parallel=None if found.parallel is None else parallel_data(found.parallel),
        hop=None if found.hop is None else hop_data(found, found.hop),
        views=tuple(_few_stars(view_data(view)) for view in views if view is not None),
    )


def _few_stars(view: ViewData) -> ViewData:
    return {**view, "stars": view["stars"][:MOST_STARS]}
