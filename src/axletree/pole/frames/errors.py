"""How well are the attitudes of frames known: each alike and alone, or all together?"""

from __future__ import annotations

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats, Mask


@dataclass(frozen=True)
class AttitudeErrors:
    """One standard deviation (3,) of every frame across the line of sight, twice, and about it,
    arcminutes; or the `covariance` (3 n, 3 n) of small turns of n frames about the local axes,
    square arcminutes, in which frames may be wrong together (one lens for all)."""

    sigmas: Floats | None = None
    covariance: Floats | None = None

    def of(self, frames: Mask) -> AttitudeErrors:
        """Those of some frames, by their rows or a mask."""
        if self.covariance is None:
            return self
        own = np.arange(len(self.covariance)).reshape(-1, 3)[frames].ravel()
        return AttitudeErrors(covariance=self.covariance[np.ix_(own, own)])

    @property
    def across_arcmin(self) -> float:
        """About one frame's error across its line of sight against another's."""
        if self.covariance is None:
            return float(self.sigmas[0]) if self.sigmas is not None else 0.0
        c, n = self.covariance, len(self.covariance) // 3
        last = c[:3, :3] + c[-3:, -3:] - c[:3, -3:] - c[-3:, :3] if n > 1 else c
        # What both have in common turns with the camera and tells no turn.
        return float(np.sqrt(max(np.trace(last), 0.0) / 6.0))

    def mixed(self, basis: Floats) -> Floats:
        """The matrix (3 n, 3 n) that makes misfits in `basis` (n, 3, 3: two directions across the
        line of sight and it) of independent errors of one: its own is the inverse's."""
        count = len(basis)
        if self.covariance is None:
            assert self.sigmas is not None
            return np.diag(np.tile(self.sigmas, count))
        turn = np.zeros((3 * count, 3 * count))
        for k in range(count):
            turn[3 * k : 3 * k + 3, 3 * k : 3 * k + 3] = basis[k]
        return np.asarray(np.linalg.cholesky(turn @ self.covariance @ turn.T))
