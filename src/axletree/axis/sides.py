"""What do the person's circles show on one object, on each tube side?"""

from __future__ import annotations

from typing import Literal

import numpy as np

from axletree.axis.model import PointingModel
from axletree.axis.shown import OutOfReach, circles_shown
from axletree.axis.unknowns import LOST_CIRCLE_ARCMIN
from axletree.kit.frozen import dataclass
from axletree.sky.observer import Observer

_SIDES: tuple[tuple[Literal["east", "west"], int], ...] = (("east", 1), ("west", -1))


@dataclass(frozen=True)
class SideCircles:
    """The circles of one tube side, each for both ways of marking, with one standard deviation.

    Hours in [0, 24) and degrees from -90 to 90, north positive; `past_ninety` where the shaft has
    turned beyond that mark. The sigmas are those of the circles, without a person's reading.
    """

    side: Literal["east", "west"]
    hour_circle_h: float
    right_ascension_h: float
    hour_sigma_arcmin: float
    declination_circle_deg: float
    declination_sigma_arcmin: float
    past_ninety: bool

    @property
    def hour_lost(self) -> bool:
        """Whether so little is known of the hour circle that its figure helps nobody."""
        return self.hour_sigma_arcmin > LOST_CIRCLE_ARCMIN

    @property
    def declination_lost(self) -> bool:
        """Whether so little is known of the declination circle that its figure helps nobody."""
        return self.declination_sigma_arcmin > LOST_CIRCLE_ARCMIN


@dataclass(frozen=True)
class SideOutOfReach:
    """A tube side on which no angles of the shafts point the tube at the object."""

    side: Literal["east", "west"]
    reason: OutOfReach


def circles_of_sides(
    model: PointingModel, hour_angle_h: float, declination_deg: float, observer: Observer,
    right_ascension_h: float,
) -> tuple[SideCircles | SideOutOfReach, ...]:  # fmt: skip
    """What the circles show on side east and on side west, or why they show nothing.

    The object's hour angle, declination and right ascension: apparent of date, without air.
    """
    sides = np.array([sign for _, sign in _SIDES])
    sidereal = right_ascension_h + hour_angle_h
    shown = circles_shown(model, hour_angle_h, declination_deg, sides, observer, sidereal)
    assert shown.right_ascension_h is not None
    found: list[SideCircles | SideOutOfReach] = []
    for k, ((side, _), refusal) in enumerate(zip(_SIDES, shown.refusals, strict=True)):
        if refusal is not None:
            found.append(SideOutOfReach(side, refusal))
            continue
        found.append(
            SideCircles(
                side=side,
                hour_circle_h=float(shown.hour_circle_h[k]) % 24.0,
                right_ascension_h=float(shown.right_ascension_h[k]),
                hour_sigma_arcmin=float(shown.hour_sigma_arcmin[k]),
                declination_circle_deg=float(shown.declination_circle_deg[k]),
                declination_sigma_arcmin=float(shown.declination_sigma_arcmin[k]),
                past_ninety=bool(shown.past_ninety[k]),
            )
        )
    return tuple(found)
