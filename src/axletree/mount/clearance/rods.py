"""How far is one rod from another, or from the ground?

A rod is a segment with a radius: round ends make it a capsule, flat ends a cylinder. A line in
space that passes near it is given as start and step, one coordinate an array, so that nothing is
copied; everything broadcasts. Distances are in the unit of the lengths; below 0 is overlap, as
deep as it goes for round ends; a line inside a rod with flat ends is at distance 0.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask

Line = tuple[Any, Any, Any, Any, Any, Any]  # start x, y, z and step x, y, z

_PARALLEL = 1e-14
_ROOT_STEPS = 6


@dataclass(frozen=True)
class Rod:
    """A rod at rest in its own frame: origin, unit direction, length, radius, shape of its ends."""

    start: Floats
    along: Floats
    length: float
    radius: float
    flat: bool

    @property
    def reach(self) -> float:
        """Distance of its farthest point from the frame's origin, at most."""
        end = self.start + self.along * self.length
        far = max(float(np.linalg.norm(self.start)), float(np.linalg.norm(end)))
        return far + self.radius

    @property
    def reach_from_x(self) -> float:
        """Distance of its farthest point from the frame's x axis, at most."""
        end = self.start + self.along * self.length
        far = max(float(np.hypot(*self.start[1:])), float(np.hypot(*end[1:])))
        return far + self.radius


@dataclass(frozen=True)
class Rods:
    """Many rods, each along its row: `start` and `along` (3, k, 1), the rest (k, 1)."""

    start: Floats
    along: Floats
    length: Floats
    radius: Floats
    flat: Mask


def stacked(rods: Sequence[Rod]) -> Rods:
    """Rods one below the other."""

    def column(values: Iterable[Any], kind: Any = np.float64) -> Any:
        return np.array(list(values), dtype=kind)[:, None]

    return Rods(
        start=np.stack([r.start for r in rods], axis=1)[:, :, None],
        along=np.stack([r.along for r in rods], axis=1)[:, :, None],
        length=column(r.length for r in rods),
        radius=column(r.radius for r in rods),
        flat=column((r.flat for r in rods), np.bool_),
    )


def rod(start: Floats, end: Floats, radius: float, flat: bool) -> Rod:
    """The rod between two points (3,)."""
    step = np.asarray(end, dtype=np.float64) - start
    length = float(np.linalg.norm(step))
    along = step / length if length > 0 else np.array([0.0, 0.0, 1.0])
    return Rod(np.asarray(start, dtype=np.float64), along, length, float(radius), bool(flat))


def _dot(a: Floats, x: Any, y: Any, z: Any) -> Any:
    """Scalar product with a constant vector, without multiplying by its zeros and ones."""
    if a.ndim > 1:
        return a[0] * x + a[1] * y + a[2] * z
    total: Any = 0.0
    for factor, value in zip(a, (x, y, z), strict=True):
        if factor == 1.0:
            total = total + value
        elif factor != 0.0:
            total = total + factor * value
    return total


def line_to_rod(line: Line, length2: Any, target: Rod, limit: Any = None) -> Floats:
    """Distance from segments to the rod's surface.

    `line` holds the segments' start and step, `length2` their squared length (the same for all,
    or an array; 0 is a point). Where the round-ended distance is not below `limit`, the ends of
    a flat rod need not be looked at, and that smaller distance comes back.

    Source of the segment part: C. Ericson, Real-Time Collision Detection, 2005, section 5.1.9,
    with s along the rod and t along the segment.
    """
    distance, (s, b, c, f, rr, e) = _to_round_ends(line, length2, target)
    if not target.flat:
        return distance
    distance = np.maximum(distance, 0.0)
    ends = (s <= 0.0) | (s >= target.length)
    if limit is not None:
        ends &= distance < limit
    if not ends.any():
        return distance
    distance, b, c, f, rr, e = np.broadcast_arrays(distance, b, c, f, rr, e)
    distance = distance.copy()
    length, radius = np.float64(target.length), np.float64(target.radius)
    distance[ends] = _line_to_flat(b[ends], c[ends], f[ends], rr[ends], e[ends], length, radius)
    return distance


def lines_to_rods(line: Line, length2: Floats, targets: Rods, radius: Floats) -> Floats:
    """The same for many rods at once, (k, n), less `radius` (k, 1), that of each line.

    Exact where it is the least of its column; elsewhere the ends of a flat rod may be taken as
    round, which gives less than the distance but more than the column's least.
    """
    distance, (s, *of_pose, e_row) = _to_round_ends(line, length2, targets)
    distance = np.maximum(distance, np.where(targets.flat, 0.0, -np.inf)) - radius
    at_end = targets.flat & ((s <= 0.0) | (s >= targets.length))
    sure = np.where(at_end, np.inf, distance).min(axis=0)
    while True:
        # The nearest of what is in doubt is made sure of first: often nothing is left to look at.
        doubt = np.where(at_end & (distance <= sure), distance, np.inf)
        first = doubt.argmin(axis=0)
        columns = np.flatnonzero(np.isfinite(doubt.min(axis=0)))
        if not columns.size:
            return distance
        rows = first[columns]
        b, c, f, rr = (v[rows, columns] for v in of_pose)
        e = e_row[rows, 0]
        long, thick = targets.length[rows, 0], targets.radius[rows, 0]
        found = _line_to_flat(b, c, f, rr, e, long, thick) - radius[rows, 0]
        distance[rows, columns] = found
        at_end[rows, columns] = False
        sure[columns] = np.minimum(sure[columns], found)


