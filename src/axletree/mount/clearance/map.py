"""How near does anything come in every pose of both axes?

The map holds the least distance for both tube sides at every half degree of hour angle and
declination. It is exact, but most pairs are never looked at closely: from the middle of a cell
of poses no point of a part can move farther than its reach times the angle, so a pair that is
too far away there cannot be the nearest anywhere in the cell.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.kit.frozen import dataclass
from axletree.kit.kernels import Way, kernel
from axletree.mount.clearance.map_levels import ACROSS, CELLS, STEP_DEG, Level, angles, by_axes
from axletree.mount.clearance.nearest import (
    NEVER,
    Bodies,
    Pair,
    apart,
    distances,
    polar_line,
    segment_of,
    swung_line,
)
from axletree.mount.clearance.rods import Line
from axletree.sky.arrays import Floats, Indices, Mask, Singles

_CHUNK = 12288
_SAVED_S = 0.05  # by compiled code
_SHAPE = (2, ACROSS, ACROSS // 2)
_ROUNDING_M = 1e-6  # of single precision


@dataclass(frozen=True)
class ClearanceMap:
    """Least distance in metres, (2, 720, 360): tube side east, west; hour angle; declination.

    Hour angle `hours[i]` and declination `declinations[j]` are those on the mount's own circles.
    `pair` numbers the nearest pair as in `Bodies.pairs`.
    """

    hours: Floats
    declinations: Floats
    distance_m: Singles
    pair: NDArray[np.int16]


class _Swept(Level):
    """A level with the static segments at each of its hour angles."""

    def __init__(self, b: Bodies, cell: int) -> None:
        super().__init__(cell)
        self.polar: dict[int, Line] = {
            i: polar_line(b, *segment_of(b, i), self.cos_h, self.sin_h)
            for i in range(-1, len(b.statics))
        }


def _at(b: Bodies, level: _Swept, pair: Pair, cells: Indices, limit: Floats) -> Floats:
    """Distance of one pair at the middles of the numbered cells."""
    out = np.empty(cells.size)
    for begin in range(0, cells.size, _CHUNK):
        some = cells[begin : begin + _CHUNK]
        row, column = np.divmod(some, level.across)
        x, y, z, sx, sy, sz = (v.take(row) for v in level.polar[pair.static])
        line = swung_line((x, y, z, sx, sy, sz), level.cos_w.take(column), level.sin_w.take(column))
        out[begin : begin + _CHUNK] = apart(b, pair, line, limit[begin : begin + _CHUNK])
    return out


def _children(cells: Indices, across: int, ratio: int) -> Indices:
    row, column = np.divmod(cells, across)
    r = np.arange(ratio)
    rows = (row[:, None, None] * ratio + r[:, None]) * (across * ratio)
    return np.asarray((rows + column[:, None, None] * ratio + r).ravel())


def _refine(
    b: Bodies, numbers: list[int], hour: Floats, swing: Floats,
    best: Floats, which: NDArray[np.int16],
) -> None:  # fmt: skip
    """Put the pairs that both axes move into `best` and `which` wherever they are nearer."""
    levels = [_Swept(b, cell) for cell in CELLS]
    across = levels[0].across
    cells = {k: np.arange(across * across) for k in numbers}
    for size, level, finer in zip(CELLS[:-1], levels[:-1], CELLS[1:], strict=True):
        upper = np.minimum(
            hour.reshape(-1, size).max(axis=1)[:, None], swing.reshape(-1, size).max(axis=1)
        ).ravel()
        lower: dict[int, Floats] = {}
        for k, some in cells.items():
            body = b.pairs[k].rod
            slack = level.half_rad * (body.reach + body.reach_from_x)
            middle = _at(b, level, b.pairs[k], some, upper.take(some) + slack)
            lower[k] = middle - slack
            upper[some] = np.minimum(upper[some], middle + slack)
        kept = {k: some[lower[k] <= upper.take(some)] for k, some in cells.items()}
        cells = {k: _children(some, level.across, size // finer) for k, some in kept.items()}
    flat, pair_of = best.ravel(), which.ravel()
    for k, some in cells.items():
        if not some.size:
            continue
        now = flat.take(some)
        found = _at(b, levels[-1], b.pairs[k], some, now)
        nearer = found < now
        flat[some[nearer]] = found[nearer]
        pair_of[some[nearer]] = k


def clearance_map(b: Bodies, way: Way = "auto") -> ClearanceMap:
    """The least distance at every half degree of both axes, for both tube sides.

    `way`: see `kit.kernels.kernel`; the map is the same to the last bit.
    """
    compiled = kernel("axletree.mount.clearance.map_kernel", way, _SAVED_S)
    best, which = all_poses(b) if compiled is None else compiled.all_poses(b)
    distance, pair = np.empty(_SHAPE, dtype=np.float32), np.empty(_SHAPE, dtype=np.int16)
    _by_side(b.sense, best, distance)
    _by_side(b.sense, which, pair)
    return ClearanceMap(*map_circles(), distance, pair)


def map_circles() -> tuple[Floats, Floats]:
    """The map's hour angles, (720,) hours, and declinations, (360,) degrees."""
    ends, _ = angles(1)
    return ends / 15.0, np.asarray(-90.0 + STEP_DEG / 2 + STEP_DEG * np.arange(ACROSS // 2))


def clear_poses(b: Bodies, margin_m: float) -> Mask:
    """Where the map's distance is greater than this, of its shape: a fraction of the map's work.

    Cells that are clear as a whole, or as a whole are not, are never looked at closely.
    """
    ends, swings = angles(1)
    hour_only, swing_only, both = by_axes(b)
    hour, _ = _nearest(b, ends / 15.0, np.zeros(1), hour_only)
    swing, _ = _nearest(b, np.zeros(1), swings, swing_only)
    # A map's distances are of single precision.
    near = np.minimum(hour[:, None], swing).astype(np.float32) <= margin_m
    levels = [_Swept(b, cell) for cell in CELLS]
    cells = {k: np.arange(levels[0].across ** 2) for k in both}
    enough = margin_m + _ROUNDING_M
    for size, level, finer in zip(CELLS[:-1], levels[:-1], CELLS[1:], strict=True):
        blocks = near.reshape(level.across, size, level.across, size)
        decided = blocks.all(axis=(1, 3)).ravel()
        left = {}
        for k, some in cells.items():
            body = b.pairs[k].rod
            slack = level.half_rad * (body.reach + body.reach_from_x)
            middle = _at(b, level, b.pairs[k], some, np.full(some.size, enough + slack))
            decided[some[middle + slack < margin_m - _ROUNDING_M]] = True
            left[k] = some[middle - slack <= enough]
        row, column = np.divmod(np.flatnonzero(decided), level.across)
        blocks[row, :, column] = True
        undecided = {k: some[~decided[some]] for k, some in left.items()}
        cells = {k: _children(some, level.across, size // finer) for k, some in undecided.items()}
    flat = near.ravel()
    for k, some in cells.items():
        some = some[~flat[some]]
        found = _at(b, levels[-1], b.pairs[k], some, np.full(some.size, enough))
        flat[some[found.astype(np.float32) <= margin_m]] = True
    clear = np.empty(_SHAPE, dtype=np.bool_)
    _by_side(b.sense, ~near, clear)
    return clear


def all_poses(b: Bodies) -> tuple[Floats, NDArray[np.int16]]:
    """Least distance and the number of its pair, (720, 720): tube's end by swing, see `angles`."""
    ends, swings = angles(1)
    hour_only, swing_only, both = by_axes(b)
    hour, hour_pair = _nearest(b, ends / 15.0, np.zeros(1), hour_only)
    swing, swing_pair = _nearest(b, np.zeros(1), swings, swing_only)
    by_hour = hour[:, None] <= swing
    best = np.where(by_hour, hour[:, None], swing)
    which = np.where(by_hour, hour_pair[:, None], swing_pair).astype(np.int16)
    _refine(b, both, hour, swing, best, which)
    return best, which


def _nearest(
    b: Bodies, tube_end_h: Floats, swing_deg: Floats, pairs: list[int]
) -> tuple[Floats, NDArray[np.int16]]:
    """Least distance over some pairs and which, along one axis."""
    if not pairs:
        size = np.broadcast(tube_end_h, swing_deg).size
        return np.full(size, NEVER), np.full(size, -1, dtype=np.int16)
    found = distances(b, tube_end_h, swing_deg, pairs)
    return found.min(axis=0), np.asarray(pairs, dtype=np.int16)[found.argmin(axis=0)]


def _by_side(sense: int, table: NDArray[Any], out: NDArray[Any]) -> None:
    """From the two axis angles to side, hour angle and declination, into `out`."""
    half = ACROSS // 2
    for i, sign in enumerate((1, -1)):
        positive = sign * sense < 0
        # Columns with swing > 0 run from the elevated pole, those below 0 towards it.
        columns = slice(half, None) if positive else slice(half - 1, None, -1)
        # Declination rises towards the elevated pole.
        turn = slice(None, None, -1 if sense > 0 else 1)
        # Hour angle = end + 6 h on side east: the row of an hour angle lies 6 h before it.
        out[i] = np.roll(table[:, columns][:, turn], sign * ACROSS // 4, axis=0)
