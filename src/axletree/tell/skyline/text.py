"""In which sentences is it told what was taken for granted of a skyline?"""

from __future__ import annotations

from axletree.ground.magnetism import Zone
from axletree.ground.skyline.skyline import Horizon


def skyline_words(horizon: Horizon, compass_zone: Zone | None) -> list[str]:
    """What was assumed, without full stops: its gaps, and bearings taken by a poor compass.

    `compass_zone`: that of the spot where the bearings were taken by compass, else None.
    """
    return [
        *(_gap_words(a, b, horizon.open_altitude_deg) for a, b in horizon.gaps),
        *_compass_words(compass_zone),
    ]


def _gap_words(start: float, stop: float, taken: float) -> str:
    if (start, stop) == (0.0, 360.0):
        return f"no skyline was given: {taken:g}° is taken all round"
    if start == stop:
        where = f"beyond the one point at {start:.0f}°"
    else:
        where = f"from {start:.0f}° to {stop:.0f}°"
    return f"nothing is known of the skyline {where}: {taken:g}° is taken"


def _compass_words(zone: Zone | None) -> list[str]:
    named = {"caution": "caution", "blackout": "blackout"}
    if zone not in named:
        return []
    return [
        f"the skyline's bearings were taken by compass in a {named[zone]} zone: don't trust them"
    ]
