"""Where does the axis point now, by one more picture, after bolts were turned?

The axis goes through the camera at one and the same place, whichever way the hour axis is turned
and however the bolts are: it is what both turn about, or carry along. A run tells that place; after
it each single picture tells where the axis points.
"""

from __future__ import annotations

import numpy as np

from axletree.axis.frame import Pole, pole_altitude_deg
from axletree.kit.frozen import dataclass
from axletree.pole.photographs.detection import star_images
from axletree.pole.photographs.lens import Lens
from axletree.pole.photographs.looking import about_the_pole, flipped_images, search
from axletree.pole.photographs.refine import Refined
from axletree.pole.photographs.refusals import another_size
from axletree.pole.photographs.run import SolvedRun, together
from axletree.pole.photographs.shot import Shot
from axletree.pole.solution.estimate import AxisEstimate
from axletree.sky.arrays import Floats
from axletree.sky.directions import axis_error_arcmin, polar_axis
from axletree.sky.observer import Observer

_ARCMIN2 = (10800.0 / np.pi) ** 2


@dataclass(frozen=True)
class AxisInCamera:
    """Where the axis goes through the camera: a direction (3,) of its frame, the lens, the size of
    the pictures, and the covariance (2, 2) of the run's answer (high, east; square arcminutes)."""

    direction: Floats
    lens: Lens
    size_px: tuple[int, int]
    covariance_arcmin2: Floats


def axis_in_camera(
    run: SolvedRun, estimate: AxisEstimate, observer: Observer, pole: Pole = "refracted"
) -> AxisInCamera:
    """By a run that told the axis; refuses none, but needs an estimate of both parts."""
    altitude = pole_altitude_deg(observer, pole)
    high, east = estimate.values
    axis = polar_axis(observer.latitude_deg, high, east, pole_altitude_deg=altitude)
    each = np.array([r.attitude @ axis for r in run.recognised])
    middle = each.mean(axis=0)
    covariance = estimate.covariance
    return AxisInCamera(
        direction=middle / np.linalg.norm(middle),
        lens=run.lens,
        size_px=run.size_px,
        covariance_arcmin2=np.zeros((2, 2)) if covariance is None else covariance,
    )


def axis_by_one(
    known: AxisInCamera, shot: Shot, observer: Observer, pole: Pole = "refracted"
) -> AxisEstimate:
    """The axis error by one picture more; refuses one of another size or that isn't recognised."""
    size = (shot.grey.shape[1], shot.grey.shape[0])
    if size != known.size_px:
        raise another_size("the run", known.size_px, shot.name, size)
    images = star_images(shot.grey)
    (solved,), flipped = search([shot], [images], observer, about_the_pole(observer))
    assert solved is not None  # `search` refuses otherwise
    seen = flipped_images(images) if flipped else images
    fitted, _, _ = together([shot], [seen], [solved], observer, known.lens)
    axis = fitted.attitudes[0].T @ known.direction
    altitude = pole_altitude_deg(observer, pole)
    high, east = axis_error_arcmin(axis, observer.latitude_deg, pole_altitude_deg=altitude)
    covariance = known.covariance_arcmin2 + _spread(fitted, axis)
    return AxisEstimate(float(high), float(east), np.asarray(np.linalg.inv(covariance)))


def _spread(fitted: Refined, axis: Floats) -> Floats:
    """Covariance (2, 2) of high and east that the picture's own attitude leaves."""
    local = fitted.attitudes[0].T @ fitted.covariance @ fitted.attitudes[0] * _ARCMIN2
    east = np.array([1.0, 0.0, 0.0])
    up = np.cross(axis, east)
    up = up if up[2] > 0.0 else -up
    slopes = np.stack([np.cross(axis, up), np.cross(axis, east)])
    return np.asarray(slopes @ local @ slopes.T)
