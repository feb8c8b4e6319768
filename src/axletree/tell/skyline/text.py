"""In which sentences is it told what was taken for granted of a skyline?"""

from __future__ import annotations

from axletree.ground.magnetism import Zone
from axletree.ground.skyline.skyline import Horizon, SkylineGap


def skyline_words(horizon: Horizon) -> list[str]:
    """What was assumed, without full stops: its gaps, and bearings taken by a poor compass."""
    if horizon.measured:
        gaps = [gap_words(gap) for gap in horizon.gaps]
    else:
        gaps = [f"no skyline was given: {horizon.open_altitude_deg:g}° is taken all round"]
    return [*gaps, *_compass_words(horizon.compass_zone)]


def gap_words(gap: SkylineGap) -> str:
    """What was taken in one gap, without a full stop."""
    if gap.width_deg < 360.0:
        where = f"from {gap.from_deg:.0f}° to {gap.to_deg:.0f}°"
    elif gap.from_deg == 0.0:
        where = "anywhere"
    else:
        where = f"beyond the one point at {gap.from_deg:.0f}°"
    return f"nothing is known of the skyline {where}: {gap.taken_deg:g}° is taken"


def _compass_words(zone: Zone | None) -> list[str]:
    named = {"caution": "caution", "blackout": "blackout"}
    if zone not in named:
        return []
    return [
        f"the skyline's bearings were taken by compass in a {named[zone]} zone: don't trust them"
    ]
