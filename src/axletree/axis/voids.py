"""What is no longer known of a mount after something was moved?"""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum

import numpy as np

from axletree.axis.model import Known, KnownBy, PointingModel, roll_of_east
from axletree.axis.unknowns import EAST, INDEX_HOUR, UNKNOWNS, ModelPart


class Moved(StrEnum):
    """What a person did to the mount that makes a measurement void."""

    BOLT = "bolt"
    TRIPOD = "tripod"
    HOUR_CIRCLE = "hour_circle"
    DECLINATION_CIRCLE = "declination_circle"
    TUBE = "tube"  # taken off and clamped again, or turned in its rings

    @property
    def voids(self) -> ModelPart:
        """The one part that it voids; the lean is the mount's own and outlasts them all."""
        return _VOIDS[self]


_VOIDS = {
    Moved.BOLT: ModelPart.AXIS,
    Moved.TRIPOD: ModelPart.AXIS,
    Moved.HOUR_CIRCLE: ModelPart.INDEX_HOUR,
    Moved.DECLINATION_CIRCLE: ModelPart.INDEX_DECLINATION,
    Moved.TUBE: ModelPart.CONE,
}


def void(
    model: PointingModel,
    moved: Moved,
    at: datetime,
    *,
    axis_sigma_arcmin: tuple[float, float] | None = None,
    pole_altitude_deg: float | None = None,
) -> PointingModel:
    """The model after something was moved: that part is open again, the rest stays as it was.

    What is void is taken as nought with a wide error: of a circle any reading, of the cone what
    such mounts have, of the axis `axis_sigma_arcmin`, high and east, of the way it was set again
    (several degrees where None). With `pole_altitude_deg` the hour circle's index error goes along
    as the head turns about the vertical, and so grows uncertain with the axis.
    """
    part = moved.voids
    count, places = len(UNKNOWNS), list(part.places)
    keep, fresh = np.eye(count), np.zeros((count, count))
    keep[places, places] = 0.0
    fresh[places, places] = 1.0
    if part is ModelPart.AXIS and pole_altitude_deg is not None:
        roll = roll_of_east(pole_altitude_deg)
        keep[INDEX_HOUR, EAST], fresh[INDEX_HOUR, EAST] = -roll, roll
    spread = np.zeros(count)
    given = axis_sigma_arcmin if part is ModelPart.AXIS else None
    spread[places] = part.lost_arcmin if given is None else given
    covariance = keep @ model.covariance @ keep.T + fresh @ np.diag(spread**2) @ fresh.T
    known = Known(part, KnownBy.VOIDED, at)
    after = model.with_values(keep @ model.values, covariance, known)
    return after.set_on(0) if moved is Moved.HOUR_CIRCLE else after
