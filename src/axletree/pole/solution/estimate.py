"""What is known about the polar axis, and how well?

An `AxisEstimate` keeps the information matrix rather than the covariance, so that a measurement
that fixes only one direction (the drift of a single star) is as good a citizen as any other:
informations add up.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats

# A direction known no better than this is called unknown: nobody's axis is ten degrees off.
UNKNOWN_ARCMIN = 600.0


@dataclass(frozen=True)
class Ellipse:
    """Where the axis lies with a given probability; semi-axes in arcminutes.

    `turn_deg`: direction of the long axis, from 'east' (0) towards 'high' (90), in (-90, 90].
    """

    long_arcmin: float
    short_arcmin: float
    turn_deg: float
    probability: float


@dataclass(frozen=True)
class AxisEstimate:
    """Axis error `high` and `east`, great-circle arcminutes, with what is known of them.

    `information` (2, 2), order (high, east), per square arcminute: the inverse of the covariance
    where both are known. With `rank` 1 only one mixture of the two is known and the values are
    those closest to no error at all; with rank 0 nothing is.
    """

    high_arcmin: float
    east_arcmin: float
    information: Floats

    @property
    def values(self) -> Floats:
        """(high, east) in arcminutes."""
        return np.array([self.high_arcmin, self.east_arcmin])

    @property
    def rank(self) -> int:
        """How many directions are known to better than `UNKNOWN_ARCMIN`."""
        return int(np.sum(np.linalg.eigvalsh(self.information) > UNKNOWN_ARCMIN**-2))

    @property
    def covariance(self) -> Floats | None:
        """(2, 2) in square arcminutes, order (high, east); None unless both are known."""
        return np.asarray(np.linalg.inv(self.information)) if self.rank == 2 else None

    @property
    def high_sigma_arcmin(self) -> float:
        """One standard deviation of `high`; infinite while it is unknown."""
        covariance = self.covariance
        return math.inf if covariance is None else math.sqrt(covariance[0, 0])

    @property
    def east_sigma_arcmin(self) -> float:
        """One standard deviation of `east`; infinite while it is unknown."""
        covariance = self.covariance
        return math.inf if covariance is None else math.sqrt(covariance[1, 1])

    def outline(self, probability: float, points: int = 121) -> Floats | None:
        """Points (n, 2), east and high, of the ellipse that holds the axis with this probability;
        None unless both directions are known. The last is the first again."""
        ellipse = self.ellipse(probability)
        if ellipse is None:
            return None
        t = np.linspace(0.0, 2.0 * math.pi, points)
        turn = math.radians(ellipse.turn_deg)
        a, b = ellipse.long_arcmin * np.cos(t), ellipse.short_arcmin * np.sin(t)
        east = self.east_arcmin + a * math.cos(turn) - b * math.sin(turn)
        high = self.high_arcmin + a * math.sin(turn) + b * math.cos(turn)
        return np.stack([east, high], axis=-1)

    @property
    def total_arcmin(self) -> float:
        """Distance of the axis from the pole."""
        return math.hypot(self.high_arcmin, self.east_arcmin)

    @property
    def total_sigma_arcmin(self) -> float:
        """One standard deviation of the distance, along the direction of the error itself."""
        covariance = self.covariance
        if covariance is None:
            return math.inf
        if self.total_arcmin == 0.0:
            return math.sqrt(float(np.max(np.linalg.eigvalsh(covariance))))
        along = self.values / self.total_arcmin
        return math.sqrt(float(along @ covariance @ along))

    @property
    def largest_sigma_arcmin(self) -> float:
        """One standard deviation in the worst known direction."""
        return worst_sigma_arcmin(self.information)

    def ellipse(self, probability: float = 0.95) -> Ellipse | None:
        """The region that holds the axis with this probability; None unless both are known."""
        covariance = self.covariance
        if covariance is None:
            return None
        # Two degrees of freedom: the chi-square quantile is -2 ln(1 - p).
        scale = math.sqrt(-2.0 * math.log1p(-probability))
        sizes, directions = np.linalg.eigh(covariance)
        high, east = directions[:, 1]
        turn = math.degrees(math.atan2(high, east))
        turn = turn - 180.0 if turn > 90.0 else turn + 180.0 if turn <= -90.0 else turn
        return Ellipse(scale * math.sqrt(sizes[1]), scale * math.sqrt(sizes[0]), turn, probability)

    def distance(self, other: AxisEstimate) -> float:
        """How many standard deviations two independent estimates disagree (square of it: chi2)."""
        return math.sqrt(disagreement(self, other))


def worst_sigma_arcmin(information: Floats) -> float:
    """One standard deviation in the least known direction of an information matrix (2, 2)."""
    least = float(np.linalg.eigvalsh(information)[0])
    return math.inf if least <= UNKNOWN_ARCMIN**-2 else 1.0 / math.sqrt(least)


def disagreement(one: AxisEstimate, other: AxisEstimate) -> float:
    """Chi-square of the difference of two independent estimates, in what both know.

    For informations A and B the difference has information A (A + B)^-1 B (their parallel sum).
    """
    total = one.information + other.information
    parallel = one.information @ np.linalg.pinv(total, hermitian=True) @ other.information
    difference = one.values - other.values
    return max(0.0, float(difference @ (0.5 * (parallel + parallel.T)) @ difference))
