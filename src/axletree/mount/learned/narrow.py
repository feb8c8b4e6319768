"""Which dimensions make notes of gaps most likely, and what do they leave open?

Bayes' rule for normal distributions, linear about the likeliest rig (Gauss-Newton; e.g.
C. D. Rodgers, Inverse Methods for Atmospheric Sounding, 2000, eq. 5.9 and 5.30, from memory). A
note says of which pair it is only by its figure: the pair that is the nearest on the rigs that fit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from axletree.axis.state import GapNote
from axletree.mount.learned.expected import NotedPoses, likely_ways
from axletree.mount.learned.numbers import Numbers, numbers_of
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

# Rods stand for what has edges, bolts and rims: one standard deviation of a gap (our figure).
SHAPE_ERROR_M = 0.003
_ROUNDS = 8
_STILL_M = 2e-4
_MOST_WAYS = 12  # ways in which pairs are given to notes
_MOST_NEAR = 12  # pairs of a pose that are nearest besides the one noted
_TRIED, _SEED = 256, 20261130  # rigs by which it is judged which pair is the nearest


@dataclass(frozen=True, eq=False)
class Narrowed:
    """The likeliest numbers after m notes, and what is left open of them.

    `off` (N,) from the kit's values, `covariance` (N, N) left open, of `numbers`. `misfit` (m,):
    how far each note lies from what all others and the kit say, or the kit alone, in standard
    deviations; `misfit_m` the same in metres. `pairs` (m,): of which pair each is. `slopes` (m, N).
    """

    numbers: Numbers
    off: Floats
    covariance: Floats
    misfit: Floats
    misfit_m: Floats
    pairs: Indices
    slopes: Floats


@dataclass(frozen=True, eq=False)
class _Asked:
    """The notes as figures."""

    poses: NotedPoses
    numbers: Numbers
    group: Indices  # (m,)
    gap_m: Floats  # (m,)
    error_m: Floats  # (m,) without the pose's own

    def off(self, z: Floats) -> Floats:
        """(m, n): how far the dimensions are off on the rig of each note."""
        return z[self.numbers.places[self.group]]

    def spread_out(self, slopes: Floats) -> Floats:
        """(m, N) of (m, n)."""
        out = np.zeros((len(slopes), self.numbers.count))
        rows = np.arange(len(slopes))[:, None]
        out[rows, self.numbers.places[self.group]] = slopes
        return out


def narrowed(spread: RigSpread, notes: Sequence[GapNote], set_ups: Sequence[object],
             tonight: object) -> Narrowed:  # fmt: skip
    """The rig after some notes, one or more, each made on one of these set-ups."""
    numbers, group = numbers_of(spread.known, set_ups, tonight)
    poses = NotedPoses.of(spread, notes)
    gap = np.array([note.gap_mm for note in notes]) / 1000.0
    error = np.array([np.hypot(note.error_mm / 1000.0, SHAPE_ERROR_M) for note in notes])
    asked = _Asked(poses, numbers, group, gap, error)
    turn = np.array([note.pose_error_deg for note in notes])
    ways = likely_ways(spread, notes, error.tolist(), _MOST_WAYS)
    found = [_of_pairs(asked, np.array(w), turn * poses.pose_slopes(np.array(w))) for w in ways]
    return _none_nearer(asked, min(found, key=lambda one: one[0])[1])


def _of_pairs(asked: _Asked, pairs: Indices, pose_m: Floats) -> tuple[float, Narrowed]:
    """The same where it is settled of which pair each note is; and how unlikely that is."""
    P, rows = asked.numbers.covariance, np.arange(len(pairs))
    R = asked.error_m**2 + pose_m**2
    z = np.zeros(asked.numbers.count)
    for _ in range(_ROUNDS):
        shapes = asked.poses.shapes(asked.off(z))
        gaps = asked.poses.gaps_m(shapes)
        J = asked.spread_out(asked.poses.slopes(shapes, pairs))
        d = asked.gap_m - gaps[rows, pairs] + J @ z
        S = J @ P @ J.T + np.diag(R)
        moved = P @ J.T @ np.linalg.solve(S, d) - z
        z = z + moved
        if np.abs(J @ moved).max() < _STILL_M:
            break
    Q = np.linalg.inv(S)
    inner = Q @ d
    # How far each lies from what all others say; or from the kit alone, where that is more: notes
    # that agree with each other may be wrong together.
    misfit_m, misfit = inner / np.diagonal(Q), inner / np.sqrt(np.diagonal(Q))
    by_kit = d / np.sqrt(np.diagonal(S))
    far = np.abs(by_kit) > np.abs(misfit)
    misfit_m, misfit = np.where(far, d, misfit_m), np.where(far, by_kit, misfit)
    covariance = P - P @ J.T @ Q @ J @ P
    covariance = 0.5 * (covariance + covariance.T)
    fits = float(d @ inner + np.linalg.slogdet(S)[1])
    cost = fits + _against(asked, z, covariance, pairs, R)
    return cost, Narrowed(asked.numbers, z, covariance, misfit, misfit_m, pairs, J)


def _against(
    asked: _Asked, z: Floats, covariance: Floats, pairs: Indices, variance: Floats
) -> float:
    """What speaks against pairs that aren't the nearest in their poses: minus twice the logarithm
    of the chance, over the rigs that fit, that no other is nearer but for the note's error."""
    values, vectors = np.linalg.eigh(covariance)
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    off = root @ np.random.default_rng(_SEED).standard_normal((len(root), _TRIED))
    squares = np.zeros(_TRIED)
    every = asked.poses.all_slopes(asked.poses.shapes(asked.off(z)))
    for i, (gaps, slopes) in enumerate(every):
        left = gaps[:, None] + slopes @ off[asked.numbers.places[asked.group[i]]]
        squares += (left[pairs[i]] - left.min(axis=0)) ** 2 / variance[i]
    least = float(squares.min())  # the logarithm of a mean that may be all but zero
    return least - 2.0 * float(np.log(np.exp(-0.5 * (squares - least)).mean()))


