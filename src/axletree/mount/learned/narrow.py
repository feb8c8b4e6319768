"""Which dimensions make notes of gaps most likely, and what do they leave open?

Bayes' rule for normal distributions, linear about the likeliest rig (Gauss-Newton; e.g.
C. D. Rodgers, Inverse Methods for Atmospheric Sounding, 2000, eq. 5.9 and 5.30, from memory). A
note says of which pair it is only by its figure: the pair that is the nearest on the rigs that fit.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.axis.state import GapNote
from axletree.kit.frozen import dataclass
from axletree.mount.learned.agreeing import NotedGaps, NotedOf, agreeing
from axletree.mount.learned.expected import NotedPoses, likely_ways
from axletree.mount.learned.numbers import Numbers, numbers_of
from axletree.mount.sure.spread import RigSpread
from axletree.sky.arrays import Floats, Indices

# Rods stand for what has edges, bolts and rims: one standard deviation of a gap (our figure).
SHAPE_ERROR_M = 0.003
_ROUNDS = 8
_POSES_ASKED = 0, 2  # rounds in which it is asked anew what a pose's error does to a gap
_STILL_M = 2e-4
_MOST_WAYS = 12  # ways in which pairs are given to notes


@dataclass(frozen=True, eq=False)
class Narrowed:
    """The likeliest numbers after m notes, and what is left open of them.

    `off` (N,) from the kit's values, `covariance` (N, N) left open, of `numbers`; `drawn` (N, k) of
    rigs that agree with the notes, as deviations from that. `misfit` (m,): how far each note lies
    from what all others and the kit say, or the kit alone, in standard deviations; `misfit_m` the
    same in metres. `pairs` (m,): of which pair each is. `slopes` (m, N).
    """

    numbers: Numbers
    off: Floats
    covariance: Floats
    drawn: Floats
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
    found = [_of_pairs(asked, np.array(way), turn) for way in ways]
    waited_for = [bool(note.object) for note in notes]
    rigs = agreeing(
        NotedGaps(poses, gap, numbers.places[group], waited_for), found, numbers.covariance
    )
    best = found[rigs.way]
    misfit_m, misfit = _misfit(best, numbers.covariance)
    return Narrowed(
        numbers, rigs.mean, rigs.covariance, rigs.drawn, misfit, misfit_m, best.pairs, best.slopes
    )


def _of_pairs(asked: _Asked, pairs: Indices, turn_deg: Floats) -> NotedOf:
    """The likeliest rig where it is settled of which pair each note is; `turn_deg` (m,) is the
    error of each pose."""
    P, rows = asked.numbers.covariance, np.arange(len(pairs))
    z = at = np.zeros(asked.numbers.count)
    variance = asked.error_m**2
    for turn in range(_ROUNDS):
        at = z
        shapes = asked.poses.shapes(asked.off(z))
        gaps = asked.poses.gaps_m(shapes)
        J = asked.spread_out(asked.poses.slopes(shapes, pairs))
        if turn in _POSES_ASKED:
            pose_m = turn_deg * asked.poses.pose_slopes(shapes, pairs)
            variance = asked.error_m**2 + pose_m**2
        d = asked.gap_m - gaps[rows, pairs] + J @ z
        S = J @ P @ J.T + np.diag(variance)
        moved = P @ J.T @ np.linalg.solve(S, d) - z
        z = z + moved
        if np.abs(J @ moved).max() < _STILL_M:
            break
    fits = float(d @ np.linalg.solve(S, d) + np.linalg.slogdet(S)[1])
    return NotedOf(pairs, z, at, shapes, J, d, variance, fits)


def _misfit(way: NotedOf, covariance: Floats) -> tuple[Floats, Floats]:
    """How far each note lies from what all others say, metres and standard deviations; or from the
    kit alone, where that is more: notes that agree with each other may be wrong together."""
    J, d = way.slopes, way.said_m
    S = J @ covariance @ J.T + np.diag(way.variance)
    Q = np.linalg.inv(S)
    inner = Q @ d
    misfit_m, misfit = inner / np.diagonal(Q), inner / np.sqrt(np.diagonal(Q))
    by_kit = d / np.sqrt(np.diagonal(S))
    far = np.abs(by_kit) > np.abs(misfit)
    return np.where(far, d, misfit_m), np.where(far, by_kit, misfit)
