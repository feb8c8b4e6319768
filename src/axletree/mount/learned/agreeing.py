"""Which rigs agree with the notes, and where do they lie?

What notes leave open is a normal distribution only while distances are straight in the dimensions
and nobody asks for other pairs: it is cut off where another one would have been nearer than the one
noted. So rigs are drawn from that normal distribution, distances worked out and the rigs weighed
(importance sampling, e.g. C. P. Robert and G. Casella, Monte Carlo Statistical Methods, 2004, 3.3,
from memory); then they are drawn again as often as they weigh.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.mount.learned.expected import NotedPoses
from axletree.mount.sure.passage import NEARER_SIGMAS
from axletree.mount.sure.shapes import Shapes
from axletree.mount.sure.spread import DRAWN, normals
from axletree.sky.arrays import Floats, Indices

PROPOSED = 4 * DRAWN
_TRIED = 256  # rigs by which it is judged how likely a way is
_CLOSING_H = 0.1  # to either side of a pose, over which it is asked how fast a gap closes
_SLOWEST_M = 1e-6  # so little does a gap close at least, or nothing would be left
_FLAT = 0.02  # what tells less than this part of the most told counts as nothing told


@dataclass(frozen=True, eq=False)
class NotedGaps:
    """m notes as they weigh rigs: poses, gaps, where the n dimensions of each one's rig stand among
    the N numbers (m, n), and whether the object was followed until the gap was so small."""

    poses: NotedPoses
    gap_m: Floats
    places: Indices
    waited_for: Sequence[bool]


@dataclass(frozen=True, eq=False)
class NotedOf:
    """One way to say of which pair (m,) each note is, and what it leaves: `off`, the likeliest
    numbers (N,). Near the numbers `at`, where the rods of each note's rig are `shapes`, the notes
    say that `slopes` (m, N) times the numbers is `said_m` (m,), with a variance (m,) that holds the
    pose's error. `misfit`: minus twice the logarithm of how likely the notes are then."""

    pairs: Indices
    off: Floats
    at: Floats
    shapes: Sequence[Shapes]
    slopes: Floats
    said_m: Floats
    variance: Floats
    misfit: float


@dataclass(frozen=True, eq=False)
class Agreeing:
    """Rigs that agree with the notes: mean (N,) and covariance (N, N) of the numbers, and those of
    DRAWN rigs as deviations from the mean (N, DRAWN); which of the ways is the likeliest."""

    mean: Floats
    covariance: Floats
    drawn: Floats
    way: int


def agreeing(notes: NotedGaps, ways: Sequence[NotedOf], covariance: Floats) -> Agreeing:
    """The rigs that agree with the notes, of a normal distribution with this covariance (N, N)
    before them."""
    values, vectors = np.linalg.eigh(covariance)
    kept = values > 1e-12 * values.max(initial=0.0)
    size = np.sqrt(values[kept])
    root, back = vectors[:, kept] * size, (vectors[:, kept] / size).T
    best = _likeliest(notes, ways, root, back)
    drawn = _drawn_of(ways[best], root, back, normals(root.shape[1], PROPOSED))
    weight, told = _weight(notes, ways[best], root, drawn - (back @ ways[best].at)[:, None])
    share = np.exp(weight - weight.max())
    return Agreeing(*_of_shares(root, drawn, share / share.sum(), told), best)


def _likeliest(notes: NotedGaps, ways: Sequence[NotedOf], root: Floats, back: Floats) -> int:
    """The way that is likeliest with what speaks against it: pairs that are nearer than those
    noted. That only adds, so that ways that fit worse already needn't be asked."""
    best, least = 0, np.inf
    for k in sorted(range(len(ways)), key=lambda k: ways[k].misfit):
        way = ways[k]
        if way.misfit >= least:
            break
        drawn = _drawn_of(way, root, back, normals(root.shape[1], _TRIED))
        off = drawn - (back @ way.at)[:, None]
        against, _ = _weight(notes, way, root, off, closing=False)
        most = float(against.max())  # the logarithm of a mean that may be all but zero
        cost = way.misfit - 2.0 * (most + float(np.log(np.exp(against - most).mean())))
        if cost < least:
            best, least = k, cost
    return best


