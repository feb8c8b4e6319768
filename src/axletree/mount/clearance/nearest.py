"""What comes nearest to what when the axes turn, and how near?

Parts that move against each other: all on the tube and on the shaft against tripod, base, polar
housing and ground. Parts of one frame never move against each other; shaft and weights lie on
the declination axis and the housing on the polar axis, so that a turn about that axis changes
nothing between them and the tube. The head's own housings are made to pass each other.
Tripod, base and housing count as rods with round ends; what moves has the ends it has.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.kit.frozen import dataclass
from axletree.mount.clearance.rods import (
    Line,
    Rod,
    Rods,
    line_to_rod,
    lines_to_rods,
    rod,
    rod_above_plane,
    stacked,
)
from axletree.mount.rig.kinematics import Axes, crossing_m, head_frame
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, POLAR, Rig
from axletree.sky.arrays import Floats, Indices

CHUNK = 8192
FEW = 900  # poses up to which all pairs are looked at together: the calls cost more than the sums
_TOGETHER = 180  # of those so many at once, for the processor's own memory
NEVER = 1e3  # metres: farther than any pair
# A declination housing turns close over base and polar housing by design.
_MADE_TO_PASS = {("declination housing", "mount base"), ("declination housing", "polar housing")}


@dataclass(frozen=True)
class Pair:
    """One thing that moves and one that it could meet."""

    moving: str
    other: str
    rod: Rod  # in the frame that it turns with
    static: int  # index into `Bodies.statics`, -1 for the ground
    radius: float  # of the static rod
    row: int  # of what moves, in the rig
    on_tube: bool  # turns with both axes, else with the hour axis only
    swing_only: bool  # unchanged by the hour axis

    @property
    def parts(self) -> tuple[str, str]:
        """Both parts: ('tube', 'south-east leg')."""
        return self.moving, self.other


@dataclass(frozen=True)
class Stack:
    """All pairs of a rig, a row each: what moves, and what it could meet."""

    rods: Rods
    start: Floats  # (3, n_pairs, 1), of the static segment; the ground's normal stands as a step
    step: Floats
    length2: Floats  # (n_pairs, 1)
    radius: Floats  # of the static part; far below 0 for the ground, which is reckoned apart
    still: Indices  # rows of what the swing doesn't turn
    ground: tuple[int, ...]  # rows of pairs with the ground


@dataclass(frozen=True)
class Bodies:
    """All pairs of a rig on given axes, ready for any number of poses.

    Statics are segments relative to the crossing, in components along the axis's meridian, the
    pole cross it, and the pole; `normal` is the ground's, `height_m` the crossing's above it.
    """

    pairs: tuple[Pair, ...]
    statics: tuple[tuple[Floats, Floats], ...]  # start, step
    normal: Floats
    height_m: float
    sense: int
    lean_rad: float
    constant_m: float  # least distance of pairs that no turn changes
    constant_parts: tuple[str, ...]  # those two; () without any

    @cached_property
    def stack(self) -> Stack:
        """All pairs in arrays."""
        both = [segment_of(self, pair.static) for pair in self.pairs]
        step = np.stack([s for _, s in both], axis=1)[:, :, None]
        return Stack(
            rods=stacked([pair.rod for pair in self.pairs]),
            start=np.stack([s for s, _ in both], axis=1)[:, :, None],
            step=step,
            length2=(step * step).sum(axis=0),
            radius=np.array([[pair.radius if pair.static >= 0 else -NEVER] for pair in self.pairs]),
            still=np.flatnonzero([not pair.on_tube for pair in self.pairs]),
            ground=tuple(k for k, pair in enumerate(self.pairs) if pair.static < 0),
        )

    @cached_property
    def reach_m(self) -> float:
        """Distance of the farthest point that moves from the crossing of the axes, at most."""
        return max(one.rod.reach for one in {pair.row: pair for pair in self.pairs}.values())

    def parts(self, pair: int) -> tuple[str, ...]:
        """Both things of a pair, by its number; () for none."""
        return self.pairs[pair].parts if 0 <= pair < len(self.pairs) else ()


def bodies(rig: Rig, axes: Axes) -> Bodies:
    """The pairs of a rig that can meet, on given axes."""
    cross = crossing_m(rig, axes)
    basis = np.stack((axes.meridian, np.cross(axes.pole, axes.meridian), axes.pole))
    head = head_frame(axes)
    statics: list[tuple[Floats, Floats]] = []
    static_rows: list[int] = []
    for k in range(len(rig.names)):
        a, b = rig.start_m[k], rig.end_m[k]
        if rig.frame[k] == GROUND:
            a, b = a - cross, b - cross
        elif rig.frame[k] == HEAD:
            a, b = head @ a, head @ b
        else:
            continue
        statics.append((basis @ a, basis @ (b - a)))
        static_rows.append(k)
    cone = math.radians(axes.cone_arcmin / 60.0)
    # The tube's own frame as seen from the declination axis: x to its end, z where an ideal
    # tube looks.
    c, s = math.cos(cone), math.sin(cone)
    tilt = np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])
    pairs: list[Pair] = []
    for k, name in enumerate(rig.names):
        on_tube = bool(rig.frame[k] == DECLINATION)
        if not on_tube and rig.frame[k] != POLAR:
            continue
        turn = tilt if on_tube else np.eye(3)
        body = rod(turn @ rig.start_m[k], turn @ rig.end_m[k], rig.radius_m[k], rig.flat[k])
        for i, row in enumerate(static_rows):
            other = rig.names[row]
            housing = bool(rig.frame[row] == HEAD)
            if (name, other) in _MADE_TO_PASS or (housing and not on_tube):
                continue
            radius = float(rig.radius_m[row])
            pairs.append(Pair(name, other, body, i, radius, k, on_tube, housing))
        pairs.append(Pair(name, "ground", body, -1, 0.0, k, on_tube, False))
    constant, parts = _constant(rig)
    return Bodies(
        pairs=tuple(pairs),
        statics=tuple(statics),
        normal=basis @ rig.ground_normal,
        height_m=float(rig.ground_normal @ cross),
        sense=axes.sense,
        lean_rad=math.radians(axes.lean_arcmin / 60.0),
        constant_m=constant,
        constant_parts=parts,
    )


def _constant(rig: Rig) -> tuple[float, tuple[str, ...]]:
    """Least distance between what rides beside the tube and what lies on the declination axis.

    Neither axis changes it. Tube, dovetail and what is fixed to them touch the saddle by design.
    """
    best = NEVER
    parts: tuple[str, ...] = ()
    resting = {"tube", "dovetail", "dew shield", "focuser"}
    for k, name in enumerate(rig.names):
        if rig.frame[k] != DECLINATION or name in resting:
            continue
        body = rod(rig.start_m[k], rig.end_m[k], rig.radius_m[k], rig.flat[k])
        for j, other in enumerate(rig.names):
            if rig.frame[j] != POLAR:
                continue
            step = rig.end_m[j] - rig.start_m[j]
            line = (*rig.start_m[j][:, None], *step[:, None])
            gap = float(line_to_rod(line, float(step @ step), body)[0] - rig.radius_m[j])
            if gap < best:
                best, parts = gap, (name, other)
    return best, parts


def polar_line(b: Bodies, start: Floats, step: Floats, cos_h: Floats, sin_h: Floats) -> Line:
    """A static segment in the POLAR frame at hour angles of the tube's end.

    The frame turns by -sense times the hour angle, right-handed about the pole.
    """
    s = b.sense
    ci, si = math.cos(b.lean_rad), math.sin(b.lean_rad)
    out = []
    for v in (start, step):
        x = cos_h * v[0] - s * sin_h * v[1]
        y = s * sin_h * v[0] + cos_h * v[1]
        if b.lean_rad == 0.0:
            out += [x, y, np.full_like(x, v[2])]
        else:
            out += [ci * x + si * v[2], y, ci * v[2] - si * x]
    return (out[0], out[1], out[2], out[3], out[4], out[5])


def swung_line(line: Line, cos_w: Floats, sin_w: Floats) -> Line:
    """The same segment in the frame of the tube, swung about the declination axis."""
    x, q, z, sx, sq, sz = line
    return (x, cos_w * q - sin_w * z, sin_w * q + cos_w * z,
            sx, cos_w * sq - sin_w * sz, sin_w * sq + cos_w * sz)  # fmt: skip


def apart(b: Bodies, pair: Pair, line: Line, limit: Floats | None = None) -> Floats:
    """Distance of one pair, the static segment or the ground's normal given in its frame."""
    if pair.static < 0:
        return rod_above_plane(line[3], line[4], line[5], b.height_m, pair.rod)
    step = b.statics[pair.static][1]
    if limit is not None:
        limit = limit + pair.radius
    return line_to_rod(line, float(step @ step), pair.rod, limit) - pair.radius


