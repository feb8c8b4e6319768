"""What does a circle show from then on that was set on a star?"""

from __future__ import annotations

from datetime import datetime

import numpy as np

from axletree.axis.frame import seen_vectors
from axletree.axis.model import Known, KnownBy, PointingModel
from axletree.axis.shown import shaft_angles
from axletree.axis.unknowns import INDEX_DECLINATION, INDEX_HOUR, UNKNOWNS, Circle, ModelPart
from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import wrap_h
from axletree.sky.observer import Observer

_STEP_ARCMIN = 0.5


@dataclass(frozen=True)
class CircleSetting:
    """A circle turned to show something while the tube is on a star.

    `hour_angle_h`, `declination_deg`: of the star then, apparent of date, without air; `side` +1
    east, -1 west. `shown`: what the circle was set to, hours of hour angle or degrees.
    `sigma_arcmin`: how well it was set and the star centred, an angle of the circle.
    """

    circle: Circle
    hour_angle_h: float
    declination_deg: float
    side: int
    shown: float
    sigma_arcmin: float


def circle_set(
    model: PointingModel, setting: CircleSetting, observer: Observer, at: datetime
) -> PointingModel:
    """The model after a circle was set on a star: right there, and wrong as the mount is elsewhere.

    The index error becomes what makes up for axis, cone and lean at that star, and hangs together
    with them: near the star the circle shows right however badly they are known. An hour circle
    counts for the tube side on which it was set. Refuses a star that the tube can't reach.
    """
    seen = seen_vectors(setting.hour_angle_h, setting.declination_deg, observer)
    hour = setting.circle == "hour"
    place = INDEX_HOUR if hour else INDEX_DECLINATION

    def stands_arcmin(values: Floats) -> float:
        h, d, reached = shaft_angles(model, values, seen, setting.side, observer)
        if not reached:
            raise AxletreeError(
                "the tube can't reach that star: set the circle on one further from the pole"
            )
        return float(h) * 900.0 if hour else float(d) * 60.0

    count, values = len(UNKNOWNS), model.values
    stands = stands_arcmin(values)
    turn, sign = np.eye(count), 1.0 if hour else float(setting.side)
    turn[place] = 0.0
    for k in range(count):
        step = np.zeros(count)
        step[k] = _STEP_ARCMIN
        change = stands_arcmin(values + step) - stands_arcmin(values - step)
        if hour:
            change = float(wrap_h(change / 900.0)) * 900.0
        turn[place, k] -= sign * change / (2.0 * _STEP_ARCMIN)
    off = setting.shown * (900.0 if hour else 60.0) - stands
    after = values.copy()
    after[place] = float(wrap_h(off / 900.0)) * 900.0 if hour else sign * off
    covariance = turn @ model.covariance @ turn.T
    covariance[place, place] += setting.sigma_arcmin**2
    part = ModelPart.INDEX_HOUR if hour else ModelPart.INDEX_DECLINATION
    made = model.with_values(after, covariance, Known(part, KnownBy.SET, at))
    return made.set_on(setting.side) if hour else made