def _none_nearer(asked: _Asked, found: Narrowed) -> Narrowed:
    """The same, knowing that in each note's pose no other pair was nearer than the one noted.

    Each such pair cuts the normal distribution off at zero; mean and covariance of what is left are
    those of one as wide (C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine
    Learning, 2006, eq. 3.85 to 3.87, from memory). Rods are as near as `SHAPE_ERROR_M` says.
    """
    z, C = found.off.copy(), found.covariance.copy()
    every = asked.poses.all_slopes(asked.poses.shapes(asked.off(z)))
    for i, (gaps, slopes) in enumerate(every):
        pair, place = found.pairs[i], asked.numbers.places[asked.group[i]]
        farther, grow = gaps - gaps[pair], slopes - slopes[pair]
        for k in np.argsort(farther)[:_MOST_NEAR].tolist():
            if k == pair:
                continue
            a = np.zeros(len(z))
            a[place] = grow[k]
            Ca = C @ a
            variance = float(a @ Ca) + SHAPE_ERROR_M**2
            alpha = (float(farther[k]) + float(a @ (z - found.off))) / np.sqrt(variance)
            ratio = _density_over_share(alpha)
            z += Ca * (ratio / np.sqrt(variance))
            C -= np.outer(Ca, Ca) * (ratio * (ratio + alpha) / variance)
    return replace(found, off=z, covariance=0.5 * (C + C.T))


def _density_over_share(x: float) -> float:
    """The normal density at x over the share of the distribution below it."""
    if x < -6.0:
        return -x  # to 3 %
    return math.exp(-0.5 * x * x) / math.sqrt(0.5 * math.pi) / math.erfc(-x / math.sqrt(2.0))
