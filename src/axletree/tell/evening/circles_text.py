"""In which words does a stop tell what the circles show, this mount's own or a perfect one's?"""

from __future__ import annotations

from axletree.axis.state import State
from axletree.axis.unknowns import LOST_CIRCLE_ARCMIN
from axletree.tell.evening.document import PlaceFacts
from axletree.tell.shared.words import degrees, hours_minutes

SET_IT = "unknown, set it on a star"


def circles_words(place: PlaceFacts, places: int | None = None) -> str:
    """'hour angle +1h 05m ± 2m, declination +38.8° ± 0.4°', the error where it is known.

    `places` after the point of a declination; None: as they are usually written.
    """
    hour = hours_minutes(place.hour_circle_h, signed=True)
    shown = place.declination_circle_deg
    declination = (
        degrees(shown, signed=True) if places is None else degrees(shown, places, signed=True)
    )
    hour_min, declination_deg = place.hour_circle_sigma_min, place.declination_circle_sigma_deg
    if hour_min is not None:
        error = f"{hour_min:.0f}m" if hour_min >= 1.0 else f"{hour_min:.1f}m"
        hour = SET_IT if hour_min * 15.0 > LOST_CIRCLE_ARCMIN else f"{hour} ± {error}"
    if declination_deg is not None:
        error = degrees(declination_deg, 2 if declination_deg < 0.1 else 1)
        lost = declination_deg * 60.0 > LOST_CIRCLE_ARCMIN
        declination = SET_IT if lost else f"{declination} ± {error}"
    return f"hour angle {hour}, declination {declination}"


def own_circles_words(state: State) -> str:
    """Whose circles the sheet tells, and by which evening's notes; an assumption of the sheet."""
    since = state.stands_since
    stands = "" if since is None else f", the mount standing where it stood on {since}"
    return (
        "circles as this mount's own show, ± one standard deviation without your reading of them, "
        f"by the notes of the evening of {state.evening}{stands}"
    )
