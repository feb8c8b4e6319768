"""Where is the skyline unknown, for programs?"""

from __future__ import annotations

from typing_extensions import TypedDict

from axletree.ground.skyline.skyline import Horizon


class SkylineGap(TypedDict):
    """Azimuths, clockwise, between which nothing is known, and the altitude taken there."""

    from_deg: float
    to_deg: float
    taken_deg: float


def unknown_skyline(horizon: Horizon) -> list[SkylineGap]:
    """The gaps of a skyline."""
    taken = horizon.open_altitude_deg
    return [{"from_deg": a, "to_deg": b, "taken_deg": taken} for a, b in horizon.gaps]
