"""Which words stand on the drawing of the globe and the mounts upon it?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import Axes


@dataclass(frozen=True)
class GlobeWords:
    """What stands on and around the globe."""

    title: str
    description: str
    head: str
    below_head: str
    equator: str
    north_pole: str
    south_pole: str
    north: str
    south: str


def globe_words() -> GlobeWords:
    """All words of the drawing but those of each rig."""
    return GlobeWords(
        title="The mount's axis is parallel to the Earth's",
        description="The globe with a mount at each latitude; each rig as its own ground sees it.",
        head="One axis, parallel to the Earth's",
        below_head="The pole stands as high as the latitude. Right: each rig from the east.",
        equator="equator",
        north_pole="to the north celestial pole",
        south_pole="to the south celestial pole",
        north="north",
        south="south",
    )


def latitude_words(latitude_deg: float) -> str:
    """The angle at the globe's middle, and of the axis over the ground."""
    return f"{abs(latitude_deg):.1f}°"


def axis_words(axes: Axes) -> str:
    """How high the axis of one rig points."""
    return f"{axes.altitude_deg:.1f}°"


def rig_words(name: str, axes: Axes) -> str:
    """Where the axis of one rig points."""
    pole = "north" if axes.sense > 0 else "south"
    return f"{name}: the axis points {pole}"
