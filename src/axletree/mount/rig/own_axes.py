"""How do the axes of a mount stand that is known not to be a perfect one?"""

from __future__ import annotations

from axletree.axis.frame import pole_altitude_deg
from axletree.axis.model import PointingModel
from axletree.mount.rig.kinematics import Axes, align
from axletree.sky.observer import Observer


def own_axes(model: PointingModel, observer: Observer) -> Axes:
    """The axes as the model has them: axis error, cone and lean. Its errors are left out."""
    return align(
        observer.latitude_deg,
        high_arcmin=model.high_arcmin,
        east_arcmin=model.east_arcmin,
        pole_altitude_deg=pole_altitude_deg(observer, model.pole),
        cone_arcmin=model.cone_arcmin,
        lean_arcmin=model.lean_arcmin,
    )
