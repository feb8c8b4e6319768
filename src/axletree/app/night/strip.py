"""The evening as a strip of the sky: what is drawn of skyline and ways? Degrees throughout."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import TypedDict

from axletree.ground.skyline.skyline import Horizon
from axletree.mount.rig.way import TubePose, tube_way

if TYPE_CHECKING:
    from axletree.axis.circles_read import StopPlace
    from axletree.evening.stops.stop import Stop

_STEP_DEG = 4.0


class StripData(TypedDict):
    """The skyline all round, [azimuth, altitude]; and the tube's way from the end of each stop to
    the next one's begin, [azimuth, altitude] along it."""

    skyline_deg: list[list[float]]
    ways_deg: list[list[list[float]]]


def strip_data(horizon: Horizon, latitude_deg: float, stops: Sequence[Stop]) -> StripData:
    """For stops in their order."""
    azimuths = np.arange(0.0, 360.0 + _STEP_DEG / 2, _STEP_DEG)
    heights = horizon.altitude_at(azimuths % 360.0)
    ways = [
        tube_way(_pose(a.finish, a), _pose(b.start, b), latitude_deg) for a, b in pairwise(stops)
    ]
    return {
        "skyline_deg": np.round(np.stack([azimuths, heights], axis=1), 1).tolist(),
        "ways_deg": [np.round(way, 1).tolist() for way in ways],
    }


def _pose(place: StopPlace, stop: Stop) -> TubePose:
    side = -1 if stop.chosen.side == "east" else 1
    return TubePose(place.hour_angle_h, place.declination_deg, side)
