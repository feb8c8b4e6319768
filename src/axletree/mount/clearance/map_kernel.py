"""How is the clearance map filled by compiled code? Import it only through `kit.kernels`.

The same sums in the same order as `rods`, `clearance` and `clearance_map`, so that the map is the
same to the last bit; but one cell of poses after the other, each with the pairs that its larger
cell left over, instead of one pair after the other over all cells.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axletree.kit.kernels import compiled, inner
from axletree.mount.clearance.map_levels import ACROSS, CELLS, Level, angles, by_axes
from axletree.mount.clearance.nearest import NEVER, Bodies, polar_line, segment_of
from axletree.sky.arrays import Floats

_REALS = (
    "start_x", "start_y", "start_z", "along_x", "along_y", "along_z", "length", "radius", "reach",
    "static_radius", "length2",
)  # fmt: skip
# One pair: the rod that moves, and its static segment's number, radius and squared length.
PAIR = np.dtype(
    [(name, np.float64) for name in _REALS]
    + [("flat", np.bool_), ("static", np.int64), ("number", np.int64)]
)

# As in `rods`; not imported, because compiled code that was kept looks at this file alone.
_PARALLEL = 1e-14
_ROOT_STEPS = 6


@inner()
def _clip(value: float, low: float, high: float) -> float:
    return min(max(value, low), high)


@inner()
def _squared(
    t: float, A: float, B: float, C: float, b: float, c: float, length: float, radius: float
) -> tuple[float, float]:
    """Squared distance to a solid cylinder at a place of the segment; half its slope."""
    z = c + b * t
    off = z - _clip(z, 0.0, length)
    across2 = A + t * (2.0 * B + t * C)
    rho = math.sqrt(max(across2, 1e-24))
    out = max(rho - radius, 0.0)
    slope = off * b + out * (B + C * t) / rho
    if across2 < 1e-24:
        out = max(math.sqrt(max(across2, 0.0)) - radius, 0.0)
    return off * off + out * out, slope


@inner()
def _to_flat(
    b: float, c: float, f: float, rr: float, e: float, length: float, radius: float
) -> float:
    """See `rods._line_to_flat`."""
    A, B, C = rr - c * c, f - c * b, e - b * b
    low, high, last = 0.0, 1.0, 0
    best, at_low = _squared(low, A, B, C, b, c, length, radius)
    other, at_high = _squared(high, A, B, C, b, c, length, radius)
    best = min(best, other)
    if not (at_low < 0.0 and at_high > 0.0):
        return math.sqrt(best)
    steep = b if abs(b) > 1e-300 else 1e-300
    wide = max(C, 1e-300)
    chord = math.sqrt(max(B * B - C * (A - radius * radius), 0.0))
    for turn in (-c / steep, (length - c) / steep, (-B - chord) / wide, (chord - B) / wide):
        t = _clip(turn, low, high)
        if t <= low or t >= high:  # known already
            continue
        here, g = _squared(t, A, B, C, b, c, length, radius)
        best = min(best, here)
        if g < 0.0:
            low, at_low = t, g
        else:
            high, at_high = t, g
    for _ in range(_ROOT_STEPS):
        t = (low * at_high - high * at_low) / max(at_high - at_low, 1e-300)
        here, g = _squared(t, A, B, C, b, c, length, radius)
        best = min(best, here)
        side = -1 if g < 0.0 else 1
        again = 0.5 if side == last else 1.0
        if side < 0:
            low, at_low, at_high = t, g, at_high * again
        else:
            high, at_high, at_low = t, g, at_low * again
        last = side
    return math.sqrt(best)


@inner()
def _apart(p: Any, line: Any, height_m: float, limit: float) -> float:
    """See `clearance.apart`; not exact where it is not below `limit`."""
    x, y, z, sx, sy, sz = line
    if p.static < 0:
        start = sx * p.start_x + sy * p.start_y + sz * p.start_z + height_m
        along = sx * p.along_x + sy * p.along_y + sz * p.along_z
        drop = p.radius * math.sqrt(max(1.0 - along * along, 0.0)) if p.flat else p.radius
        return float(start + min(along * p.length, 0.0) - drop)
    rx, ry, rz = x - p.start_x, y - p.start_y, z - p.start_z
    c = p.along_x * rx + p.along_y * ry + p.along_z * rz
    b = p.along_x * sx + p.along_y * sy + p.along_z * sz
    f = sx * rx + sy * ry + sz * rz
    rr = rx * rx + ry * ry + rz * rz
    e = max(p.length2, 1e-300)
    t = _clip((b * c - f) / max(e - b * b, _PARALLEL * e), 0.0, 1.0)
    s = _clip(c + b * t, 0.0, p.length)
    t = _clip((b * s - f) / e, 0.0, 1.0)
    d2 = rr + t * (t * e + 2.0 * f) + s * (s - 2.0 * (c + b * t))
    distance = math.sqrt(max(d2, 0.0)) - p.radius
    if p.flat:
        distance = max(distance, 0.0)
        if (s <= 0.0 or s >= p.length) and distance < limit + p.static_radius:
            distance = _to_flat(b, c, f, rr, e, p.length, p.radius)
    return float(distance - p.static_radius)


@inner()
def _line(polar: Any, k: int, row: int, cos_w: float, sin_w: float) -> Any:
    """A static segment in the frame of the tube; -1 is the ground, which comes last.

    See `clearance.swung_line`.
    """
    k = k if k >= 0 else len(polar) - 1
    x, q, z = polar[k, row, 0], polar[k, row, 1], polar[k, row, 2]
    sx, sq, sz = polar[k, row, 3], polar[k, row, 4], polar[k, row, 5]
    return (x, cos_w * q - sin_w * z, sin_w * q + cos_w * z,
            sx, cos_w * sq - sin_w * sz, sin_w * sq + cos_w * sz)  # fmt: skip


@inner()
def _leave(
    rig: Any, level: Any, row: int, column: int, upper: float,
    given: Any, count: int, lower: Any, left: Any,
) -> tuple[int, float]:  # fmt: skip
    """How many of the given pairs can be nearest somewhere in a cell, and how far at most.

    The pairs themselves are put into `left`; `lower` is scratch.
    """
    pairs, height_m = rig
    polar, cos_w, sin_w, half_rad, hour, swing = level
    cos, sin = cos_w[column], sin_w[column]
    upper = min(upper, min(hour[row], swing[column]))
    for n in range(count):
        pair = pairs[given[n]]
        slack = half_rad * pair.reach
        line = _line(polar, pair.static, row, cos, sin)
        middle = _apart(pair, line, height_m, upper + slack)
        lower[n] = middle - slack
        upper = min(upper, middle + slack)
    kept = 0
    for n in range(count):
        if lower[n] <= upper:
            left[kept] = given[n]
            kept += 1
    return kept, upper


@inner()
def _put_nearer(
    rig: Any, swept: Any, rows: Any, columns: Any, given: Any, count: int, best: Any, which: Any
) -> None:
    """Put the given pairs into `best` and `which` of some poses wherever they are nearer."""
    pairs, height_m = rig
    polar, cos_w, sin_w = swept
    for n in range(count):
        pair = pairs[given[n]]
        for p in range(rows[0], rows[1]):
            for q in range(columns[0], columns[1]):
                line = _line(polar, pair.static, p, cos_w[q], sin_w[q])
                found = _apart(pair, line, height_m, best[p, q])
                if found < best[p, q]:
                    best[p, q], which[p, q] = found, pair.number


@compiled()
def fill_all(rig: Any, swept: Any, best: Any, which: Any) -> None:
    """Put all pairs into `best` and `which` of all poses wherever they are nearer."""
    every = np.arange(len(rig[0]))
    n, m = best.shape
    _put_nearer(rig, swept, (0, n), (0, m), every, len(every), best, which)


@compiled()
def fill_cells(
    rig: Any, wide: Any, middle: Any, fine: Any, axes: Any, best: Any, which: Any
) -> None:
    """Every pose, from cells within cells; `axes` is whose distance along either axis is least."""
    hour_pair, swing_pair, begin, end = axes
    polar, cos_w, sin_w, _, hour, swing = fine
    first, second = len(middle[4]) // len(wide[4]), len(hour) // len(middle[4])
    size = first * second
    every = np.arange(len(rig[0]))
    some, few, lower = every.copy(), every.copy(), np.empty(len(every))
    for p in range(begin * size, end * size):
        for q in range(len(swing)):
            by_hour = hour[p] <= swing[q]
            best[p, q] = hour[p] if by_hour else swing[q]
            which[p, q] = hour_pair[p] if by_hour else swing_pair[q]
    for I in range(begin, end):  # noqa: E741
        for J in range(len(wide[5])):
            count, far = _leave(rig, wide, I, J, np.inf, every, len(every), lower, some)
            for i in range(I * first, (I + 1) * first):
                for j in range(J * first, (J + 1) * first):
                    n, _ = _leave(rig, middle, i, j, far, some, count, lower, few)
                    rows = (i * second, (i + 1) * second)
                    columns = (j * second, (j + 1) * second)
                    swept = (polar, cos_w, sin_w)
                    _put_nearer(rig, swept, rows, columns, few, n, best, which)


def all_poses(b: Bodies) -> tuple[Floats, NDArray[np.int16]]:
    """The same as `clearance_map.all_poses`."""
    ends, swings = angles(1)
    turn = ends / 15.0 * (np.pi / 12.0)  # as `clearance.distances` takes it
    hour_only, swing_only, both = (_packed(b, numbers) for numbers in by_axes(b))
    still, none = np.ones(1), np.zeros(1)
    hour, hour_pair = _nothing_near(ACROSS, 1)
    fill_all(hour_only, (_lines(b, np.cos(turn), np.sin(turn)), still, none), hour, hour_pair)
    swing, swing_pair = _nothing_near(1, ACROSS)
    w = np.radians(swings)
    fill_all(swing_only, (_lines(b, still, none), np.cos(w), np.sin(w)), swing, swing_pair)
    levels = [_level(b, cell, hour, swing) for cell in CELLS]
    best, which = _nothing_near(ACROSS, ACROSS)

    def part(ends: tuple[int, int]) -> None:
        axes = (hour_pair.ravel(), swing_pair.ravel(), *ends)
        fill_cells(both, levels[0], levels[1], levels[2], axes, best, which)

    last = ACROSS // CELLS[0]
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(part, ((0, last // 2), (last // 2, last))))
    return best, which


def _nothing_near(rows: int, columns: int) -> tuple[Floats, NDArray[np.int16]]:
    return np.full((rows, columns), NEVER), np.full((rows, columns), -1, np.int16)


def _level(b: Bodies, cell: int, hour: Floats, swing: Floats) -> tuple[Any, ...]:
    """What the loops need at one size of cells, with the farthest that either axis leaves there."""
    v = Level(cell)
    most = (axis.reshape(v.across, cell).max(axis=1) for axis in (hour, swing))
    return (_lines(b, v.cos_h, v.sin_h), v.cos_w, v.sin_w, v.half_rad, *most)


def _lines(b: Bodies, cos_h: Floats, sin_h: Floats) -> Floats:
    """Every static segment in the polar frame, and the ground's normal, (statics + 1, n, 6)."""
    numbers = [*range(len(b.statics)), -1]
    lines = [polar_line(b, *segment_of(b, k), cos_h, sin_h) for k in numbers]
    return np.stack([np.stack(line, axis=-1) for line in lines])


def _packed(b: Bodies, numbers: list[int]) -> tuple[Any, float]:
    """Pairs for the loops, and how high the crossing of the axes stands above the ground."""
    pairs = np.recarray(len(numbers), PAIR)
    for row, k in zip(pairs, numbers, strict=True):
        pair = b.pairs[k]
        rod, step = pair.rod, segment_of(b, pair.static)[1]
        row["start_x"], row["start_y"], row["start_z"] = rod.start
        row["along_x"], row["along_y"], row["along_z"] = rod.along
        row["length"], row["radius"], row["flat"] = rod.length, rod.radius, rod.flat
        row["reach"] = rod.reach + rod.reach_from_x
        row["static"], row["number"] = pair.static, k
        row["static_radius"], row["length2"] = pair.radius, step @ step
    return pairs, b.height_m
