"""In which words is told from where the rig is seen in a drawing?"""

from __future__ import annotations

from axletree.tell.shared.rods_drawing import ViewFrom

RIG_SIDE_DESCRIPTION = "To scale; what turns is in brass."


def seen_words(stand: ViewFrom) -> str:
    """'from the east'."""
    return {
        ViewFrom.EAST: "from the east",
        ViewFrom.BEHIND: "from behind, looking to the pole",
        ViewFrom.ABOVE: "from above, north up",
    }[stand]


def rig_side_title(stand: ViewFrom) -> str:
    """The title of a drawing that shows one pose from one side."""
    return f"The rig {seen_words(stand)}"
