"""What is shown when clouds come?"""

from __future__ import annotations

from axletree.evening.seeing.visibility import Visibility
from axletree.tell.evening.document import Evening

# Thin cloud takes about two magnitudes (ours): what shows at first glance still shows then.
_STILL_SHOWS = Visibility.FIRST_GLANCE.value
# Glows lose their contrast before they lose their light.
_NO_GLOW = ("moon", "planet", "double star", "star", "open cluster")


def plan_b_words(evening: Evening) -> str:
    """Plan B in two sentences; '' where there are no stops."""
    if not evening.stops:
        return ""
    bright = [
        stop.name
        for stop in evening.stops
        if stop.visibility_code == _STILL_SHOWS and stop.kind in _NO_GLOW
    ]
    thin = (
        f"Thin cloud: {_all(bright)} still {'show' if len(bright) > 1 else 'shows'}."
        if bright
        else "Thin cloud: the brightest stars in reach, for their colours."
    )
    return (
        f"{thin} Covered: the tube and the eyepieces in the hand for a quarter of an hour, the sky "
        "through gaps; then take down."
    )


def _all(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
