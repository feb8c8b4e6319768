"""Rigs drawn from the errors of their dimensions, each followed until it touches: other code.

Rigs are built one by one; places come from `mount.rig.kinematics.frames`, distances of convex
bodies from alternating projections (W. Cheney and A. A. Goldstein 1959, Proc. AMS 10, 448), not
from `mount.clearance` and not from slopes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.balance.weights import Loading, loading_at
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import Dimensions, dimensions_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import Axes, axis_angles, crossing_m, frames, head_frame
from axletree.mount.rig.parts import DECLINATION, GROUND, HEAD, POLAR, Rig

# Parts that ride or turn, against what stands; a declination housing is made to pass the head.
_PASSES = {("declination housing", "mount base"), ("declination housing", "polar housing")}
_ROUNDS = 60
_AT_ONCE = 8  # steps of the way
# Parts come nearer by less than this from one moment looked at to the next.
_NEAR_M = 0.15


@dataclass(frozen=True)
class DrawnRigs:
    """Rigs of the same parts, whose names and frames are those of `rigs[0]`."""

    rigs: list[Rig]
    axes: Axes


def lengths_known_to(kit: Kit, share: float) -> Dimensions:
    """Every length known to so large a share of itself, all else as good as exactly."""
    known = dimensions_of(kit)
    sigma = np.array([
        share * abs(value) if name.endswith("_mm") else 1e-6
        for name, value in zip(known.names, known.values, strict=True)
    ])  # fmt: skip
    return replace(known, sigmas=sigma, covariance=np.diag(sigma**2))


def draw(kit: Kit, axes: Axes, known: Dimensions, count: int, seed: int) -> DrawnRigs:
    """So many rigs whose dimensions follow the normal distribution; those that can't be built, or
    that lose a part (a length drawn below nothing), are drawn anew. They carry the weights of the
    kit's own rig, slid to where these balance or as near as they come.
    """
    rng = np.random.default_rng(seed)
    first = build_rig(kit)
    values, vectors = np.linalg.eigh(known.covariance)
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    rigs: list[Rig] = []
    while len(rigs) < count:
        off = root @ rng.standard_normal(len(known.values))
        try:
            made = hung_with(with_dimensions(kit, known.values + off, known.names), kit, first)
            rig = build_rig(made)
            if rig.names != first.names:
                rig = build_rig(made, loading=slid(first, rig, made))
        except AxletreeError:
            continue
        if rig.names == first.names:
            rigs.append(rig)
    return DrawnRigs(rigs, axes)


def hung_with(made: Kit, kit: Kit, rig: Rig) -> Kit:
    """Of the weights of a drawn kit those that the rig of the kit itself carries."""
    left = list(zip(rig.loading.mass_kg, rig.loading.thickness_mm, strict=True))
    kept = []
    for own, drawn in zip(kit.mount.weights, made.mount.weights, strict=True):
        number = min(own.count, left.count((own.mass_kg, own.thickness_mm)))
        for _ in range(number):
            left.remove((own.mass_kg, own.thickness_mm))
        if number:
            kept.append(drawn.model_copy(update={"count": number}))
    assert not left
    mount = made.mount.model_copy(update={"weights": tuple(kept)})
    return made.model_copy(update={"mount": mount})


def slid(first: Rig, fewer: Rig, made: Kit) -> Loading:
    """All weights of the kit's own rig, in its order, where fewer of them would balance a drawn
    rig: the block's place by the law of the lever, kept on the shaft."""
    moment = sum(
        m * x for m, x in zip(fewer.loading.mass_kg, fewer.loading.position_mm, strict=True)
    )
    moment += 1000.0 * fewer.loading.leftover_kg_m
    head, left, order = made.mount.head, list(made.mount.weights), []
    for mass in first.loading.mass_kg:
        nearest = min(left, key=lambda weight: abs(weight.mass_kg / mass - 1.0))
        order.append(nearest)
        if order.count(nearest) == nearest.count:
            left.remove(nearest)
    faces = np.cumsum([0.0, *(weight.thickness_mm for weight in order)])
    middles = head.shaft_start_mm + (faces[1:] + faces[:-1]) / 2.0
    masses = np.array([weight.mass_kg for weight in order])
    off = (moment - masses @ middles) / masses.sum()
    off = float(np.clip(off, 0.0, head.shaft_length_mm - faces[-1]))
    return loading_at(
        [(weight, face + off) for weight, face in zip(order, faces[:-1], strict=True)],
        head.shaft_start_mm, head.shaft_length_mm,
    )  # fmt: skip


