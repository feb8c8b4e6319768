"""In which words is told where something lies in the eyepiece: left, right, above, below?"""

from __future__ import annotations

from axletree.kit.frozen import dataclass

_AT_THE_EYE = ("above", "right", "below", "left")
_ON_THE_SKY = ("north", "east", "south", "west")


@dataclass(frozen=True)
class EyeTurn:
    """How an eyepiece turns the sky: where north is, clockwise from the top, and mirrors."""

    north_deg: float
    mirrored: bool


def side_words(position_angle_deg: float, turn: EyeTurn | None) -> str:
    """'left', 'above' ... at the eye; 'west' ... where nobody knows how the eyepiece turns it."""
    if turn is None:
        return _ON_THE_SKY[round(position_angle_deg / 90.0) % 4]
    return _AT_THE_EYE[round(_clockwise_deg(position_angle_deg, turn) / 90.0) % 4]


def reading_order(position_angle_deg: float, turn: EyeTurn | None) -> int:
    """0 for what is told first (left and above; east and north), 1 for what lies opposite."""
    if turn is None:
        return 0 if round(position_angle_deg / 90.0) % 4 in (0, 1) else 1
    return 0 if round(_clockwise_deg(position_angle_deg, turn) / 90.0) % 4 in (0, 3) else 1


def dial_words(position_angle_deg: float, turn: EyeTurn | None) -> str:
    """'at 4 on the dial', 12 at the top; a position angle where nobody knows how it is turned."""
    if turn is None:
        return f"in position angle {position_angle_deg % 360.0:.0f}°"
    hour = round(_clockwise_deg(position_angle_deg, turn) / 30.0) % 12 or 12
    return f"at {hour} on the dial"


def line_words(position_angle_deg: float, turn: EyeTurn | None) -> str:
    """How a line through the middle lies: 'from 2 to 8 on the dial'."""
    if turn is None:
        return f"in position angle {position_angle_deg % 180.0:.0f}°"
    hour = round((_clockwise_deg(position_angle_deg, turn) % 180.0) / 30.0) % 6
    return f"from {hour or 12} to {hour + 6} on the dial"


def _clockwise_deg(position_angle_deg: float, turn: EyeTurn) -> float:
    from axletree.find.view import seen_angle_deg  # with it all of finding is loaded

    return float(seen_angle_deg(position_angle_deg, turn.north_deg, turn.mirrored))
