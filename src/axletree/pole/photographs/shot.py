"""What is one picture of a run: its light, its time, and about how wide it sees?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Singles
from axletree.sky.time.instants import Instants


@dataclass(frozen=True)
class Shot:
    """A picture of a run: name, light, the middle of its exposure (one instant), and the focal
    length in its pixels as far as it is known before."""

    name: str
    grey: Singles
    middle: Instants
    focal_px: float
    rows_may_be_flipped: bool = False
    exposure_known: bool = True
