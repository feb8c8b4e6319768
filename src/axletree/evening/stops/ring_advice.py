"""How should the focuser stand around the tube tonight, and what does that cost each stop?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.evening.document import RingTurnAdvice, RingTurnCost, Stop
from axletree.kit.kit import Kit
from axletree.mount.rig.kinematics import axis_angles
from axletree.mount.room.ring_turn import can_turn, ring_turn
from axletree.mount.room.table import RoomTable
from axletree.sky.arrays import Floats

# A turn that gains less than this in all is not worth opening the rings for (ours).
WORTH_MM = 100.0


def ring_advice(kit: Kit, table: RoomTable, stops: Sequence[Stop]) -> RingTurnAdvice | None:
    """The best turn for tonight's stops, or None where nothing can be turned."""
    if not stops or not can_turn(kit.tube):
        return None
    sides = np.array([1 if stop.chosen.side == "east" else -1 for stop in stops])
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
        words=_words(kit, float(best.present_deg), float(best.turn_deg), now, then),
    )


def _words(kit: Kit, present: float, turn: float, now: Floats, then: Floats) -> str:
    gained = float(now.sum() - then.sum())
    what = "the tube in its rings" if kit.tube.kind == "newtonian" else "the diagonal"
    change = (turn - present + 180.0) % 360.0 - 180.0
    if abs(change) < 2.5 or gained < WORTH_MM:
        return f"Leave {what} as it is: no other turn serves tonight's stops much better."
    way = "clockwise" if change > 0 else "anticlockwise"
    worse = int((then > now + 20.0).sum())
    costs = f"; {worse} of the {len(now)} stops get worse" if worse else ""
    return (
        f"Turn {what} {abs(change):.0f}° {way}, seen from behind: the eyepiece suits tonight's "
        f"stops better ({gained / len(now):.0f} mm a stop, awkward slants counted){costs}."
    )
