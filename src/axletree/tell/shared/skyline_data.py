"""Where is the skyline unknown, for programs?"""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.ground.skyline.skyline import Horizon


class UnknownSkyline(TypedDict):
    """Azimuths, clockwise, between which nothing is known, and the altitude taken there."""

    from_deg: float
    to_deg: float
    taken_deg: float


def unknown_skyline(horizon: Horizon) -> list[UnknownSkyline]:
    """Gaps of a skyline, azimuths clockwise, with the altitude taken there, all in degrees."""
    return [
        {"from_deg": gap.from_deg, "to_deg": gap.to_deg, "taken_deg": gap.taken_deg}
        for gap in horizon.gaps
    ]
