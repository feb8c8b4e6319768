"""How should the focuser stand around the tube tonight, and what does that cost each stop?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.stops.stop import Stop
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import axis_angles, side_sign
from axletree.mount.room.ring_turn import can_turn, ring_turn
from axletree.mount.room.table import RoomTable

# A turn that gains less than this in all is not worth opening the rings for (ours).
WORTH_MM = 100.0


# What differs by less than this is no change: degrees of turn, mm of discomfort (ours).
SAME_TURN_DEG, SAME_MM = 2.5, 20.0


@dataclass(frozen=True)
class RingTurnCost:
    """What the best turn for the whole list means at one stop, by its number."""

    stop: int
    eyepiece_height_mm: float
    discomfort_now_mm: float
    discomfort_then_mm: float

    @property
    def worse(self) -> bool:
        """True where the stop loses by it."""
        return self.discomfort_then_mm > self.discomfort_now_mm + SAME_MM


@dataclass(frozen=True)
class RingTurnAdvice:
    """The turn of the tube in its rings (or of the diagonal) that serves tonight's stops best.

    Discomfort is how far the eyepiece stands outside the range of eye heights, with up to 500 mm
    for a barrel that hangs down and up to 100 mm for an awkward slant. `newtonian`: the tube turns
    in its rings, otherwise the diagonal turns.
    """

    turn_deg: float
    present_deg: float
    total_now_mm: float
    total_then_mm: float
    costs: tuple[RingTurnCost, ...]
    newtonian: bool

    @property
    def change_deg(self) -> float:
        """By how much to turn, clockwise positive, seen from behind."""
        return (self.turn_deg - self.present_deg + 180.0) % 360.0 - 180.0

    @property
    def worth_it(self) -> bool:
        """True where the turn gains enough to open the rings for."""
        gained = self.total_now_mm - self.total_then_mm
        return abs(self.change_deg) >= SAME_TURN_DEG and gained >= WORTH_MM


def ring_advice(kit: Kit, table: RoomTable, stops: Sequence[Stop]) -> RingTurnAdvice | None:
    """The best turn for tonight's stops, or None where nothing can be turned."""
    if not stops or not can_turn(kit.tube):
        return None
    sides = side_sign([stop.chosen.side for stop in stops])
    hours = np.array([stop.start.hour_angle_h for stop in stops])
    declinations = np.array([stop.start.declination_deg for stop in stops])
    angles = axis_angles(table.axes, sides, hours, declinations)
    best = ring_turn(kit, table.rig, table.axes, *angles)
    now, then = best.present_discomfort_m * 1000.0, best.discomfort_m * 1000.0
    return RingTurnAdvice(
        turn_deg=float(best.turn_deg),
        present_deg=float(best.present_deg),
        total_now_mm=float(now.sum()),
        total_then_mm=float(then.sum()),
        costs=tuple(
            RingTurnCost(
                stop=stop.number,
                eyepiece_height_mm=float(best.place.height_m[k]) * 1000.0,
                discomfort_now_mm=float(now[k]),
                discomfort_then_mm=float(then[k]),
            )
            for k, stop in enumerate(stops)
        ),
        newtonian=kit.tube.kind == "newtonian",
    )
