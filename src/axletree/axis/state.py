"""What is known of a person's own mount at a moment, from when and from which evening?"""

from __future__ import annotations

from datetime import date, datetime

from axletree.axis.model import PointingModel
from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class State:
    """What measurements and notes of one rig on one spot say, up to a moment.

    `evening` and `at`: the date on which the evening of the latest note that counts began, and
    its moment. `measurements`: how many of that evening the model rests on. `stands_since`: the
    evening from which the axis is still good, since the person said that the mount stands where
    it stood; None where nothing of the axis is older than its evening.
    """

    pointing: PointingModel
    evening: date
    at: datetime
    measurements: int
    stands_since: date | None = None
