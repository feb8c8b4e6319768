"""Which dimensions make notes of gaps most likely, and what do they leave open?

Bayes' rule for normal distributions, linear about the likeliest rig (Gauss-Newton; e.g.
C. D. Rodgers, Inverse Methods for Atmospheric Sounding, 2000, eq. 5.9 and 5.30, from memory). A
note says of which pair it is only by its figure: the pair that is the nearest on the rigs that fit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice, product

import numpy as np

from axletree.axis.state import GapNote
from axletree.mount.learned.expected import NotedPoses, likely_pairs
from axletree.mount.learned.numbers import Numbers, numbers_of
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

# Rods stand for what has edges, bolts and rims: one standard deviation of a gap (our figure).
SHAPE_ERROR_M = 0.003
_ROUNDS = 8
_STILL_M = 2e-4
_MOST_WAYS = 8  # ways in which pairs are given to notes


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
    likely = [likely_pairs(spread, *one) for one in zip(notes, error.tolist(), strict=True)]
    best: tuple[float, Narrowed] | None = None
    for way in islice(product(*likely), _MOST_WAYS):
        pairs = np.array(way)
        cost, found = _of_pairs(asked, pairs, turn * poses.pose_slopes(pairs))
        if best is None or cost < best[0]:
            best = cost, found
    assert best is not None
    return best[1]


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
    # A pair that is nearer than the one noted speaks against this way of giving them.
    left = asked.poses.gaps_m(asked.poses.shapes(asked.off(z)))
    nearer = np.maximum(left[rows, pairs] - left.min(axis=1), 0.0) / np.sqrt(R)
    cost = float(d @ inner + np.log(np.linalg.det(S / R)) + (nearer**2).sum())
    covariance = P - P @ J.T @ Q @ J @ P
    return cost, Narrowed(
        asked.numbers, z, 0.5 * (covariance + covariance.T), misfit, misfit_m, pairs, J
    )  # fmt: skip
