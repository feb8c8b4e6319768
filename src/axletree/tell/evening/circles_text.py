"""In which words does the sheet tell whose circles it gives?"""

from __future__ import annotations

from axletree.axis.model import PointingModel
from axletree.axis.state import State, axis_state
from axletree.tell.shared.words import day_words


def circles_assumed(state: State | None, pointing: PointingModel | None) -> tuple[str, ...]:
    """Whose circles the sheet tells, and by what; assumptions of the sheet."""
    state = axis_state(state)
    if state is not None:
        return (own_circles_words(state),)
    return () if pointing is None else (circles_as_set_words(pointing),)


def own_circles_words(state: State) -> str:
    """The same where the person noted something."""
    since = state.stands_since
    stands = "" if since is None else f", the mount standing where it stood on {day_words(since)}"
    return (
        "circles as this mount's own show, ± one standard deviation without your reading of them, "
        f"by the notes of the evening of {day_words(state.evening)}{stands}"
    )


def circles_as_set_words(pointing: PointingModel) -> str:
    """The same where nobody measured anything."""
    high, east = (f"{sigma / 60.0:.1f}°" for sigma in pointing.sigmas_arcmin[:2])
    return (
        "circles ± one standard deviation without your reading of them, as on a mount that nobody "
        f"measured: the axis set to {high} in height and {east} to the side, circles, tube and "
        "declination axis as such mounts usually have them"
    )