_ORIGIN = np.zeros(3)


def segment_of(b: Bodies, static: int) -> tuple[Floats, Floats]:
    """Start and step of a static part; -1 gives the ground's normal as a step."""
    return b.statics[static] if static >= 0 else (_ORIGIN, b.normal)


def distances(
    b: Bodies, tube_end_h: ArrayLike, swing_deg: ArrayLike, pairs: ArrayLike | None = None
) -> Floats:
    """Distance of every pair in every pose, (n_pairs, ...), metres; negative means contact."""
    h, w = np.broadcast_arrays(
        np.asarray(tube_end_h, dtype=np.float64), np.asarray(swing_deg, dtype=np.float64)
    )
    chosen = range(len(b.pairs)) if pairs is None else np.asarray(pairs).tolist()
    out = np.empty((len(chosen), h.size))
    flat_h, flat_w = h.ravel(), w.ravel()
    for begin in range(0, h.size, CHUNK):
        part = slice(begin, begin + CHUNK)
        for row, (k, line) in enumerate(_lines(b, flat_h[part], flat_w[part], chosen)):
            out[row, part] = apart(b, b.pairs[k], line)
    return out.reshape(len(chosen), *h.shape)


def _turns(tube_end_h: Floats, swing_deg: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Cosine and sine of the hour axis' turn, then of the swing."""
    h, w = tube_end_h * (math.pi / 12), np.radians(swing_deg)
    return np.cos(h), np.sin(h), np.cos(w), np.sin(w)


def _lines(
    b: Bodies, tube_end_h: Floats, swing_deg: Floats, pairs: Iterable[int]
) -> Iterator[tuple[int, Line]]:
    """Each pair's static segment in the frame of its moving rod."""
    ch, sh, cw, sw = _turns(tube_end_h, swing_deg)
    polar: dict[int, Line] = {}
    swung: dict[int, Line] = {}
    for k in pairs:
        static = b.pairs[k].static
        if static not in polar:
            polar[static] = polar_line(b, *segment_of(b, static), ch, sh)
        if not b.pairs[k].on_tube:
            yield k, polar[static]
            continue
        if static not in swung:
            swung[static] = swung_line(polar[static], cw, sw)
        yield k, swung[static]


def least_distance(
    b: Bodies, tube_end_h: ArrayLike, swing_deg: ArrayLike
) -> tuple[Floats, NDArray[np.int16]]:
    """The least distance in every pose, metres, and the number of the pair that it belongs to.

    Shapes broadcast. Negative means that the pair is in contact. `Bodies.parts` names the pair.
    """
    h, w = np.broadcast_arrays(
        np.asarray(tube_end_h, dtype=np.float64), np.asarray(swing_deg, dtype=np.float64)
    )
    flat_h, flat_w = h.ravel(), w.ravel()
    best = np.full(h.size, NEVER)
    which = np.full(h.size, -1, dtype=np.int16)
    if h.size <= FEW:
        for begin in range(0, h.size, _TOGETHER):
            part = slice(begin, begin + _TOGETHER)
            found = _together(b, flat_h[part], flat_w[part])
            best[part], which[part] = found.min(axis=0), found.argmin(axis=0)
        return best.reshape(h.shape), which.reshape(h.shape)
    for begin in range(0, h.size, CHUNK):
        part = slice(begin, begin + CHUNK)
        near, pair = best[part], which[part]
        for k, lines in _lines(b, flat_h[part], flat_w[part], range(len(b.pairs))):
            found = apart(b, b.pairs[k], lines, near)
            nearer = found < near
            near[nearer] = found[nearer]
            pair[nearer] = k
    return best.reshape(h.shape), which.reshape(h.shape)


def _together(b: Bodies, tube_end_h: Floats, swing_deg: Floats) -> Floats:
    """All pairs in few poses at once, (n_pairs, n): exact where it is the least of a pose."""
    many = b.stack
    ch, sh, cw, sw = _turns(tube_end_h, swing_deg)
    polar = polar_line(b, many.start, many.step, ch, sh)
    swung = swung_line(polar, cw, sw)
    rows = many.still
    for turned, still in zip(swung, polar, strict=True):
        if turned is not still:
            turned[rows] = still[rows]
    out = lines_to_rods(swung, many.length2, many.rods, many.radius)
    _, _, _, sx, sy, sz = swung
    for k in many.ground:
        out[k] = rod_above_plane(sx[k], sy[k], sz[k], b.height_m, b.pairs[k].rod)
    return out