def _to_round_ends(line: Line, length2: Any, target: Rod | Rods) -> tuple[Floats, tuple[Any, ...]]:
    """Distance from segments to rods with round ends, and what it was found with."""
    x, y, z, sx, sy, sz = line
    rx, ry, rz = x - target.start[0], y - target.start[1], z - target.start[2]
    L = target.length
    c = _dot(target.along, rx, ry, rz)
    b = _dot(target.along, sx, sy, sz)
    f = sx * rx + sy * ry + sz * rz
    rr = rx * rx + ry * ry + rz * rz
    e = np.maximum(length2, 1e-300)
    # `np.clip` of small arrays takes four times as long as the two that it stands for.
    t = np.minimum(np.maximum((b * c - f) / np.maximum(e - b * b, _PARALLEL * e), 0.0), 1.0)
    s = np.minimum(np.maximum(c + b * t, 0.0), L)
    t = np.minimum(np.maximum((b * s - f) / e, 0.0), 1.0)
    d2 = rr + t * (t * e + 2.0 * f) + s * (s - 2.0 * (c + b * t))
    distance = np.asarray(np.sqrt(np.maximum(d2, 0.0)) - target.radius)
    return distance, (s, b, c, f, rr, e)


def _line_to_flat(
    b: Floats, c: Floats, f: Floats, rr: Floats, e: Floats, length: Any, radius: Any
) -> Floats:
    """Distance from segments to a solid cylinder with flat ends, 0 inside; one for all or each.

    The distance from a point to a convex body is convex along a line, so the slope of half its
    square has one zero. It is bracketed between the planes of the ends and the surface of the
    endless cylinder, where the slope turns sharply, and closed in on by regula falsi (Illinois
    variant, M. Dowell and P. Jarratt 1971, BIT 11, 168).
    """
    A, B, C = rr - c * c, f - c * b, e - b * b

    def slope_and_distance(t: Floats) -> tuple[Floats, Floats]:
        z = c + b * t
        off = z - np.minimum(np.maximum(z, 0.0), length)
        rho = np.sqrt(np.maximum(A + t * (2.0 * B + t * C), 1e-24))
        out = np.maximum(rho - radius, 0.0)
        return off * b + out * (B + C * t) / rho, np.sqrt(off * off + out * out)

    low, high = np.zeros_like(c), np.ones_like(c)
    (at_low, from_low), (at_high, from_high) = slope_and_distance(low), slope_and_distance(high)
    best: Floats = np.minimum(from_low, from_high)
    inside = np.flatnonzero((at_low < 0.0) & (at_high > 0.0))
    if not inside.size:
        return best
    A, B, C, b, c = A[inside], B[inside], C[inside], b[inside], c[inside]
    length, radius = (v[inside] if v.ndim else v for v in (length, radius))
    low, high, at_low, at_high = low[inside], high[inside], at_low[inside], at_high[inside]
    found = best[inside]
    steep = np.where(np.abs(b) > 1e-300, b, 1e-300)
    wide = np.maximum(C, 1e-300)
    chord = np.sqrt(np.maximum(B * B - C * (A - radius * radius), 0.0))
    for turn in (-c / steep, (length - c) / steep, (-B - chord) / wide, (chord - B) / wide):
        t = np.minimum(np.maximum(turn, low), high)
        g, there = slope_and_distance(t)
        below = g < 0.0
        low, at_low = np.where(below, t, low), np.where(below, g, at_low)
        high, at_high = np.where(below, high, t), np.where(below, at_high, g)
        found = np.minimum(found, there)
    last = np.zeros(len(inside), dtype=np.int8)
    for _ in range(_ROOT_STEPS):
        t = (low * at_high - high * at_low) / np.maximum(at_high - at_low, 1e-300)
        g, there = slope_and_distance(t)
        found = np.minimum(found, there)
        side = np.where(g < 0.0, -1, 1).astype(np.int8)
        # An end that stays put a second time has its slope halved, so that both ends close in.
        again = np.where(side == last, 0.5, 1.0)
        below = side < 0
        at_high = np.where(below, at_high * again, g)
        at_low = np.where(below, g, at_low * again)
        low, high = np.where(below, t, low), np.where(below, high, t)
        last = side
    best[inside] = found
    return best


def rod_above_plane(nx: Any, ny: Any, nz: Any, height: Any, target: Rod) -> Floats:
    """Height of the rod's lowest point above a plane with unit normal n.

    `height` is that of the frame's origin above the plane.
    """
    start = nx * target.start[0] + ny * target.start[1] + nz * target.start[2] + height
    along = nx * target.along[0] + ny * target.along[1] + nz * target.along[2]
    drop = target.radius
    if target.flat:
        drop = target.radius * np.sqrt(np.maximum(1.0 - along * along, 0.0))
    return np.asarray(start + np.minimum(along * target.length, 0.0) - drop)
