"""Which few dimensions, measured, make the rooms of many objects surer, and by how much?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.room.choice import choose
from axletree.mount.room.ends import CONTACT
from axletree.mount.room.table import HOURS_PER_SECOND, RoomTable, room
from axletree.mount.sure.room_doubt import RoomDoubt, SkyCourse, room_doubt
from axletree.mount.sure.spread import RigSpread

MOST_NAMED = 4
# What takes less than this from the rooms' half-widths isn't worth a tape (our figure).
_WORTH_S = 60.0
# The whole sky is looked at by so many rooms that contact ends, from a coarse net of objects.
_MOST_ROOMS = 12
_HOURS = (-4.5, -3.0, -1.5, 0.5, 2.0)
_DECLINATIONS = (-15.0, 5.0, 20.0, 35.0, 50.0, 65.0)


@dataclass(frozen=True)
class MeasureFirst:
    """A dimension to measure, those named before it measured too: half-widths of the rooms' ends,
    root mean square, before and after."""

    name: str
    before_s: float
    after_s: float


def measure_first(
    spread: RigSpread, doubts: Sequence[RoomDoubt], most: int = MOST_NAMED
) -> tuple[MeasureFirst, ...]:
    """The dimensions that tell most of these rooms, one after the other: each makes the most of
    what those before it left open. Rooms that nothing of the mount ends don't count."""
    rooms = [d for d in doubts if d.half_width_s > 0.0 and d.line @ d.line > 0.0]
    if not rooms:
        return ()
    widths = np.array([d.half_width_s for d in rooms])
    lines = np.stack([d.line / np.linalg.norm(d.line) for d in rooms])
    left = np.eye(lines.shape[1])  # covariance of the normal numbers, as measuring narrows it
    named: list[MeasureFirst] = []
    measured: list[int] = []
    now = float(np.sqrt((widths**2).mean()))
    while len(named) < most:
        rest = (lines @ left * lines).sum(axis=1) - spread.variance_taken(lines, left)
        after = np.sqrt((widths**2 * np.maximum(rest, 0.0)).mean(axis=1))
        after[measured] = np.inf
        best = int(after.argmin())
        if now - after[best] < _WORTH_S:
            break
        named.append(MeasureFirst(spread.known.names[best], now, float(after[best])))
        measured.append(best)
        left, now = spread.narrowed(left, best), float(after[best])
    return tuple(named)


def of_whole_sky(spread: RigSpread, table: RoomTable) -> tuple[MeasureFirst, ...]:
    """The same for rooms all over the sky that contact ends."""
    sense = 1.0 if table.axes.latitude_deg >= 0 else -1.0
    H, d = (a.ravel() for a in np.meshgrid(_HOURS, np.array(_DECLINATIONS) * sense))
    here = room(table, H, d)
    ended = np.argwhere(here.usable & (here.ends == CONTACT))
    some = ended[:: max(1, -(-len(ended) // _MOST_ROOMS))]
    doubts = []
    for side, k in some.tolist():
        answer = choose(spread.kit, table, float(H[k]), float(d[k])).sides[side]
        course = SkyCourse(float(H[k]), float(d[k]), HOURS_PER_SECOND)
        found = room_doubt(spread, table, answer, course)
        if found is not None:
            doubts.append(found)
    return measure_first(spread, doubts)
