"""How near are two parts in a pose, and how does that change with each dimension of the rig?

The nearest points of two convex bodies may be held fixed to the bodies while these change a
little (envelope theorem, e.g. A. Mas-Colell, M. D. Whinston and J. R. Green, Microeconomic
Theory, 1995, M.L), so that the slope of their distance is that of the bodies' own points along the
line between them.
"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.nearest import Bodies, polar_line, swung_line
from axletree.mount.sure.shapes import Shapes, ShapeSlopes
from axletree.sky.arrays import Floats, Indices, Mask, Reals, distinct

_HALVINGS = 15  # to 0.03 mm a metre along the line, which the distance feels in second order
_TINY_M = 1e-9


@dataclass(frozen=True, eq=False)
class PoseTurns:
    """Some poses (m,) of a rig's axes, as rotations (m, 3, 3) of what stands still into the frame
    of the shaft, and of the tube."""

    into_shaft: Floats
    into_tube: Floats

    @staticmethod
    def of(b: Bodies, tube_end_h: Floats, swing_deg: Floats) -> PoseTurns:
        """From the two angles of each pose, (m,)."""
        h, w = tube_end_h * (np.pi / 12), np.radians(swing_deg)
        ch, sh, cw, sw = np.cos(h), np.sin(h), np.cos(w), np.sin(w)
        shaft, tube = [], []
        for axis in np.eye(3):
            line = polar_line(b, axis, axis, ch, sh)
            shaft.append(np.stack(np.broadcast_arrays(*line[:3]), axis=-1))
            tube.append(np.stack(np.broadcast_arrays(*swung_line(line, cw, sw)[:3]), axis=-1))
        return PoseTurns(np.stack(shaft, axis=-1), np.stack(tube, axis=-1))


@dataclass(frozen=True, eq=False)
class Meetings:
    """Which parts may meet: of each of p pairs the rig's rows of what moves and what stands still
    (-1: the ground)."""

    moving: Indices
    still: Indices
    on_tube: Mask
    flat: Mask
    normal: Floats  # (3,) of the ground

    @staticmethod
    def of(b: Bodies, still_rows: Indices) -> Meetings:
        """The pairs of `Bodies`, in its order; `still_rows` are those of its statics."""
        rows = np.append(still_rows, -1)
        return Meetings(
            np.array([pair.row for pair in b.pairs]),
            rows[[pair.static for pair in b.pairs]],
            np.array([pair.on_tube for pair in b.pairs]),
            np.array([pair.rod.flat for pair in b.pairs]),
            b.normal,
        )


@dataclass(frozen=True, eq=False)
class Near:
    """Pairs in poses, one of each a row (r,): distance in metres, and where it is taken.

    `normal` is the unit vector from what moves to what stands still, in the frame of what moves;
    `along_still` and `along_moving` are places on the two axes (0 to 1), `off_axis_m` the point's
    offset from the moving rod's axis. Where two parts overlap deeply the distance is taken along
    the line from axis to axis.
    """

    gap_m: Floats
    normal: Floats  # (r, 3)
    along_still: Floats
    along_moving: Floats
    off_axis_m: Floats  # (r, 3)
    turn: Floats  # (r, 3, 3)

    def of(self, rows: Indices) -> Near:
        """Some of the rows."""
        return Near(**{name: getattr(self, name)[rows] for name in Near.__dataclass_fields__})


def nearest(
    shapes: Shapes, meet: Meetings, poses: PoseTurns, pairs: Indices, at: Indices,
    halvings: int = _HALVINGS,
) -> Near:  # fmt: skip
    """The nearest points of pairs (r,) in the poses `at` (r,), as `line_to_cylinder` has them."""
    turn = np.where(meet.on_tube[pairs][:, None, None], poses.into_tube[at], poses.into_shaft[at])
    moving, still, flat = meet.moving[pairs], meet.still[pairs], meet.flat[pairs]
    first, last = shapes.start_m[moving], shapes.end_m[moving]
    axis = last - first
    L = np.linalg.norm(axis, axis=1)
    a = axis / np.maximum(L, _TINY_M)[:, None]
    radius = shapes.radius_m[moving]
    R = np.where(flat, radius, 0.0)
    begin = np.einsum("rij,rj->ri", turn, shapes.start_m[still])
    step = np.einsum("rij,rj->ri", turn, shapes.end_m[still]) - begin
    r = begin - first
    c, rises = (r * a).sum(axis=1), (step * a).sum(axis=1)
    across, drift = r - c[:, None] * a, step - rises[:, None] * a
    squares = [(x * y).sum(axis=1) for x, y in ((across, across), (across, drift), (drift, drift))]
    across_axis = (squares[0], squares[1], squares[2])
    t = line_to_cylinder((c, rises), across_axis, L, R, halvings)
    z, off = c + rises * t, across + drift * t[:, None]
    rho = np.linalg.norm(off, axis=1)
    kept = off * np.minimum(R / np.maximum(rho, _TINY_M), 1.0)[:, None]
    along = np.clip(z, 0.0, L)
    away = (z - along)[:, None] * a + off - kept
    size = np.linalg.norm(away, axis=1)
    inside = size < _TINY_M
    away[inside] = off[inside]
    normal = away / np.maximum(np.linalg.norm(away, axis=1), _TINY_M)[:, None]
    gap = size - np.where(flat, 0.0, radius) - shapes.radius_m[still]
    u = along / np.maximum(L, _TINY_M)
    ground = np.flatnonzero(still < 0)
    if ground.size:
        n = turn[ground] @ meet.normal
        low = (n * axis[ground]).sum(axis=1) < 0.0
        level = np.sqrt(np.maximum(1.0 - (n * a[ground]).sum(axis=1) ** 2, 0.0))
        drop = radius[ground] * np.where(flat[ground], level, 1.0)
        point = np.where(low[:, None], last[ground], first[ground])
        gap[ground] = (n * point).sum(axis=1) + shapes.height_m - drop
        normal[ground], u[ground] = -n, low
    return Near(gap, normal, np.asarray(t, dtype=np.float64), u, kept, turn)


def line_to_cylinder(
    along: tuple[Reals, Reals], squares: tuple[Reals, Reals, Reals], length: Reals,
    reach: Reals, halvings: int = _HALVINGS,
) -> Reals:  # fmt: skip
    """Where on each line (0 to 1) it is nearest to a cylinder of this length and radius `reach`.

    `along`: where the line begins along the cylinder's axis, and how far it goes; `squares`: of its
    begin across the axis, of that with its way across, of its way. Half the squared distance to a
    convex body is convex along a line: its slope has one zero.
    """
    (c, rises), (aa, ad, dd) = along, squares
    t, step = np.full_like(c, 0.5), 0.5
    for _ in range(halvings):
        z = c + rises * t
        rho = np.sqrt(np.maximum(aa + t * (2.0 * ad + t * dd), _TINY_M**2))
        out = np.maximum(1.0 - reach / rho, 0.0)
        beyond = z - np.minimum(np.maximum(z, 0.0), length)  # np.clip costs a few calls more
        before = beyond * rises + out * (ad + dd * t) < 0.0
        step *= 0.5
        t = t + np.where(before, step, -step).astype(t.dtype)
    return np.asarray(t)


def gap_slopes(
    shapes: Shapes, slopes: ShapeSlopes, meet: Meetings, near: Near, pairs: Indices
) -> Floats:
    """(r, n): how each distance grows with each dimension, metres per unit of the dimension."""
    moving, still = meet.moving[pairs], meet.still[pairs]
    own, other = _moving_shares(shapes, near, moving, meet.flat[pairs], still), _still_shares(near)
    out = np.zeros((len(pairs), slopes.count))
    for part in distinct(moving):
        rows = np.flatnonzero(moving == part)
        out[rows] = own[rows] @ slopes.of_parts[part]
    for part in distinct(still):
        rows = np.flatnonzero(still == part)
        out[rows] += slopes.height if part < 0 else other[rows] @ slopes.of_parts[part]
    return out


def _moving_shares(
    shapes: Shapes, near: Near, moving: Indices, flat: Mask, still: Indices
) -> Floats:
    """(r, 7): how each distance grows with places of the moving rod's two ends, and its radius."""
    n, u = near.normal, near.along_moving[:, None]
    axis = shapes.end_m[moving] - shapes.start_m[moving]
    length = np.maximum(np.sqrt((axis * axis).sum(axis=1)), _TINY_M)[:, None]
    a = axis / length
    along = (n * a).sum(axis=1)
    R = np.maximum(shapes.radius_m[moving], _TINY_M)
    level = np.sqrt(np.maximum(1.0 - along**2, _TINY_M))
    rim = (n - along[:, None] * a) * (R / level)[:, None]  # the lowest point above the ground
    off = np.where((still < 0)[:, None], rim, near.off_axis_m)
    # A flat end's rim goes along with the rod's turn off its own axis.
    across = off - (off * a).sum(axis=1)[:, None] * a
    turned = np.where(flat, along, 0.0)[:, None] * across / length
    outward = np.where(flat, (n * off).sum(axis=1) / R, 1.0)
    return -np.column_stack((n * (1.0 - u) + turned, n * u - turned, outward))


def _still_shares(near: Near) -> Floats:
    """(r, 7): the same of what stands still."""
    # The normal where nothing turns.
    n, t = np.einsum("ri,rij->rj", near.normal, near.turn), near.along_still[:, None]
    return np.column_stack((n * (1.0 - t), n * t, np.full(len(n), -1.0)))
