"""In which part of the sky is a picture looked for, and with which stars?"""

from __future__ import annotations

import math

from axletree.kit.frozen import dataclass
from axletree.pole.photographs.lens import field_deg
from axletree.pole.photographs.listed import limit_for, listed_around
from axletree.pole.photographs.matching import DEPTHS, SkyQuads
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

# As many listed stars as this in a picture, on the average, are looked for.
STARS_IN_FIELD = 70.0
# First so near the direction that was said, then in all of the sky.
NEAR_DEG = 8.0
WHOLE_DEG = 90.0
LOWEST_DEG = 2.0


@dataclass(frozen=True)
class Where:
    """Where a picture is looked for: a local direction (3,) and a radius, degrees."""

    direction: Floats
    radius_deg: float


def sky_quads(
    where: Where, size_px: tuple[int, int], focal_px: float, at: Instants, observer: Observer,
    *, below_horizon: bool = False,
) -> SkyQuads:  # fmt: skip
    """The listed stars about a direction and their quads, for pictures of this field."""
    wide, tall = (field_deg(length, focal_px) for length in size_px)
    # The flat picture's own area: what counts is how many stars fall onto it.
    area = min(wide * tall, 12_000.0)
    listed = listed_around(
        where.direction, where.radius_deg + math.hypot(wide, tall) / 2.0,
        limit_for(area, STARS_IN_FIELD), at, observer,
    )  # fmt: skip
    # Those below the horizon are asked for by looking down.
    down = where.direction[2] < 0.0
    lowest = math.sin(math.radians(LOWEST_DEG))
    listed = listed.take((listed.seen[:, 2] > lowest) != down)
    depths = DEPTHS if where.radius_deg < WHOLE_DEG else DEPTHS[:2]
    return SkyQuads(listed, area, depths)
