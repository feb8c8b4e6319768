"""When does the room end of something that moves among the stars?

Over half a day the Moon's declination changes by three degrees and its hour angle grows unevenly,
so its room is looked for along its real way: sample by sample, and within the step where it ends
at the declination that it has by then.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.mount.rig.kinematics import SIDES
from axletree.mount.rig.shaft_turn import hours_at
from axletree.mount.room.ends import End
from axletree.mount.room.table import Room, RoomTable, room
from axletree.sky.arrays import Floats
from axletree.sky.positions.objects import moves, object_positions

if TYPE_CHECKING:
    from axletree.sky.catalogue.objects import SkyObject
    from axletree.sky.observer import Observer
    from axletree.sky.time.instants import Instants


# Slower than this nothing ends by more than some seconds at another time, in degrees: aberration
# moves a star by a third of it in the longest night, and Saturn goes ten times as far.
STILL_DEG = 1e-3
# A room that ends so shortly after the next sample may end before it, for what moves (our figure).
_DOUBTFUL_H = 0.05
_ROUNDS = 6
# Straight lines between places five minutes apart leave the Moon's way by 0.2 arcseconds.
TRACK_STEP_S = 300.0
WHOLE_TURN_H = 25.0  # the Moon comes round in 24.8 hours
_HALVINGS = 13
_SAMPLES = 48  # four hours of a track are looked at together


@dataclass(frozen=True)
class Track:
    """Places of one object at rising `seconds` (m,): unwrapped hour angles, declinations."""

    seconds: Floats
    hour_angle_h: Floats
    declination_deg: Floats

    @classmethod
    def of(cls, seconds: Floats, hour_angle_h: Floats, declination_deg: Floats) -> Track:
        """A track from hour angles that may jump by 24."""
        return cls(seconds, np.unwrap(hour_angle_h, period=24.0), declination_deg)

    @property
    def moves(self) -> bool:
        """Whether it moves among the stars so much that its room feels it."""
        return bool(np.ptp(self.declination_deg) > STILL_DEG)

    def seconds_at(self, hour_angle_h: float) -> float:
        """When it has an unwrapped hour angle; beyond the track's ends at the last rate there."""
        return _line(hour_angle_h, self.hour_angle_h, self.seconds)

    def place_at(self, seconds: float) -> tuple[float, float]:
        """Hour angle and declination at a time."""
        return (
            _line(seconds, self.seconds, self.hour_angle_h),
            _line(seconds, self.seconds, self.declination_deg),
        )


def _line(at: float, x: Floats, y: Floats) -> float:
    k = int(np.clip(np.searchsorted(x, at) - 1, 0, len(x) - 2))
    return float(y[k] + (at - x[k]) / (x[k + 1] - x[k]) * (y[k + 1] - y[k]))


def track_of(
    thing: SkyObject, now: Instants, observer: Observer, hours: float = WHOLE_TURN_H
) -> Track | None:
    """The way of a body of the Solar System from one instant on; None of what stands still."""
    if not moves(thing):
        return None
    seconds = np.arange(0.0, hours * 3600.0 + TRACK_STEP_S, TRACK_STEP_S)
    seen = object_positions([thing], now.plus(seconds), observer)
    return Track.of(seconds, seen.hour_angle_h[0], seen.declination_deg[0])


@dataclass(frozen=True)
class Edge:
    """Where a room ends (or began): seconds of the track, by what, and the pair that meets."""

    seconds: float
    by: End
    pair: int


def doubtful(here: Room, track: Track) -> NDArray[np.bool_]:
    """Steps (2, m - 1) within which the room may end, from the room at every sample."""
    step = np.diff(track.hour_angle_h)
    usable = here.usable[:, :-1]
    return np.asarray(usable & ((here.room_h[:, :-1] < step + _DOUBTFUL_H) | ~here.usable[:, 1:]))


def end_within(
    table: RoomTable, track: Track, here: Room, side: int, i: int, since: int = 0
) -> Edge | None:
    """The end of a room within the step after sample i; None where it goes on to the next one.

    `here` is the room at the samples from `since` on.
    """
    edge = _carried(table, track, side, i, back=False)
    begin, end = float(track.seconds[i]), float(track.seconds[i + 1])
    if edge is not None and edge.seconds <= end:
        return edge
    if here.usable[side, i + 1 - since]:
        return None
    return _halved(table, track, side, begin, end)


