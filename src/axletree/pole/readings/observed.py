"""What was read on the circles, how well, and what is believed of such mounts beforehand?"""

from __future__ import annotations

from collections.abc import Sequence

from numpy.typing import ArrayLike

from axletree.axis.unknowns import USUAL_CONE_ARCMIN, USUAL_LEAN_ARCMIN
from axletree.kit.frozen import dataclass


@dataclass(frozen=True)
class CircleReadings:
    """Stars that were centred by hand, and what both circles showed: numbers or arrays (stars,).

    Hour angle (h, positive west) and declination (degrees) of date; the tube side, 'east' or
    'west'; the hour circle (h, growing to the west; readings half a circle apart count as the
    same) and the declination circle (degrees, north positive, past 90 the same as as much before
    it). Settings (stars,): a word for each reading, another one after that circle was set anew;
    None where nobody said anything of it.
    """

    hour_angle_h: ArrayLike
    declination_deg: ArrayLike
    sides: ArrayLike
    hour_circle_h: ArrayLike
    declination_circle_deg: ArrayLike
    hour_settings: Sequence[str] | None = None
    declination_settings: Sequence[str] | None = None


# How well a star is brought to the middle by eye (our figure).
CENTRING_ARCMIN = 2.0


@dataclass(frozen=True)
class CircleErrors:
    """Standard deviations of one reading of each circle, in arcminutes of that circle, and of a
    star's centring, in arcminutes of the sky."""

    hour_arcmin: float
    declination_arcmin: float
    centring_arcmin: float = CENTRING_ARCMIN


@dataclass(frozen=True)
class UsualFaults:
    """Spreads (one standard deviation, arcminutes) of the faults of mounts as they leave the bench.

    `cone_arcmin`: how far the tube leans out from the square; `lean_arcmin`: how far the tube's end
    of the declination axis leans to the elevated pole.
    """

    cone_arcmin: float = USUAL_CONE_ARCMIN
    lean_arcmin: float = USUAL_LEAN_ARCMIN


USUAL_FAULTS = UsualFaults()
