"""Rigs drawn from the errors of their dimensions, each followed until it touches: other code.

Rigs are built one by one; places come from `mount.rig.kinematics.placed`, distances of convex
bodies from alternating projections (W. Cheney and A. A. Goldstein 1959, Proc. AMS 10, 448), not
from `mount.clearance` and not from slopes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.mount.dimensions.changed import with_dimensions
from axletree.mount.dimensions.of_kit import Dimensions, dimensions_of
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import Axes, axis_angles, placed
from axletree.mount.rig.parts import GROUND, HEAD, POLAR, Rig

# Parts that ride or turn, against what stands; a declination housing is made to pass the head.
_PASSES = {("declination housing", "mount base"), ("declination housing", "polar housing")}
_ROUNDS = 60


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
    """So many rigs whose dimensions follow the normal distribution; those that can't be built are
    drawn anew. They carry the weights of the kit's own rig, where that balances them or not."""
    rng = np.random.default_rng(seed)
    first = build_rig(kit)
    values, vectors = np.linalg.eigh(known.covariance)
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    rigs: list[Rig] = []
    while len(rigs) < count:
        off = root @ rng.standard_normal(len(known.values))
        try:
            made = with_dimensions(kit, known.values + off, known.names)
            rig = build_rig(made)
        except AxletreeError:
            continue
        rigs.append(rig if rig.names == first.names else build_rig(made, loading=first.loading))
    return DrawnRigs(rigs, axes)


def first_touch_h(
    drawn: DrawnRigs, side: int, hour_angle_h: float, declination_deg: float, hours: np.ndarray,
    limit_m: float = 0.0, within_m: float = 0.05,
) -> np.ndarray:  # fmt: skip
    """Of each rig, hours until a pair first comes below the limit; inf where none does.

    `hours` are the moments looked at, straight lines between them. Pairs that on each of the
    first 60 rigs stay farther apart than `within_m` aren't looked at.
    """
    end, swing = axis_angles(drawn.axes, side, hour_angle_h + hours, declination_deg)
    ends = [placed(rig, drawn.axes, end, swing) for rig in drawn.rigs]
    start = np.stack([a for a, _ in ends])  # (rigs, poses, parts, 3)
    stop = np.stack([b for _, b in ends])
    radius = np.stack([rig.radius_m for rig in drawn.rigs])
    first = np.full(len(drawn.rigs), np.inf)
    rig = drawn.rigs[0]
    for moving, still in _pairs(rig):
        flat = bool(rig.flat[moving])
        body = start[:, :, moving], stop[:, :, moving], radius[:, moving][:, None]
        if still < 0:
            gap = _above_ground(*body, flat, rig.ground_normal)
        else:
            other = start[:, :, still], stop[:, :, still]
            if _apart(*(x[:60] for x in (*body, *other)), flat).min() - radius[0, still] > within_m:
                continue
            gap = _apart(*body, *other, flat) - radius[:, still][:, None]
        first = np.minimum(first, _crossing(hours, gap - limit_m))
    return first


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


def _apart(a, b, radius, c, d, flat):
    """Distance of the bodies from `a` to `b` to the lines from `c` to `d`, (rigs, poses)."""
    axis = b - a
    length = np.linalg.norm(axis, axis=-1, keepdims=True)
    axis = axis / np.maximum(length, 1e-9)
    reach = (radius if flat else 0.0 * radius)[..., None]
    line = d - c
    square = np.maximum((line**2).sum(axis=-1, keepdims=True), 1e-18)
    point = c + 0.5 * line
    for _ in range(_ROUNDS):
        along = ((point - a) * axis).sum(axis=-1, keepdims=True)
        off = point - a - along * axis
        far = np.linalg.norm(off, axis=-1, keepdims=True)
        inner = off * np.minimum(1.0, reach / np.maximum(far, 1e-12))
        body = a + np.clip(along, 0.0, length) * axis + inner
        t = ((body - c) * line).sum(axis=-1, keepdims=True) / square
        point = c + np.clip(t, 0.0, 1.0) * line
    gap = np.linalg.norm(point - body, axis=-1)
    return gap if flat else gap - radius


def _above_ground(a, b, radius, flat, normal):
    slope = ((b - a) @ normal) / np.maximum(np.linalg.norm(b - a, axis=-1), 1e-12)
    drop = radius * np.sqrt(np.maximum(1.0 - slope**2, 0.0)) if flat else radius
    return np.minimum(a @ normal, b @ normal) - drop


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
