"""What is shown when clouds come?"""

from __future__ import annotations

from axletree.evening.seeing.grades import Visibility, shows_through_thin_cloud
from axletree.tell.evening.document import Evening
from axletree.tell.shared.words import one_and_another


def plan_b_words(evening: Evening) -> str:
    """Plan B in two sentences; '' where there are no stops."""
    if not evening.stops:
        return ""
    bright = [
        stop.name
        for stop in evening.stops
        if stop.visibility_code is not None
        and shows_through_thin_cloud(stop.kind, Visibility(stop.visibility_code))
    ]
    thin = (
        f"Thin cloud: {one_and_another(bright)} still {'show' if len(bright) > 1 else 'shows'}."
        if bright
        else "Thin cloud: the brightest stars in reach, for their colours."
    )
    return (
        f"{thin} Covered: the tube and the eyepieces in the hand for a quarter of an hour, the sky "
        "through gaps; then take down."
    )
