"""Where is the skyline unknown, for programs?"""

from __future__ import annotations

from axletree.ground.skyline.skyline import Horizon


def unknown_skyline(horizon: Horizon) -> list[dict[str, float]]:
    """Gaps of a skyline, azimuths clockwise, with the altitude taken there, all in degrees."""
    return [
        {"from_deg": gap.from_deg, "to_deg": gap.to_deg, "taken_deg": gap.taken_deg}
        for gap in horizon.gaps
    ]
