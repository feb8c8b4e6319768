"""In which words does the sheet tell whose circles it gives?"""

from __future__ import annotations

from axletree.axis.state import State


def own_circles_words(state: State) -> str:
    """Whose circles the sheet tells, and by which evening's notes; an assumption of the sheet."""
    since = state.stands_since
    stands = "" if since is None else f", the mount standing where it stood on {since}"
    return (
        "circles as this mount's own show, ± one standard deviation without your reading of them, "
        f"by the notes of the evening of {state.evening}{stands}"
    )
