"""How far is the axis off, by pictures between which only the hour axis was turned?

The recognised pictures become frames: directions of the same pixels in each, through one lens. The
solver of frames does the rest, told how well the attitudes are known and what they share.
"""

from __future__ import annotations

import math

import numpy as np

from axletree.axis.frame import Pole
from axletree.pole.frames.errors import AttitudeErrors
from axletree.pole.frames.one_run import pixel_grid, too_low_one
from axletree.pole.frames.solve import FramesSolution, solve_attitudes
from axletree.pole.photographs.lens import rays
from axletree.pole.photographs.refusals import only_one_recognised, too_low
from axletree.pole.photographs.run import SolvedRun
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import SIDEREAL_RATE_ARCSEC_PER_S

# A camera's clock, set by hand by a telephone's and left alone for some weeks, one standard
# deviation in seconds (common practice, no source).
CLOCK_SIGMA_S = 30.0


def axis_from_pictures(
    run: SolvedRun, observer: Observer, *, pole: Pole = "refracted"
) -> FramesSolution:
    """The axis error from a solved run; refuses fewer than two pictures and those too low."""
    names = [r.name for r in run.recognised]
    if len(names) < 2:
        raise only_one_recognised(names[0])
    seen = seen_pixels(run)
    low = too_low_one(seen)
    if low is not None:
        raise too_low(names[low[0]], low[1])
    errors = AttitudeErrors(covariance=run.covariance_arcmin2)
    return solve_attitudes(seen, observer, errors, pole=pole, names=names)


def with_clock(estimate: AxisEstimate, clock_sigma_s: float = CLOCK_SIGMA_S) -> AxisEstimate:
    """The estimate with what a clock that is wrong for all pictures alike adds to its error.

    The sky is then taken to be turned about the pole by w t too far and the axis along with it:
    square to its offset, by w t of that, 0.44 % a minute. `clock_sigma_s`: one standard deviation.
    """
    aside = clock_part(clock_sigma_s) * np.array([-estimate.east_arcmin, estimate.high_arcmin])
    information = estimate.information
    known = information @ aside
    # The inverse of the covariance with one direction more (J. Sherman and W. J. Morrison 1950).
    less = information - np.outer(known, known) / (1.0 + float(aside @ known))
    return AxisEstimate(estimate.high_arcmin, estimate.east_arcmin, np.asarray(less))


def clock_part(clock_s: float) -> float:
    """By which part of its offset the axis is misplaced by a clock that is so many seconds off."""
    return math.radians(SIDEREAL_RATE_ARCSEC_PER_S * clock_s / 3600.0)


def seen_pixels(run: SolvedRun) -> Floats:
    """Local directions (pictures, 25, 3) of the pixels of `pixel_grid`."""
    own = rays(run.lens, np.stack(pixel_grid(*run.size_px), axis=-1))
    return np.array([own @ r.attitude for r in run.recognised])
