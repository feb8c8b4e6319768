"""How high does one obstacle reach, seen from many places in many directions?

Every function raises `best` (n, m), the tangent of the altitude of the highest edge so far, for
n places and m directions; +inf where an obstacle hangs over or encloses the eye. x east,
y north, z up, metres; azimuths clockwise from y. A direction is a window of some half width and
the highest edge in it counts, so that nothing slips through between two columns.

What lies under an upper edge counts as blocked: the gap between a crown and the ground too.

All bearings are kept as sines and cosines, so that what is done n x m times is products and
comparisons only (benchmarks/spot_grid.py).
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices, Mask, Reals

_DEG = np.pi / 180.0
TOUCHING_M = 0.01  # an eye this near to an upright sheet stands in it
NOTHING = -1e6  # tangent that stands for 'nothing there'
_EDGE_ON = 1e-4  # sine of the angle between an edge's ends below which it is seen end on


@dataclass(frozen=True)
class AzimuthWindows:
    """Directions as sines and cosines: the middle of each window, and both its sides, (2, m).

    `azimuth_rad` (m,) within 0 to 2 pi; where they rise, an obstacle is tried only in those
    columns that it can lie in (`columns`).
    """

    middle: Reals
    left: Reals
    right: Reals
    half_width_rad: float
    azimuth_rad: Floats
    rising: bool

    @classmethod
    def of(
        cls, azimuth_deg: ArrayLike, half_width_deg: float, dtype: Any = np.float64
    ) -> AzimuthWindows:
        """Windows centred on these azimuths (m,)."""
        az = np.atleast_1d(np.asarray(azimuth_deg, dtype=np.float64)) * _DEG
        w = half_width_deg * _DEG

        def pair(angle: Floats) -> Reals:
            return np.stack([np.sin(angle), np.cos(angle)]).astype(dtype)

        around = np.mod(az, 2.0 * np.pi)
        rising = bool(len(az) > 64 and np.all(np.diff(around) > 0.0))
        return cls(pair(az), pair(az - w), pair(az + w), w, around, rising)

    def columns(self, middle_rad: float, reach_rad: float) -> list[slice]:
        """The columns within `reach_rad` of a direction, one or two runs of them."""
        reach = reach_rad + self.half_width_rad + 1e-6
        if not self.rising or reach >= np.pi:
            return [slice(None)]
        low, high = middle_rad - reach, middle_rad + reach
        turn = 2.0 * np.pi * np.floor(low / (2.0 * np.pi))
        low, high = low - turn, high - turn
        ends = np.searchsorted(self.azimuth_rad, [low, high, high - 2.0 * np.pi])
        if high < 2.0 * np.pi:
            return [slice(int(ends[0]), int(ends[1]))]
        return [slice(int(ends[0]), None), slice(0, int(ends[2]))]


def raise_by_edge(best: Reals, a: Floats, b: Floats, eye: Floats, windows: AzimuthWindows) -> None:
    """The upright sheet under the straight edge from `a` (3,) to `b` (3,).

    The edge and the eye (n, 3) lie in one plane, in which tan(altitude) = P . (sin az, cos az).
    """
    kind = best.dtype
    da, db = a - eye, b - eye
    turned = da[:, 0] * db[:, 1] - da[:, 1] * db[:, 0] > 0.0  # anticlockwise: walk it backwards
    first = np.where(turned[:, None], db, da)
    last = np.where(turned[:, None], da, db)
    r1 = np.maximum(np.hypot(first[:, 0], first[:, 1]), 1e-9)
    r2 = np.maximum(np.hypot(last[:, 0], last[:, 1]), 1e-9)
    u1, u2 = first[:, :2] / r1[:, None], last[:, :2] / r2[:, None]
    t1, t2 = first[:, 2] / r1, last[:, 2] / r2
    sine = u1[:, 1] * u2[:, 0] - u1[:, 0] * u2[:, 1]
    flat = sine < _EDGE_ON
    safe = np.where(flat, 1.0, sine)
    P = np.column_stack(
        [(t2 * u1[:, 1] - t1 * u2[:, 1]) / safe, (t1 * u2[:, 0] - t2 * u1[:, 0]) / safe]
    )
    # Highest point of the edge: at an end, or in between where the plane is steepest.
    top = np.maximum(t1, t2)
    inner = (_clockwise(u1, P) > 0.0) & (_clockwise(P, u2) > 0.0) & ~flat
    top = np.where(inner, np.hypot(P[:, 0], P[:, 1]), top)
    P[flat] = 0.0
    n1, n2 = _wedge(u1, u2, windows.half_width_rad)
    touching = _touches(da, db)
    for run in windows.columns(*_spread(u1, u2)):
        value = _product(P, windows.left[:, run], kind)
        if windows.half_width_rad > 0.0:
            np.maximum(value, _product(P, windows.right[:, run], kind), out=value)
        if flat.any():
            value[flat] = np.inf
        np.minimum(value, top.astype(kind)[:, None], out=value)
        # Clockwise of the first end, anticlockwise of the last: large there, else very negative.
        np.minimum(value, _product(n1 * -NOTHING, windows.middle[:, run], kind), out=value)
        np.minimum(value, _product(n2 * -NOTHING, windows.middle[:, run], kind), out=value)
        np.maximum(best[:, run], value, out=best[:, run])
    if touching.any():
        best[touching] = np.inf


def _spread(u1: Floats, u2: Floats) -> tuple[float, float]:
    """A direction, and how far to both sides of it all these wedges reach together, radians."""
    middle = (u1 + u2).sum(axis=0)
    towards = float(np.arctan2(middle[0], middle[1]))
    across = np.concatenate([u1, u2])
    off = np.arctan2(across[:, 0], across[:, 1]) - towards
    off = np.abs(np.mod(off + np.pi, 2.0 * np.pi) - np.pi)
    reach = float(off.max())
    # Wedges that look apart by more than a right angle may pass behind the back: try them all.
    return towards, reach if reach < np.pi / 2.0 else np.pi


def _clockwise(u: Floats, v: Floats) -> Floats:
    """Positive where direction v (n, 2) lies clockwise of u, seen from above."""
    return np.asarray(u[:, 1] * v[:, 0] - u[:, 0] * v[:, 1])


def _product(rows: Floats, columns: Reals, kind: Any) -> Reals:
    return rows.astype(kind) @ columns


def _wedge(u1: Floats, u2: Floats, w: float) -> tuple[Floats, Floats]:
    """Two normals whose products with a direction are both positive within the widened wedge."""
    c, s = np.cos(w), np.sin(w)
    v1 = np.column_stack([u1[:, 0] * c - u1[:, 1] * s, u1[:, 1] * c + u1[:, 0] * s])
    v2 = np.column_stack([u2[:, 0] * c + u2[:, 1] * s, u2[:, 1] * c - u2[:, 0] * s])
    n1 = np.column_stack([v1[:, 1], -v1[:, 0]])
    n2 = np.column_stack([-v2[:, 1], v2[:, 0]])
    # A hair wider, so that the ends themselves belong to the edge.
    n1 += 1e-7 * u1
    n2 += 1e-7 * u2
    # Widened to half a turn and more, a wedge is no longer where two half planes meet.
    over = (_clockwise(v1, v2) < 0.0) & (_clockwise(u1, u2) >= 0.0)
    facing = v1 - v2
    facing = np.column_stack([facing[:, 1], -facing[:, 0]])
    return np.where(over[:, None], facing, n1), np.where(over[:, None], facing, n2)


def _touches(da: Floats, db: Floats) -> Mask:
    """Whether the eye stands within the sheet itself and below its edge."""
    along = db[:, :2] - da[:, :2]
    length2 = np.maximum(np.sum(along * along, axis=1), 1e-12)
    part = np.clip(-np.sum(da[:, :2] * along, axis=1) / length2, 0.0, 1.0)
    nearest = da[:, :2] + part[:, None] * along
    height = da[:, 2] + part * (db[:, 2] - da[:, 2])
    return np.asarray((np.hypot(nearest[:, 0], nearest[:, 1]) < TOUCHING_M) & (height > 0.0))


def _beside(
    centre: Floats, radius_m: float, eye: Floats, windows: AzimuthWindows, kind: Any
) -> tuple[Indices, Indices, Floats, Floats]:
    """Rows and columns that look at an upright round thing, and for each of them how far off
    its axis is along and across the direction (the one in the window that passes nearest)."""
    d = (centre - eye)[:, :2]
    distance = np.hypot(d[:, 0], d[:, 1])
    close = distance <= radius_m
    towards, reach = np.pi, np.pi
    if not close.any():
        u = d / distance[:, None]
        towards, reach = _spread(u, u)
        reach += float(np.arcsin(radius_m / distance.min()))
    w = windows.half_width_rad
    c, s = float(np.cos(w)), float(np.sin(w))
    sideways = np.column_stack([d[:, 1], -d[:, 0]])
    parts = []
    for run in windows.columns(towards, reach):
        ahead = _product(d, windows.middle[:, run], kind)
        aside = np.abs(_product(sideways, windows.middle[:, run], kind))
        beside = aside * c - ahead * s
        hit = (beside < radius_m) & ((ahead > 0.0) | close[:, None])
        r, k = np.nonzero(hit)
        parts.append((r, k + (run.start or 0), ahead[r, k], aside[r, k], beside[r, k]))
    row, column, along_, across_, near_ = (np.concatenate(p) for p in zip(*parts, strict=True))
    # Straight ahead of an eye that stands beside it; an eye within it looks all ways.
    facing = (near_ <= 0.0) & (along_ > 0.0)
    nearest = np.where(facing, distance[row], along_ * c + across_ * s)
    return row, column, nearest.astype(np.float64), np.where(facing, 0.0, np.abs(near_))


def raise_by_post(
    best: Reals, top: Floats, radius_m: float, eye: Floats, windows: AzimuthWindows
) -> None:
    """An upright cylinder whose top disc is centred on `top` (3,)."""
    row, column, along, across = _beside(top, radius_m, eye, windows, best.dtype)
    dz = top[2] - eye[row, 2]
    half_chord = np.sqrt(np.maximum(radius_m**2 - across**2, 0.0))
    inside = np.hypot(along, across) <= radius_m
    # The near rim is highest when it stands above the eye, the far rim when below.
    rim = np.where(dz > 0.0, along - half_chord, along + half_chord)
    value = np.where(inside & (dz > 0.0), np.inf, dz / np.maximum(rim, 1e-9))
    best[row, column] = np.maximum(best[row, column], value)


def raise_by_crown(
    best: Reals, centre: Floats, radius_m: float, half_height_m: float, eye: Floats,
    windows: AzimuthWindows,
) -> None:  # fmt: skip
    """A round crown: an ellipsoid standing upright about `centre` (3,).

    Upper tangent from the eye to the ellipse in which the upright plane of the direction cuts
    the crown: m = (c z + sqrt(b^2 (c^2 - a^2) + a^2 z^2)) / (c^2 - a^2), for an ellipse with
    half axes a along and b upright, its middle c away and z above the eye.
    """
    row, column, c, across = _beside(centre, radius_m, eye, windows, best.dtype)
    z = centre[2] - eye[row, 2]
    k = np.sqrt(np.maximum(1.0 - (across / radius_m) ** 2, 1e-12))
    a, b = radius_m * k, half_height_m * k
    root = np.sqrt(np.maximum(b * b * (c * c - a * a) + a * a * z * z, 0.0))
    within = (c / a) ** 2 + (z / b) ** 2 <= 1.0
    gap = np.where(c * c == a * a, -1e-12, c * c - a * a)
    ahead = (c * z + root) / gap
    # Under the crown it hangs overhead; above it, the forward edge is the one ahead and below.
    other = (c * z - root) / gap
    forward = np.where((c * b * b + other * z * a * a) > 0.0, other, ahead)
    value = np.where(gap > 0.0, ahead, np.where(z > 0.0, np.inf, forward))
    value = np.where(within, np.inf, value)
    value = np.where((gap > 0.0) & (c < 0.0), NOTHING, value)
    best[row, column] = np.maximum(best[row, column], value)