def _drawn_of(way: NotedOf, root: Floats, back: Floats, normal: Floats) -> Floats:
    """Normal numbers as a way leaves them, of as many that know nothing of it."""
    J = way.slopes @ root
    U, size, lines = np.linalg.svd(J, full_matrices=False)
    S = J @ J.T + np.diag(way.variance)
    taken = (size[:, None] * U.T) @ np.linalg.solve(S, U * size)
    values, turn = np.linalg.eigh(0.5 * (taken + taken.T))
    lines = turn.T @ lines
    narrower = np.sqrt(np.clip(1.0 - values, 0.0, 1.0)) - 1.0
    return np.asarray(
        (back @ way.off)[:, None] + normal + lines.T @ (narrower[:, None] * (lines @ normal))
    )


def _weight(
    notes: NotedGaps, way: NotedOf, root: Floats, off: Floats, *, closing: bool = True
) -> tuple[Floats, Floats]:
    """The logarithm of what a rig counts (k,) that is `off` (r, k) from where the way was looked
    at; and how the distances that tell it grow with the r normal numbers (rows, r).

    The pair noted is as near as noted and no other nearer, but for the note's error; and where it
    is `closing` that matters, gaps that were waited for close. Rigs are drawn by how the first of
    these would be if the distance were straight, so that only what is left of it counts."""
    when = (0.0, -_CLOSING_H, _CLOSING_H) if closing else (0.0,)
    ways = [notes.poses.later(by) for by in when]
    times = [list(poses.all_slopes(way.shapes)) for poses in ways]
    out, told = np.zeros(off.shape[1]), []
    for i, pair in enumerate(way.pairs.tolist()):
        here, *around = [
            (gaps, slopes @ root[notes.places[i]]) for gaps, slopes in (one[i] for one in times)
        ]
        moved = (root[notes.places[i]] @ off).astype(np.float32)
        straight = here[0][:, None] + here[1] @ off
        sigma = np.linalg.norm(here[1], axis=1)[:, None]
        asked = straight < straight[pair] + NEARER_SIGMAS * sigma
        asked[pair] = True
        gaps = ways[0].drawn_gaps(i, way.shapes[i], moved, asked)
        own, least, gap = gaps[pair], gaps.min(axis=0), notes.gap_m[i]
        squares = (own - least) ** 2 + (own - gap) ** 2 - (straight[pair] - gap) ** 2
        out -= 0.5 * squares / way.variance[i]
        told.append(here[1][asked.any(axis=1)])
        if not around or not notes.waited_for[i]:
            continue
        sooner, later = around
        if sooner[0].min() <= later[0].min():
            continue  # it was looked at, not waited for
        # The pose is what was found, not the gap: a rig is likelier the faster its gap closes (a
        # change of variables), and out of the question where it opens.
        before, after = (
            poses.drawn_gaps(i, way.shapes[i], moved, asked).min(axis=0) for poses in ways[1:]
        )
        out += np.log(np.maximum(before - after, _SLOWEST_M))
        told.append((sooner[1] - later[1])[pair : pair + 1])
    return out, np.concatenate(told)


def _of_shares(
    root: Floats, drawn: Floats, share: Floats, told: Floats
) -> tuple[Floats, Floats, Floats]:
    """Mean, covariance and rigs drawn again, of rigs drawn that weigh so much. Nothing is learned
    across the directions that the notes told of (rows, r): there rigs only differ by chance."""
    _, size, lines = np.linalg.svd(told, full_matrices=False)
    lines = lines[size > _FLAT * size.max(initial=0.0)]
    along = lines @ drawn
    middle = along @ share
    off = along - middle[:, None]
    change = (off * share) @ off.T - np.eye(len(lines))
    mean, turned = root @ (lines.T @ middle), root @ lines.T
    again = np.searchsorted(np.cumsum(share), (np.arange(DRAWN) + 0.5) / DRAWN)
    found = root @ drawn[:, np.minimum(again, PROPOSED - 1)]
    covariance = root @ root.T + turned @ change @ turned.T
    return mean, 0.5 * (covariance + covariance.T), found - mean[:, None]
