"""Where does one look with the bare eye: how far from which bright stars, and which way?"""

from __future__ import annotations

from enum import Enum

import numpy as np

from axletree.find.patch import Patch
from axletree.ground.skyline.skyline import Horizon
from axletree.kit.frozen import dataclass
from axletree.sky.arrays import Floats
from axletree.sky.directions import position_angle_deg, separation_deg, wrap_180

# How far around a guide star is sought: two spans of the hand.
GUIDES_WITHIN_DEG = 40.0
# A guide is this much brighter than the faintest star that the eye sees, and never fainter than
# the stars that people know; nearer than the ground's haze none is plain. All common practice.
PLAIN_BY_MAG = 2.0
FAINTEST_GUIDE_MAG = 3.6
LOWEST_GUIDE_DEG = 8.0
# Three fingers farther away is worth as much as a magnitude fainter (ours).
_DEG_FOR_A_MAG = 5.0
# Two stars in one direction say little more than one: they stand at least this far apart as seen
# from the object, and not opposite each other either.
_LEAST_CORNER_DEG = 25.0
# Nearer than this the bare eye takes star and place for one, as with a double star that shows to
# it: that star is the object itself and leads nowhere (our figure; a good eye parts 0.05 degrees).
_TOLD_APART_DEG = 0.1
# Nearer to the zenith 'above' and 'left of' depend on which way one turns.
OVERHEAD_DEG = 75.0


class Hand(Enum):
    """Measures of a hand at arm's length (common practice, no source; people differ by a tenth)."""

    LITTLE_FINGER = "little_finger"
    THREE_FINGERS = "three_fingers"
    FIST = "fist"
    SPAN = "span"


HAND_DEG = {
    Hand.LITTLE_FINGER: 1.0,
    Hand.THREE_FINGERS: 5.0,
    Hand.FIST: 10.0,
    Hand.SPAN: 20.0,
}
HAND_ERROR = 0.1  # of what was measured with it, one standard deviation


class LookWay(Enum):
    """Eight ways as somebody sees them who faces that part of the sky."""

    ABOVE = "above"
    UPPER_RIGHT = "upper_right"
    RIGHT = "right"
    LOWER_RIGHT = "lower_right"
    BELOW = "below"
    LOWER_LEFT = "lower_left"
    LEFT = "left"
    UPPER_LEFT = "upper_left"


@dataclass(frozen=True)
class GuideStar:
    """A bright star, and how one gets from it to the place: `way` and `clockwise_deg` (0-360 from
    straight up) as seen facing the star; `distance_deg` is also `hand_count` times a `hand`.
    `star_index` is its row among the patch's stars."""

    star_index: int
    magnitude_v: float
    distance_deg: float
    clockwise_deg: float
    way: LookWay
    hand: Hand
    hand_count: float

    @property
    def hand_sigma_deg(self) -> float:
        """Error of the distance when it is measured with the hand."""
        return HAND_ERROR * self.distance_deg


@dataclass(frozen=True)
class WhereToLook:
    """Up to two guide stars, the better first; none where no bright star stands near.

    `overhead`: the place is so high that up and down depend on which way one turns; ways count
    for who faces `azimuth_deg`.
    """

    azimuth_deg: float
    altitude_deg: float
    guides: tuple[GuideStar, ...]
    overhead: bool


def where_to_look(
    patch: Patch, naked_eye_limit_mag: float, horizon: Horizon | None = None
) -> WhereToLook:
    """The two bright stars that lead best to the middle of a patch of `GUIDES_WITHIN_DEG`.

    `naked_eye_limit_mag` is the faintest star that the eye sees there. Stars behind the skyline
    are left out.
    """
    az, alt = patch.star_azimuth_deg, patch.star_altitude_deg
    V = patch.stars.magnitude_v
    distance = separation_deg(patch.azimuth_deg, patch.altitude_deg, az, alt)
    lowest = np.full(len(V), LOWEST_GUIDE_DEG)
    if horizon is not None:
        lowest = np.maximum(lowest, horizon.altitude_at(az))
    plain = min(naked_eye_limit_mag - PLAIN_BY_MAG, FAINTEST_GUIDE_MAG)
    leads = (plain >= V) & (alt > lowest) & (distance > _TOLD_APART_DEG)
    cost = np.where(leads, V + distance / _DEG_FOR_A_MAG, np.inf)
    chosen: list[int] = []
    toward = position_angle_deg(patch.azimuth_deg, patch.altitude_deg, az, alt)
    for row in np.argsort(cost, kind="stable"):
        if not np.isfinite(cost[row]) or len(chosen) == 2:
            break
        if not chosen or _corner_deg(toward, chosen[0], int(row)) >= _LEAST_CORNER_DEG:
            chosen.append(int(row))
    guides = tuple(_guide(patch, row, float(distance[row])) for row in chosen)
    return WhereToLook(
        patch.azimuth_deg, patch.altitude_deg, guides, patch.altitude_deg > OVERHEAD_DEG
    )


def _corner_deg(toward: Floats, a: int, b: int) -> float:
    """How far two directions are from lying on one line, 0-90."""
    apart = abs(float(wrap_180(toward[a] - toward[b])))
    return min(apart, 180.0 - apart)


def _guide(patch: Patch, row: int, distance_deg: float) -> GuideStar:
    # Azimuth grows to the right of somebody who faces it, so 'east' of the formula is right.
    clockwise = float(
        position_angle_deg(
            patch.star_azimuth_deg[row], patch.star_altitude_deg[row],
            patch.azimuth_deg, patch.altitude_deg,
        )
    )  # fmt: skip
    hand, count = hand_measure(distance_deg)
    return GuideStar(
        row, float(patch.stars.magnitude_v[row]), distance_deg, clockwise,
        way_of(clockwise), hand, count,
    )  # fmt: skip


def way_of(clockwise_deg: float) -> LookWay:
    """The nearest of the eight ways to an angle clockwise from straight up."""
    return list(LookWay)[round(clockwise_deg / 45.0) % 8]


def hand_measure(distance_deg: float) -> tuple[Hand, float]:
    """Which part of the hand measures an angle, and how many of it, in halves, at least a half.

    A span where it leaves at most a tenth of the angle over, else fists, three fingers from 4 to
    8.5 degrees, below that little fingers.
    """
    spans = _halves(distance_deg, Hand.SPAN)
    if spans >= 1.0 and abs(distance_deg - spans * HAND_DEG[Hand.SPAN]) <= 0.1 * distance_deg:
        return Hand.SPAN, spans
    hand = (
        Hand.LITTLE_FINGER if distance_deg < 4.0
        else Hand.THREE_FINGERS if distance_deg < 8.5
        else Hand.FIST
    )  # fmt: skip
    return hand, max(_halves(distance_deg, hand), 0.5)


def _halves(distance_deg: float, hand: Hand) -> float:
    return round(2.0 * distance_deg / HAND_DEG[hand]) / 2.0
