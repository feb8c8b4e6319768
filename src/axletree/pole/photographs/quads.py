"""Which four stars look alike, whatever the turn and the scale of the picture?

A quad of four directions becomes four numbers that neither turning nor scaling changes: where two
of the stars stand when the two that are farthest apart are put at 0 and 1 of the complex plane.
Quads of neighbours are sorted into a table by these numbers and looked up there.
Source: D. Lang, D. W. Hogg, K. Mierle, M. Blanton and S. Roweis 2010, AJ 139, 1782 (from memory).
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Indices

_CELLS = 4096  # along each of the four numbers of a key


@dataclass(frozen=True)
class Quads:
    """Quads (n): `stars` (n, 4) rows in the list they come from, in the code's own order; `codes`
    (n, 4); `size_rad` (n,): between the two stars farthest apart."""

    stars: Indices
    codes: Floats
    size_rad: Floats

    def __len__(self) -> int:
        return len(self.size_rad)


def neighbours(directions: Floats, count: int) -> Indices:
    """The `count` nearest others of each of directions (n, 3): (n, count), nearest first."""
    n = len(directions)
    count = min(count, n - 1)
    if n <= 1500:
        near = directions @ directions.T
        np.fill_diagonal(near, -2.0)
        part = np.argpartition(-near, count - 1, axis=1)[:, :count]
        order = np.argsort(-np.take_along_axis(near, part, axis=1), axis=1)
        return np.take_along_axis(part, order, axis=1)
    # Many stars: only those in the cells of a grid of space about each are looked at.
    some = directions[:: max(n // 150, 1)]
    reach = np.partition(-(some @ directions.T), count, axis=1)[:, count]
    step = 1.05 * float(np.sqrt(2.0 * (1.0 + np.quantile(reach, 0.85))))
    cell = np.floor((directions + 1.0) / step).astype(np.int64)
    wide = int(cell.max()) + 3
    key = ((cell[:, 0] + 1) * wide + cell[:, 1] + 1) * wide + cell[:, 2] + 1
    order = np.argsort(key, kind="stable")
    sorted_key = key[order]
    mine, theirs = [], []
    for offset in [
        (i * wide + j) * wide + k for i in (-1, 0, 1) for j in (-1, 0, 1) for k in (-1, 0, 1)
    ]:
        first = np.searchsorted(sorted_key, key + offset, side="left")
        held = np.searchsorted(sorted_key, key + offset, side="right") - first
        rows, within = counted(held)
        mine.append(rows)
        theirs.append(order[first[rows] + within])
    a, b = np.concatenate(mine), np.concatenate(theirs)
    away = np.einsum("ij,ij->i", directions[a], directions[b])
    away[a == b] = -2.0
    ranked = np.lexsort((-away, a))
    a, b = a[ranked], b[ranked]
    rank = np.arange(len(a)) - np.searchsorted(a, a, side="left")
    # One with too few about it keeps itself for a neighbour, and makes no quads.
    who = np.repeat(np.arange(n)[:, None], count, axis=1)
    kept = rank < count
    who[a[kept], rank[kept]] = b[kept]
    return who


def counted(counts: Indices) -> tuple[Indices, Indices]:
    """Each row as often as it counts, and the number of each time from 0."""
    rows = np.repeat(np.arange(len(counts)), counts)
    ends = np.cumsum(counts)
    return rows, np.arange(len(rows)) - np.repeat(ends - counts, counts)


def quads_of(directions: Floats, among: int = 5) -> Quads:
    """Quads of each direction (n, 3) with three of its `among` nearest neighbours."""
    n = len(directions)
    if n < 4:
        return Quads(np.zeros((0, 4), int), np.zeros((0, 4)), np.zeros(0))
    near = neighbours(directions, min(among, n - 1))
    trios = np.array(list(combinations(range(near.shape[1]), 3)))
    own = np.repeat(np.arange(n), len(trios))
    sets = np.concatenate([own[:, None], near[:, trios].reshape(-1, 3)], axis=1)
    sets = np.sort(sets, axis=1)
    sets = sets[np.all(sets[:, 1:] > sets[:, :-1], axis=1)]
    key = ((sets[:, 0] * n + sets[:, 1]) * n + sets[:, 2]) * n + sets[:, 3] if n < 50_000 else None
    if key is not None:
        _, first = np.unique(key, return_index=True)
        sets = sets[first]
    return _coded(sets, directions)


def _coded(sets: Indices, directions: Floats) -> Quads:
    four = directions[sets]
    middle = four.mean(axis=1)
    middle /= np.linalg.norm(middle, axis=-1, keepdims=True)
    # Any two directions square to the middle, right-handed about it.
    helper = np.where(np.abs(middle[:, 2:]) < 0.7, [[0.0, 0.0, 1.0]], [[1.0, 0.0, 0.0]])
    across = np.cross(helper, middle)
    across /= np.linalg.norm(across, axis=-1, keepdims=True)
    along = np.cross(middle, across)
    toward = np.einsum("nki,ni->nk", four, middle)
    flat = np.einsum("nki,ni->nk", four, across) + 1j * np.einsum("nki,ni->nk", four, along)
    flat = flat / np.maximum(toward, 0.1)
    pairs = np.array(list(combinations(range(4), 2)))
    apart = np.abs(flat[:, pairs[:, 0]] - flat[:, pairs[:, 1]])
    widest = np.argmax(apart, axis=1)
    a, b = pairs[widest].T
    rest = np.array([[k for k in range(4) if k not in pair] for pair in pairs])[widest]
    rows = np.arange(len(sets))
    base = flat[rows, a]
    span = flat[rows, b] - base
    kept = np.abs(span) > 1e-7
    span = np.where(kept, span, 1.0)
    c = (flat[rows, rest[:, 0]] - base) / span
    d = (flat[rows, rest[:, 1]] - base) / span
    turned = c.real + d.real > 1.0
    a, b = np.where(turned, b, a), np.where(turned, a, b)
    c, d = np.where(turned, 1.0 - c, c), np.where(turned, 1.0 - d, d)
    swap = c.real > d.real
    first, second = np.where(swap, rest[:, 1], rest[:, 0]), np.where(swap, rest[:, 0], rest[:, 1])
    c, d = np.where(swap, d, c), np.where(swap, c, d)
    order = np.stack([a, b, first, second], axis=1)
    stars = np.take_along_axis(sets, order, axis=1)
    codes = np.stack([c.real, c.imag, d.real, d.imag], axis=1)
    size = 2.0 * np.arctan(np.abs(span) / 2.0)
    return Quads(stars[kept], codes[kept], size[kept])


def alike(
    picture: Quads, sky: Quads, code_tolerance: float, size_ratio: tuple[float, float] | None
) -> tuple[Indices, Indices]:
    """Rows of quads of the picture and of the sky that look alike.

    Each number of the codes within `code_tolerance`; the size in the sky within `size_ratio` of
    that in the picture, where the scale is known.
    """
    if not len(picture) or not len(sky):
        return np.zeros(0, int), np.zeros(0, int)
    step = 2.0 * code_tolerance
    table = np.floor((sky.codes + 1.0) / step).astype(np.int64)
    key = _key(table)
    order = np.argsort(key, kind="stable")
    sorted_key = key[order]
    at = (picture.codes + 1.0) / step
    own = np.floor(at).astype(np.int64)
    side = np.where(at - own < 0.5, -1, 1)
    mine, theirs = [], []
    for choice in range(16):
        bits = np.array([(choice >> k) & 1 for k in range(4)])
        looked = _key(own + side * bits)
        first = np.searchsorted(sorted_key, looked, side="left")
        count = np.searchsorted(sorted_key, looked, side="right") - first
        rows, within = counted(count)
        mine.append(rows)
        theirs.append(order[first[rows] + within])
    p, s = np.concatenate(mine), np.concatenate(theirs)
    close = np.abs(picture.codes[p] - sky.codes[s]).max(axis=1) < code_tolerance
    if size_ratio is not None:
        ratio = sky.size_rad[s] / picture.size_rad[p]
        close &= (ratio > size_ratio[0]) & (ratio < size_ratio[1])
    return p[close], s[close]


def _key(cells: Indices) -> Indices:
    held = np.clip(cells, 0, _CELLS - 1)
    return np.asarray(
        ((held[:, 0] * _CELLS + held[:, 1]) * _CELLS + held[:, 2]) * _CELLS + held[:, 3]
    )