def edges_along(
    table: RoomTable, track: Track, here: Room, goes_on: NDArray[np.bool_]
) -> dict[tuple[int, int], Edge]:
    """Ends by side and the sample before each, of what moves; nothing of what stands still.

    `here` is the room at the samples, arrays (2, m). `goes_on` (2, m - 1), whether the room goes on
    to the next sample, is put right in place.
    """
    if not track.moves:
        return {}
    found: dict[tuple[int, int], Edge] = {}
    for side, i in zip(*np.nonzero(doubtful(here, track)), strict=True):
        edge = end_within(table, track, here, int(side), int(i))
        goes_on[side, i] = edge is None
        if edge is not None:
            found[int(side), int(i)] = edge
    return found


def begin_within(table: RoomTable, track: Track, side: int, i: int) -> float:
    """When a room began within the step before sample i, which is usable: seconds."""
    low, high = float(track.seconds[i - 1]), float(track.seconds[i])
    edge = _carried(table, track, side, i, back=True)
    if edge is not None and low <= edge.seconds <= high:
        return edge.seconds
    return low


def _carried(table: RoomTable, track: Track, side: int, i: int, back: bool) -> Edge | None:
    """The edge seen from sample i at the declination that the object has when it is there.

    A fixed point: the sky turns many times faster than anything moves in it.
    """
    H, at = float(track.hour_angle_h[i]), float(track.seconds[i])
    edge = None
    for _ in range(_ROUNDS):
        found = room(table, H, track.place_at(at)[1])
        if not found.usable[side]:
            break
        turned = -float(found.since_h[side]) if back else float(found.room_h[side])
        code = found.began if back else found.ends
        before, at = at, track.seconds_at(H + turned)
        edge = Edge(at, End(code[side]), int(found.pair[side]))
        if abs(at - before) < 0.05:
            break
    return edge


def _halved(table: RoomTable, track: Track, side: int, low: float, high: float) -> Edge:
    """The end between a usable and an unusable moment."""
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if room(table, *track.place_at(middle)).usable[side]:
            low = middle
        else:
            high = middle
    last = room(table, *track.place_at(low))
    return Edge(0.5 * (low + high), End(last.ends[side]), int(last.pair[side]))


def room_along(table: RoomTable, track: Track) -> Room:
    """The room now, arrays (2,), of what moves along a track.

    `room_h` and `ends` are those of the real way, 24 and NOTHING where the track ends first.
    """
    room_h, ends = np.full(2, 24.0), np.full(2, End.NOTHING, dtype=np.int8)
    pair = np.full(2, -1, dtype=np.int16)
    now: Room | None = None
    left = [0, 1]
    # Hours at a time: most rooms end long before the track does.
    for first in range(0, len(track.seconds) - 1, _SAMPLES):
        some = slice(first, first + _SAMPLES + 1)
        piece = Track(track.seconds[some], track.hour_angle_h[some], track.declination_deg[some])
        each = room(table, piece.hour_angle_h, piece.declination_deg)
        if now is None:
            now = each.of(0)
            left = [side for side in left if now.usable[side]]
        doubts = doubtful(each, piece)
        for side in tuple(left):
            edge = _first_edge(table, track, each, side, first, np.flatnonzero(doubts[side]))
            if edge is not None:
                turned = track.place_at(edge.seconds)[0] - float(track.hour_angle_h[0])
                room_h[side], ends[side], pair[side] = turned, edge.by, edge.pair
                left.remove(side)
        if not left:
            break
    assert now is not None
    room_h, ends, pair = (
        np.where(now.usable, found, kept)
        for found, kept in ((room_h, now.room_h), (ends, now.ends), (pair, now.pair))
    )
    level = [hours_at(table.axes, side, 6.0, track.declination_deg[:1]) for side in SIDES]
    to_level = np.mod(np.concatenate(level) - track.hour_angle_h[0], 24.0)
    down = np.where(now.weights_up, 0.0, np.minimum(room_h, to_level))
    return replace(now, room_h=room_h, ends=ends, pair=pair, weights_down_h=down)


def _first_edge(
    table: RoomTable, track: Track, here: Room, side: int, since: int, doubts: NDArray[np.intp]
) -> Edge | None:
    for i in doubts:
        edge = end_within(table, track, here, side, since + int(i), since)
        if edge is not None:
            return edge
    return None


def waits_along(table: RoomTable, track: Track, now: Room) -> list[float | None]:
    """Seconds until each side can be used, to a step of the track; None: not within it."""
    if now.usable.all():
        return [float(track.seconds[0])] * 2
    each = room(table, track.hour_angle_h, track.declination_deg)
    return [
        float(track.seconds[usable.argmax()]) if usable.any() else None for usable in each.usable
    ]