def first_touch_h(
    drawn: DrawnRigs, side: int, hour_angle_h: float, declination_deg: float, hours: np.ndarray,
    limit_m: float | np.ndarray = 0.0, within_m: float = 0.05,
) -> np.ndarray:  # fmt: skip
    """Of each rig, hours until a pair first comes below the limit; inf where none does."""
    side_way = side, hour_angle_h, declination_deg
    return first_touch(drawn, side_way, hours, limit_m, within_m)[0]


def first_touch(
    drawn: DrawnRigs, way: tuple[int, float, float], hours: np.ndarray,
    limit_m: float | np.ndarray = 0.0, within_m: float = 0.05,
) -> tuple[np.ndarray, list[tuple[str, str]]]:  # fmt: skip
    """The same, and by which parts, on a way: side, hour angle, declination.

    `hours` are the moments looked at, straight lines between them; `limit_m` may be (rigs, 1).
    Pairs that on each of the first 60 rigs stay farther apart than `within_m` aren't looked at.
    """
    side, hour_angle_h, declination_deg = way
    places = _Places.of(drawn, side, hour_angle_h + hours, declination_deg)
    limit = np.broadcast_to(np.asarray(limit_m, dtype=float).reshape(-1, 1), (places.count, 1))
    some = np.arange(min(60, places.count))
    every = np.arange(len(hours))
    near = [
        pair for pair in _pairs(drawn.rigs[0])
        if pair[1] < 0
        or places.gaps(pair, some, every, limit[some] + within_m).min() <= within_m
    ]  # fmt: skip
    first, which = np.full(places.count, np.inf), np.zeros(places.count, dtype=int)
    # Rigs that have met aren't followed; each part of the way begins where that before it ends.
    for begin in range(0, max(1, len(hours) - 1), _AT_ONCE):
        going = np.flatnonzero(np.isinf(first))
        if not going.size:
            break
        at = every[begin : begin + _AT_ONCE + 1]
        for k, pair in enumerate(near):
            gaps = places.gaps(pair, going, at, limit[going])
            met = _crossing(hours[at], gaps - limit[going])
            sooner = met < first[going]
            first[going[sooner]], which[going[sooner]] = met[sooner], k
    names = (*drawn.rigs[0].names, "ground")
    return first, [(names[near[k][0]], names[near[k][1]]) for k in which]


@dataclass(frozen=True)
class _Places:
    """Ends of all rods from the crossing (rigs, parts, 3), still ones as they stand, the others
    before the turns (poses, 3, 3) of their frames; crossings (rigs, 3) from the ground."""

    rig: Rig
    start: np.ndarray
    end: np.ndarray
    radius: np.ndarray
    cross: np.ndarray
    turns: dict[int, np.ndarray]

    @staticmethod
    def of(
        drawn: DrawnRigs, side: int, hour_angle_h: np.ndarray, declination_deg: float
    ) -> _Places:
        axes, rig = drawn.axes, drawn.rigs[0]
        polar, tube = frames(axes, *axis_angles(axes, side, hour_angle_h, declination_deg))
        cross = np.stack([crossing_m(one, axes) for one in drawn.rigs])
        ends = []
        for name in ("start_m", "end_m"):
            place = np.stack([getattr(one, name) for one in drawn.rigs])
            ground, head = rig.frame == GROUND, rig.frame == HEAD
            place[:, ground] -= cross[:, None]
            place[:, head] = place[:, head] @ head_frame(axes).T
            ends.append(place)
        radius = np.stack([one.radius_m for one in drawn.rigs])
        return _Places(rig, *ends, radius, cross, {POLAR: polar, DECLINATION: tube})

    @property
    def count(self) -> int:
        return len(self.start)

    def gaps(
        self, pair: tuple[int, int], rigs: np.ndarray, poses: np.ndarray, limit: np.ndarray
    ) -> np.ndarray:
        """(rigs, poses) of some of both; right where nearer than the limit (rigs, 1) and `_NEAR_M`
        more, elsewhere at least that."""
        moving, still = pair
        turn, flat = self.turns[int(self.rig.frame[moving])][poses], bool(self.rig.flat[moving])
        a, b = (
            np.einsum("pij,rj->irp", turn, ends[rigs, moving]) for ends in (self.start, self.end)
        )
        shape = a.shape[1:]
        radius = np.broadcast_to(self.radius[rigs, moving][:, None], shape)
        if still < 0:
            cross = self.cross[rigs].T[:, :, None]
            return _above_ground(a + cross, b + cross, radius, flat, self.rig.ground_normal)
        c, d = (
            np.broadcast_to(ends[rigs, still].T[:, :, None], a.shape)
            for ends in (self.start, self.end)
        )
        round_off = self.radius[rigs, still][:, None] + (0.0 if flat else radius)
        far = np.broadcast_to(limit + round_off + _NEAR_M, shape)
        rows = [one.reshape(3, -1) for one in (a, b, c, d)]
        reach = (radius if flat else 0.0 * radius).ravel()
        return _apart(*rows, reach, far.ravel()).reshape(shape) - round_off


