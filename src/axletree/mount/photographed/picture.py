"""What was marked on a picture, and what is known of its camera?"""

from __future__ import annotations

from enum import StrEnum

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass

MOST_PIXELS = 50_000
MOST_PICTURES = 6
# How well a place is marked, part of the picture's width: 4 of 4,000 pixels (our figure).
MARK_PART = 0.001


class RigPlace(StrEnum):
    """A place of the rig that an eye finds on a picture."""

    FOOT_1 = "foot 1"  # of the first leg in the kit's leg_directions_deg, usually the pole's
    FOOT_2 = "foot 2"
    FOOT_3 = "foot 3"
    HINGE_1 = "hinge 1"  # where the leg hangs from the tripod's head
    HINGE_2 = "hinge 2"
    HINGE_3 = "hinge 3"
    TILT_BOLT = "tilt bolt"  # about which the head tilts to the latitude
    CROSSING = "crossing"  # of both axes: in the middle of the head
    SADDLE = "saddle"  # the middle of its face, on the declination axis
    SHAFT_END = "shaft end"
    TUBE_FRONT = "tube front"  # the middle of its rim
    TUBE_BACK = "tube back"
    EYEPIECE_SEAT = "eyepiece seat"  # the focuser's outer end


@dataclass(frozen=True)
class KnownLength:
    """A length between two places that a tape told, ± one standard deviation."""

    start: RigPlace
    end: RigPlace
    length_mm: float
    error_mm: float


@dataclass(frozen=True)
class MarkedPicture:
    """Marks on one picture: pixels from its left upper corner, x right, y down.

    `focal_35mm`: what the camera's file says of its lens, in terms of 35 mm film; None unknown.
    `mark_px`: how well a place is marked, one standard deviation; None a thousandth of the width.
    """

    width_px: int
    height_px: int
    marks: tuple[tuple[RigPlace, float, float], ...]
    known: KnownLength | None = None
    focal_35mm: float | None = None
    mark_px: float | None = None

    def __post_init__(self) -> None:
        if not 100 <= min(self.width_px, self.height_px) <= MOST_PIXELS:
            raise AxletreeError("a picture is from 100 to 50,000 pixels wide and high")
        places = [place for place, _, _ in self.marks]
        if len(set(places)) != len(places):
            raise AxletreeError("a place is marked once on a picture")
        if len(places) < _FEWEST:
            raise AxletreeError(f"mark at least {_FEWEST} places on each picture")
        for place, x, y in self.marks:
            if not (0.0 <= x <= self.width_px and 0.0 <= y <= self.height_px):
                raise AxletreeError(f"{place.value}: its mark lies off the picture")
        if self.focal_35mm is not None and not 10.0 <= self.focal_35mm <= 500.0:
            raise AxletreeError("a lens has from 10 to 500 mm in terms of 35 mm film")
        if self.known is not None:
            one = self.known
            if not (10.0 <= one.length_mm <= 5000.0 and 0.0 < one.error_mm <= 500.0):
                raise AxletreeError("a known length lies between 10 and 5,000 mm")
            if one.start == one.end:
                raise AxletreeError("a known length has two ends")

    @property
    def sigma_px(self) -> float:
        """How well a place is marked."""
        wide = max(self.width_px, self.height_px)
        return MARK_PART * wide if self.mark_px is None else self.mark_px


_FEWEST = 6
