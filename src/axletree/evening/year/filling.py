"""Which object takes which slot of each of many nights?

Each object has at most one stop a night, each slot as many as it holds. The stop worth most goes
first to the slot in which it is worth most, then the next: within a hundredth or two of the best
assignment there is (`tests/evening/test_calendar_slots.py`), for all nights at once.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Ints, Mask, Singles

_NOTHING = np.float32(-np.inf)
_HARDLY = 1e-6


@dataclass(frozen=True)
class Filling:
    """Stops of m nights in the order they were given out, the best first: arrays (m, stops).

    `object` and `slot` are -1 where there is no further stop. `points` of each; `part` of a stop
    that the night has time for.
    """

    object: Indices
    slot: Indices
    points: Floats
    part: Floats


@dataclass(frozen=True)
class Groups:
    """Of n objects the group of each (n,), and what its k-th further one loses, (groups, k)."""

    of: Ints
    losses: Floats

    def take(self, which: Mask | slice) -> Groups:
        """Those of some objects."""
        return Groups(self.of[which], self.losses)


def fill_slots(points: Singles, room: Floats, most: Floats, groups: Groups, must: Mask) -> Filling:
    """The stops of m nights from points (m, slots, n), minus infinity where nothing shows.

    `room` (m, slots) is how many stops each slot holds, `most` (m,) how many the night has at
    most. What must be seen (n,) goes first.
    """
    m = points.shape[0]
    nights, kinds = np.arange(m), np.arange(groups.losses.shape[0])
    left, stops_left = room.copy(), np.minimum(most, room.sum(axis=1))
    free = np.where((left > 0.0)[:, :, np.newaxis], points, _NOTHING)
    best = free.max(axis=1)
    taken = np.zeros((m, len(kinds)), dtype=np.intp)
    first = np.where(must, np.float32(1000.0), np.float32(0.0))
    losses = groups.losses.astype(np.float32)
    picked: list[tuple[Indices, Indices, Floats, Floats]] = []
    for _ in range(int(np.ceil(stops_left.max())) if m else 0):
        lost = losses[kinds, np.minimum(taken, losses.shape[1] - 1)]
        worth = best - lost[:, groups.of] + first
        chosen = worth.argmax(axis=1)
        value = worth[nights, chosen] - first[chosen]
        goes = np.isfinite(value) & (stops_left > _HARDLY)
        done = np.flatnonzero(goes)
        if not len(done):
            break
        one = chosen[done]
        slot = free[done, :, one].argmax(axis=1)
        part = np.minimum(np.minimum(stops_left[done], left[done, slot]), 1.0)
        picked.append(_stop(m, done, (one, slot, np.maximum(value[done], 0.0), part)))
        stops_left[done] -= part
        left[done, slot] -= part
        taken[done, groups.of[one]] += 1
        free[done, :, one] = _NOTHING
        best[done, one] = _NOTHING
        full = left[done, slot] <= _HARDLY
        closed = done[full]
        free[closed, slot[full]] = _NOTHING
        best[closed] = free[closed].max(axis=1)
    if not picked:
        none = np.empty((m, 0), dtype=np.intp)
        return Filling(none, none, np.empty((m, 0)), np.empty((m, 0)))
    return Filling(*(np.stack(column, axis=1) for column in zip(*picked, strict=True)))


def _stop(
    m: int, done: Indices, found: tuple[Indices, Indices, Floats, Floats]
) -> tuple[Indices, Indices, Floats, Floats]:
    """One stop of each of m nights, from those of the nights that have one."""
    one, slot = np.full(m, -1, dtype=np.intp), np.full(m, -1, dtype=np.intp)
    points, part = np.zeros(m), np.zeros(m)
    one[done], slot[done], points[done], part[done] = found
    return one, slot, points, part