def _pairs(rig: Rig) -> list[tuple[int, int]]:
    still = [k for k in range(len(rig.names)) if rig.frame[k] in (GROUND, HEAD)]
    made = []
    for k, name in enumerate(rig.names):
        if k in still:
            continue
        shaft = rig.frame[k] == POLAR
        for j in still:
            if (name, rig.names[j]) in _PASSES or (shaft and rig.frame[j] == HEAD):
                continue
            made.append((k, j))
        made.append((k, -1))
    return made


def _apart(a, b, c, d, reach, far):
    """Distances of cylinders from `a` to `b` (3, n) of radius `reach` (n,) to the lines from `c`
    to `d`, to 0.02 mm; where that is more than `far`, no less than it.

    Both are bounded: from above by two points, from below by the plane between these.
    """
    axis = b - a
    length = np.sqrt(_dot(axis, axis))
    axis = axis / np.maximum(length, 1e-9)
    line = d - c
    square = np.maximum(_dot(line, line), 1e-18)
    out, rows = np.empty(len(reach)), np.arange(len(reach))
    point = c + 0.5 * line
    for turn in range(_ROUNDS):
        along = _dot(point - a, axis)
        off = point - a - along * axis
        inner = off * np.minimum(1.0, reach / np.maximum(np.sqrt(_dot(off, off)), 1e-12))
        body = a + np.clip(along, 0.0, length) * axis + inner
        t = _dot(body - c, line) / square
        point = c + np.clip(t, 0.0, 1.0) * line
        if turn % 3 != 2 and turn < _ROUNDS - 1:
            continue
        away = point - body
        size = np.sqrt(_dot(away, away))
        n = away / np.maximum(size, 1e-12)
        lean = _dot(n, axis)
        rim = reach * np.sqrt(np.maximum(1.0 - lean**2, 0.0))
        least = np.minimum(_dot(n, c), _dot(n, d)) - rim
        least -= np.maximum(_dot(n, a), _dot(n, b))
        out[rows] = size
        open_ = np.flatnonzero((size - least > 2e-5) & (least < far))
        if not open_.size:
            break
        if len(open_) < 0.8 * len(rows):
            rows, far, length = rows[open_], far[open_], length[open_]
            a, b, c, d, axis, line, point = (
                one[:, open_] for one in (a, b, c, d, axis, line, point)
            )
            reach, square = reach[open_], square[open_]
    return out


def _dot(a, b):
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _above_ground(a, b, radius, flat, normal):
    axis = b - a
    slope = np.tensordot(normal, axis, 1) / np.maximum(np.sqrt(_dot(axis, axis)), 1e-12)
    drop = radius * np.sqrt(np.maximum(1.0 - slope**2, 0.0)) if flat else radius
    return np.minimum(np.tensordot(normal, a, 1), np.tensordot(normal, b, 1)) - drop


def _crossing(hours: np.ndarray, left: np.ndarray) -> np.ndarray:
    """Where rows first go below zero."""
    below = left < 0.0
    out = np.full(len(left), np.inf)
    for k in np.flatnonzero(below.any(axis=1)):
        i = int(below[k].argmax())
        if i == 0:
            out[k] = hours[0]
            continue
        u, v = left[k, i - 1], left[k, i]
        out[k] = hours[i] - (hours[i] - hours[i - 1]) * v / (v - u)
    return out
