"""Where does the pole star go when the axis is only a hollow bore without a lens?

The eye looks through the bore from behind. What it sees of the sky is bounded by the far rim,
softly, because the eye's pupil is a disc: the half-light edge is the far rim's angle as seen
from the middle of the pupil. With nothing to aim by but the two rims, a pupil that sits beside
the middle makes the axis look turned, and that is what limits this method.
"""

from __future__ import annotations

import math

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass

# Estimates, common practice, no source: an eye with glasses off comes this close to a rim; its
# pupil at night; how well a person keeps the pupil in the middle of a rim, as one standard
# deviation; and how well they judge a distance inside the bright disc, as a part of its radius.
EYE_DISTANCE_MM = 18.0
EYE_PUPIL_MM = 6.0
CENTRING_SIGMA_MM = 1.0
JUDGING_SIGMA = 0.1


@dataclass(frozen=True)
class Bore:
    """What the eye sees through the bore.

    `field_deg`: across, to the half-light edge. `full_field_deg`: the middle part whose light
    fills the whole pupil (0 if there is none). `centring_sigma_arcmin`: how far the axis is
    misjudged because the eye isn't in the middle, each way.
    """

    diameter_mm: float
    length_mm: float
    eye_distance_mm: float
    eye_pupil_mm: float
    field_deg: float
    full_field_deg: float
    centring_sigma_arcmin: float

    @property
    def radius_arcmin(self) -> float:
        """From the middle of the bright disc to its edge."""
        return self.field_deg * 30.0

    def off_centre(self, pole_distance_arcmin: float) -> float:
        """How far off the middle the star goes, as a part of the way to the edge (1: on it)."""
        return pole_distance_arcmin / self.radius_arcmin

    def sigma_arcmin(self, pole_distance_arcmin: float) -> float:
        """Error of the axis, each way, one standard deviation: eye not centred, star misjudged."""
        judging = JUDGING_SIGMA * min(pole_distance_arcmin, self.radius_arcmin)
        return math.hypot(self.centring_sigma_arcmin, judging)


def bore_of(
    diameter_mm: float,
    length_mm: float,
    eye_distance_mm: float = EYE_DISTANCE_MM,
    eye_pupil_mm: float = EYE_PUPIL_MM,
) -> Bore:
    """The field of a straight bore, seen by an eye this far behind its near rim."""
    for name, value in (("bore_diameter_mm", diameter_mm), ("bore_length_mm", length_mm)):
        if not value > 0:
            raise AxletreeError(f"mount.polar_scope.{name} is {value}: it must be more than 0")
    far = length_mm + eye_distance_mm
    half = math.atan(diameter_mm / 2.0 / far)
    full = math.atan(max(diameter_mm - eye_pupil_mm, 0.0) / 2.0 / far)
    return Bore(
        diameter_mm=diameter_mm,
        length_mm=length_mm,
        eye_distance_mm=eye_distance_mm,
        eye_pupil_mm=eye_pupil_mm,
        field_deg=2.0 * math.degrees(half),
        full_field_deg=2.0 * math.degrees(full),
        centring_sigma_arcmin=math.degrees(math.atan(CENTRING_SIGMA_MM / far)) * 60.0,
    )
