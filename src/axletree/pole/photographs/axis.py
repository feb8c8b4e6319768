"""How far is the axis off, by pictures between which only the hour axis was turned?

The recognised pictures become frames: directions of the same pixels in each, through one lens. The
solver of frames does the rest, told how well the attitudes are known and what they share.
"""

from __future__ import annotations

import numpy as np

from axletree.axis.frame import Pole
from axletree.pole.frames.errors import AttitudeErrors
from axletree.pole.frames.one_run import pixel_grid, too_low_one
from axletree.pole.frames.solve import FramesSolution, solve_attitudes
from axletree.pole.photographs.lens import rays
from axletree.pole.photographs.refusals import only_one_recognised, too_low
from axletree.pole.photographs.run import SolvedRun
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer


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


def seen_pixels(run: SolvedRun) -> Floats:
    """Local directions (pictures, 25, 3) of the pixels of `pixel_grid`."""
    own = rays(run.lens, np.stack(pixel_grid(*run.size_px), axis=-1))
    return np.array([own @ r.attitude for r in run.recognised])
