"""By which way was the axis measured, and what looked wrong in it and was settled?"""

from __future__ import annotations

from enum import StrEnum

from axletree.axis.unknowns import Circle
from axletree.kit.frozen import dataclass
from axletree.pole.frames.solve import FramesSolution
from axletree.pole.readings.suspects import Slip

# Frames turned by less than this in all are better taken farther apart (our figure).
WIDE_TURN_H = 3.0


class AxisMethod(StrEnum):
    """The ways of measuring the axis."""

    DRIFT = "drift"
    READINGS = "readings"
    FRAMES = "frames"
    PICTURES = "pictures"


class RemarkKind(StrEnum):
    """What looked wrong in a measurement and was settled."""

    TAKEN_REVERSED = "taken reversed"  # north and south swapped for these rows
    LEFT_OUT = "left out"
    SET_ANEW = "set anew"  # a circle, between the tube sides
    NO_EXPOSURE_TIME = "no exposure time"
    NOT_RECOGNISED = "not recognised"
    WIDENED = "widened"  # the rows disagree more than their errors allow


@dataclass(frozen=True)
class Remark:
    """One of those: the rows (places in the order given) or circle, and its figures."""

    kind: RemarkKind
    rows: tuple[int, ...] = ()
    circle: Circle | None = None
    slip: Slip | None = None
    widened: float = 1.0


def widened_remark(factor: float) -> tuple[Remark, ...]:
    """That the uncertainty was widened so many times; none where it was not."""
    return (Remark(RemarkKind.WIDENED, widened=factor),) if factor > 1.0 else ()


def narrow_turn_h_of(solved: FramesSolution) -> float | None:
    """How far the hour axis was turned in all, None where more wouldn't sharpen the answer most."""
    if solved.left_out:
        return None
    span = float(max(solved.turned_h) - min(solved.turned_h))
    return span if span < WIDE_TURN_H else None
